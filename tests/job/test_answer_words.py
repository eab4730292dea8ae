"""Is what was observed told in one line of words, for every way of answering?"""

from typing import get_args

import pytest

from passcheck.job import answers
from passcheck.job.answer_words import answer_words
from passcheck.job.answers import Answer, Departure, HowStamped, TapPair, TapRow

HOW = HowStamped("monotonic", "0.001")
TOLD: tuple[tuple[Answer, str], ...] = (
    (answers.ReadingAnswer(("4.98 V", "5.01 V")), "4.98 V, 5.01 V"),
    (answers.ReadingAnswer(("0.4 Ω",), "0.5 Ω", "0.1 Ω"), "0.4 Ω; leads shorted 0.1 Ω; reversed 0.5 Ω"),
    (answers.PowerUpAnswer("0.12 A", "brief"), "0.12 A, limit light brief"),
    (answers.PressesAnswer(10), "10 counted"),
    (answers.PressesAnswer(10, "0.4 s"), "10 counted, slowest 0.4 s"),
    (answers.ListAnswer(), "all as listed"),
    (answers.ListAnswer((Departure(2, "dark"),), ("0.5 s", "3 s")), "2: dark; 0.5 s, 3 s"),
    (answers.SweepAnswer("2 s", "2.1 s", "3/4"), "up 2 s, down 2.1 s, hesitates at 3/4"),
    (answers.MarksAnswer(("0", "50"), ("49",)), "up 0, 50; down 49"),
    (answers.CodesAnswer(()), "present none; provoked none"),
    (answers.CodesAnswer(("F31",), ("F35",), ()), "present F31; provoked F35; after clear none"),
    (answers.GradeAnswer("C", "2 s"), "class C, recovered in 2 s"),
    (answers.CountAnswer(0), "0 counted"),
    (answers.TableAnswer(("0.9 V", "2 V")), "0.9 V, 2 V"),
    (answers.TapPairsAnswer((TapPair("1.0", "1.2"), TapPair("2.0", None, "late")), HOW), "1 trials tapped, 1 void"),
    (answers.TapRowsAnswer((TapRow("up", ("1.0",)),), HOW), "1 rows tapped, 0 void"),
    (answers.SoakAnswer("7200", 9, 0), "2 h 00 min counted over 9 looks"),
)


@pytest.mark.parametrize(("answer", "told"), TOLD, ids=lambda value: value if isinstance(value, str) else "")
def test_an_answer_is_told_as_it_was_given(answer: Answer, told: str) -> None:
    assert answer_words(answer) == told


def test_no_way_of_answering_is_left_out() -> None:
    assert {type(answer) for answer, _ in TOLD} == set(get_args(Answer))

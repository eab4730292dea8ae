"""Is the pointer judged at its worst mark, in both directions?"""

from decimal import Decimal

import pytest

from passcheck.errors import OurBug
from passcheck.judge.judgement import Judgement
from passcheck.judge.marks import called, judge_marks

CARDINAL = [Decimal(mark) for mark in (0, 25, 50, 75, 100)]


def judged(up: str, down: str = "0 25 50 75 100", readability: str = "0.4") -> Judgement:
    """Judge five marks with a tolerance of 2 divisions."""
    rows = [[Decimal(each) for each in row.split()] for row in (up, down)]
    return judge_marks(CARDINAL, rows[0], rows[1], Decimal(2), Decimal(readability), "divisions")


def test_a_pointer_on_its_marks_passes() -> None:
    found = judged("0 25.2 51 75 100")
    assert (found.verdict, found.value, found.unit, found.low, found.high) == ("pass", "1", "divisions", "-2", "2")
    assert "1.0 divisions off at 50 divisions rising" in found.sentence


def test_one_mark_off_in_one_direction_fails_and_is_named() -> None:
    found = judged("0 25 50 75 100", "0 25 50 71 100")
    assert (found.verdict, found.outside) == ("fail", True)
    assert "-4.0 divisions off at 75 divisions falling" in found.sentence
    assert "differ by 4.0 divisions" in found.sentence


def test_the_worst_mark_is_told_by_what_stands_at_it() -> None:
    found = judge_marks(
        CARDINAL, [*CARDINAL[:4], Decimal(96)], [], Decimal(3), Decimal(1), "%", ("E", "¼", "½", "¾", "F")
    )
    assert found.sentence.startswith("The worst of 5 marks is -4 % off at F (100 %) rising, outside ± 3 %")


def test_a_step_with_one_mark_has_no_worst_of_several() -> None:
    found = judge_marks([Decimal(50)], [Decimal(49)], [Decimal(52)], Decimal(6), Decimal(1), "%", ("½",))
    assert found.sentence.startswith("The one mark is 2 % off at ½ (50 %) falling, inside ± 6 %")


@pytest.mark.parametrize(
    ("mark", "unit", "name", "told"),
    [
        ("50", "%", "½", "½ (50 %)"),
        ("1500", "rpm", "1500", "1500 rpm"),
        ("1500", "rpm", "1500 rpm", "1500 rpm"),
        ("1500", "rpm", "15", "15 (1500 rpm)"),
        ("350000", "Pa", "350", "350 kPa"),
        ("50", "%", "", "50 %"),
        ("3", "", "", "3"),
    ],
)
def test_a_mark_is_called_by_its_name_where_that_says_more_than_its_number(
    mark: str, unit: str, name: str, told: str
) -> None:
    assert called(Decimal(mark), unit, name) == told


def test_what_an_eye_cannot_tell_is_in_doubt() -> None:
    assert judged("0 25 51.9 75 100").verdict == "in doubt"
    assert judged("0 25 51.9 75 100", readability="0").verdict == "pass"


def test_one_direction_alone_has_no_hysteresis() -> None:
    found = judge_marks(CARDINAL, CARDINAL, [], Decimal(2), Decimal("0.4"), "divisions")
    assert found.verdict == "pass"
    assert "differ" not in found.sentence


def test_rows_that_do_not_match_are_our_bug() -> None:
    with pytest.raises(OurBug):
        judged("0 25")
    with pytest.raises(OurBug):
        judge_marks(CARDINAL, CARDINAL, [], Decimal(2), Decimal("0.4"), "divisions", ("E", "F"))

"""Is a slip one figure typed wrong, in a way that people mistype, and nothing besides?"""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.job.answers import (
    Answer,
    CodesAnswer,
    CountAnswer,
    Departure,
    GradeAnswer,
    ListAnswer,
    MarksAnswer,
    PowerUpAnswer,
    PressesAnswer,
    ReadingAnswer,
    SweepAnswer,
    TableAnswer,
)
from passcheck.judge.quantity import parse_quantity
from passcheck.practice.serials import drawn_from
from passcheck.practice.slips import FIGURES, mistyped, slipped

SEEDS = range(300)
NUMBERS = st.decimals(0, 99_999, places=3).map(lambda it: f"{it:f}") | st.integers(0, 99_999).map(str)
WITH_FIGURES: tuple[tuple[Answer, tuple[str, ...]], ...] = (
    (ReadingAnswer(("4.98 V", "5.01 V"), reverse="4.99 V", leads="0.12 Ω"), ("readings",)),
    (TableAnswer(("1.02 V", "1.99 V")), ("outputs",)),
    (MarksAnswer(("0 %", "52 %"), ("1 %", "49 %")), ("up",)),
    (PowerUpAnswer("164 mA", "brief"), ("current",)),
    (SweepAnswer("1.52 s", "1.47 s", "between mark 1 and mark 2"), ("up",)),
    (GradeAnswer("C", "2.10 s"), ("recovery",)),
    (ListAnswer((Departure(2, "dark 1 s"),), ("0.70 s", "3.10 s")), ("times",)),
    (CountAnswer(3), ("counted",)),
    (CountAnswer(0), ("counted",)),
    (PressesAnswer(10, "0.41 s"), ("counted",)),
)
WITHOUT: tuple[Answer, ...] = (
    ReadingAnswer(()),
    ReadingAnswer(("OL",)),
    ListAnswer((Departure(1, "dark"),)),
    CodesAnswer(("F31",), ("F35",), ("F31",)),
    GradeAnswer("B"),
)


def typed(text: str) -> set[str]:
    return {mistyped(text, drawn_from("slip", seed)) for seed in SEEDS}


@pytest.mark.parametrize(
    ("way", "some"),
    [
        ("two figures change places", {"42.96 V", "24.69 V"}),
        ("a key beside it is hit", {"54.96 V", "14.96 V", "27.96 V", "24.86 V", "24.93 V"}),
        ("a figure is typed twice", {"224.96 V", "244.96 V", "24.996 V", "24.966 V"}),
        ("a figure is left out", {"4.96 V", "2.96 V", "24.6 V", "24.9 V"}),
        ("the point lands elsewhere", {"2.496 V", "249.6 V"}),
    ],
)
def test_people_mistype_in_each_way(way: str, some: set[str]) -> None:
    assert some <= typed("24.96 V"), way


@given(NUMBERS, st.integers())
def test_what_was_typed_is_another_number_of_the_same_unit(number: str, seed: int) -> None:
    wrong = mistyped(f"{number} mV", drawn_from("slip", seed))
    figure, unit = wrong.split(" ")
    assert unit == "mV"
    assert FIGURES.fullmatch(figure)
    assert figure.lstrip("0") != number.lstrip("0")
    assert abs(len(figure) - len(number)) <= 1
    assert parse_quantity(wrong).unit == "V"


def test_a_sign_stays_and_what_is_no_number_stays() -> None:
    assert all(text.startswith("-") and text.endswith(" %") for text in typed("-9 %"))
    assert typed("OL") == {"OL"}


@pytest.mark.parametrize(("answer", "where"), WITH_FIGURES, ids=lambda it: getattr(it, "shape", None))
def test_a_slip_changes_one_figure_of_an_answer_and_nothing_besides(answer: Answer, where: tuple[str, ...]) -> None:
    for seed in SEEDS:
        wrong = slipped(answer, drawn_from("slip", seed))
        (name,) = where
        before, after = getattr(answer, name), getattr(wrong, name)
        assert replace(wrong, **{name: before}) == answer
        if isinstance(before, tuple):
            assert sum(one != other for one, other in zip(before, after, strict=True)) == 1
        else:
            assert after != before


@pytest.mark.parametrize("answer", WITHOUT, ids=lambda it: it.shape)
def test_an_answer_without_figures_stays_as_it_is(answer: Answer) -> None:
    assert {slipped(answer, drawn_from("slip", seed)) for seed in SEEDS} == {answer}

"""Codes are sets: as found, when provoked, after clearing; no code is said with a word."""

from one_entry import step_of, typed

from passcheck.job.answers import CodesAnswer

PLAIN = step_of("codes", power="battery", expected=["F31"], absent=[], provoke=[])
WHOLE = step_of(
    "codes",
    power="battery",
    expected=["F31", "F34"],
    absent=["F01"],
    provoke=[{"do": "short J2-5 to 0 V", "code": "F35"}],
    clear="hold SW1 and SW6",
)


async def test_a_set_of_codes_in_any_writing() -> None:
    answers, said = await typed(PLAIN, "f34, F31 f31", "enter")
    assert answers == [CodesAnswer(("F34", "F31"))]
    assert "2 codes" in said


async def test_no_code_is_said_and_not_left_out() -> None:
    answers, said = await typed(PLAIN, "enter")
    assert answers == []
    assert "Codes shown" in said
    answers, _ = await typed(PLAIN, "none", "enter")
    assert answers == [CodesAnswer(())]


async def test_provoked_and_after_clearing() -> None:
    answers, _ = await typed(WHOLE, "F31 F34", "enter", "F35", "enter", "none", "enter")
    assert answers == [CodesAnswer(("F31", "F34"), ("F35",), ())]


async def test_something_that_is_no_code() -> None:
    answers, said = await typed(PLAIN, "[bold]", "enter")
    assert answers == []
    assert "type the codes" in said

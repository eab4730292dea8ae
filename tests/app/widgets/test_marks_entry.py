"""The pointer's place at each mark is walked with Enter, rising and then falling back."""

from one_entry import step_of, typed

from passcheck.job.answers import MarksAnswer

MARKS = [
    {"feed": "10 Ω", "mark": "E", "value": "0 °"},
    {"feed": "46 Ω", "mark": "1/2", "value": "45 °"},
    {"feed": "90 Ω", "mark": "F", "value": "90 °"},
]


def step(both_ways: bool) -> object:
    return {"gauge": "fuel", "marks": MARKS, "tolerance": "3 °", "readability": "1 °", "both_ways": both_ways}


async def test_falling_starts_at_the_mark_that_was_fed_last() -> None:
    members = step(both_ways=True)
    assert isinstance(members, dict)
    answers, said = await typed(
        step_of("marks", power="battery", **members),
        *(key for text in ("0", "44", "90", "91", "46", "1") for key in (text, "enter")),
    )
    assert answers == [MarksAnswer(("0 °", "44 °", "90 °"), ("1 °", "46 °", "91 °"))]
    assert "90 Ω falling" in said


async def test_one_way_only() -> None:
    members = step(both_ways=False)
    assert isinstance(members, dict)
    answers, _ = await typed(step_of("marks", **members), "0", "enter", "44", "enter", "90", "enter")
    assert answers == [MarksAnswer(("0 °", "44 °", "90 °"))]

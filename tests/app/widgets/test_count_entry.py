"""A count is a whole number."""

from one_entry import step_of, typed

from passcheck.job.answers import CountAnswer

STEP = step_of("count", power="battery", of="beeps", wanted=3)


async def test_how_many_there_were() -> None:
    answers, said = await typed(STEP, "3", "enter")
    assert answers == [CountAnswer(3)]
    assert "Number of beeps" in said


async def test_a_word_is_no_count() -> None:
    answers, _ = await typed(STEP, "three", "enter")
    assert answers == []

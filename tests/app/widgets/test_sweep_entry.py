"""A sweep is answered by two times and by whether the pointer hesitated."""

from one_entry import step_of, typed

from passcheck.job.answers import SweepAnswer

STEP = step_of("sweep", power="battery", gauge="fuel", up="1.5 s .. 3.0 s", down="1.5 s .. 3.0 s")


async def test_up_down_and_no_hesitation() -> None:
    answers, _ = await typed(STEP, "2.1", "enter", "2.2", "enter", "none", "enter")
    assert answers == [SweepAnswer("2.1 s", "2.2 s")]


async def test_where_it_hesitated() -> None:
    answers, _ = await typed(STEP, "2.1", "enter", "2.2", "enter", "at one half", "enter")
    assert answers == [SweepAnswer("2.1 s", "2.2 s", "at one half")]


async def test_silence_on_hesitation_is_no_answer() -> None:
    answers, said = await typed(STEP, "2.1", "enter", "2.2", "enter", "enter")
    assert answers == []
    assert "Hesitated" in said

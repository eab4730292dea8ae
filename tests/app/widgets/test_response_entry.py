"""A response is answered by the time that an instrument gave."""

from one_entry import step_of, typed

from passcheck.job.answers import ReadingAnswer


async def test_milliseconds_are_the_sticky_unit_where_the_limit_is_written_in_them() -> None:
    step = step_of("response", power="battery", press="SW1", watch="lamp", limits="at most 300 ms")
    answers, _ = await typed(step, "120", "enter")
    assert answers == [ReadingAnswer(("120 ms",))]


async def test_seconds_as_typed() -> None:
    step = step_of("response", power="battery", press="SW1", watch="lamp", limits="at most 0.5 s")
    answers, _ = await typed(step, "0.21 s", "enter")
    assert answers == [ReadingAnswer(("0.21 s",))]

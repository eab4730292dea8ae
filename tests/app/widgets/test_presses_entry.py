"""Presses are answered by how many of them counted."""

from one_entry import step_of, typed

from passcheck.job.answers import PressesAnswer


async def test_the_count_of_all_presses() -> None:
    step = step_of("presses", power="battery", press=["SW1", "SW2"], watch="the counter", times=10)
    answers, said = await typed(step, "20", "enter")
    assert answers == [PressesAnswer(20)]
    assert "Counted, of 20" in said


async def test_the_slowest_is_asked_for_where_it_is_limited() -> None:
    step = step_of("presses", power="battery", press="SW1", watch="the counter", limits="at most 0.30 s")
    answers, _ = await typed(step, "10", "enter", "0.21", "enter")
    assert answers == [PressesAnswer(10, "0.21 s")]


async def test_half_a_press_is_no_count() -> None:
    step = step_of("presses", power="battery", press="SW1", watch="the counter")
    answers, said = await typed(step, "9.5", "enter")
    assert answers == []
    assert "whole number" in said

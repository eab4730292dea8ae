"""A walk along the lamps takes one Enter; what is amiss is named by its number."""

from one_entry import step_of, typed

from passcheck.job.answers import Departure, ListAnswer

LAMPS = [{"ref": "DS1", "colour": "red"}, {"ref": "DS2", "colour": "amber"}, {"ref": "DS3", "colour": "green"}]
STEP = step_of("lamps", power="battery", lamps=LAMPS)


async def test_one_enter_says_that_all_lamps_are_as_listed() -> None:
    answers, said = await typed(STEP, "enter")
    assert answers == [ListAnswer()]
    assert "DS2 amber" in said


async def test_an_exception_is_named_by_number() -> None:
    answers, _ = await typed(STEP, "3 dark", "enter", "enter")
    assert answers == [ListAnswer((Departure(3, "dark"),))]


async def test_an_enter_that_no_eye_could_have_earned_is_ignored() -> None:
    answers, _ = await typed(STEP, "enter", quickest_s=60)
    assert answers == []


async def test_scanned_text_is_no_exception_and_no_pass() -> None:
    answers, said = await typed(STEP, "7Q22051", "enter")
    assert answers == []
    assert "begin with a number of the list" in said


async def test_times_come_after_the_list() -> None:
    step = step_of("lamps", power="battery", lamps=LAMPS, on_within="at most 1.0 s", off_after="2.0 s .. 4.0 s")
    answers, _ = await typed(step, "enter", "0.4", "enter", "3.1", "enter")
    assert answers == [ListAnswer(times=("0.4 s", "3.1 s"))]


async def test_a_blink_rate_comes_after_the_list() -> None:
    step = step_of("lamps", power="battery", lamps=LAMPS, check="rate", limits="1.8 Hz .. 2.2 Hz")
    answers, _ = await typed(step, "enter", "2.0", "enter")
    assert answers == [ListAnswer(times=("2.0 Hz",))]

"""An inspection takes one Enter; what is amiss is named by its number and kept in the looker's words."""

from one_entry import OneEntry, step_of, typed

from passcheck.job.answers import Departure, ListAnswer

STEP = step_of("look", points=["Pins straight", "No burnt parts", "Label [bold]on[/]"])


async def test_one_enter_says_that_everything_is_as_listed() -> None:
    answers, said = await typed(STEP, "enter")
    assert answers == [ListAnswer()]
    assert "2 No burnt parts" in said
    assert "3 Label [bold]on[/]" in said


async def test_several_exceptions_a_line_each() -> None:
    answers, said = await typed(STEP, "2 brown spot at R4", "enter", "1 pin 3 bent", "enter", "enter")
    assert answers == [ListAnswer((Departure(1, "pin 3 bent"), Departure(2, "brown spot at R4")))]
    assert "2: brown spot at R4" in said


async def test_a_number_alone_says_nothing_of_what_was_seen() -> None:
    answers, said = await typed(STEP, "2", "enter")
    assert answers == []
    assert "say what you see" in said


async def test_there_is_no_line_seven() -> None:
    answers, said = await typed(STEP, "7 gone", "enter")
    assert answers == []
    assert "1 to 3" in said


async def test_a_key_that_is_held_down_never_says_that_all_is_as_listed() -> None:
    app = OneEntry(STEP, quickest_s=60.0)  # longer than these presses take on the slowest machine
    async with app.run_test() as pilot:
        for _ in range(8):
            await pilot.press("enter")
        assert app.answers == []

"""Does the screen flip with each press and at no other time, and do five clips give mean and spread?"""

import pytest
from textual.events import Key
from textual.pilot import Pilot

from passcheck.app.latency_page import Filmed, LatencyApp
from passcheck.app.plain import Words


def result(pilot: Pilot[Filmed]) -> str:
    return str(pilot.app.query_one("#result", Words).content)


async def typed(pilot: Pilot[Filmed], *texts: str) -> None:
    for text in texts:
        await pilot.press(*text, "enter")
    await pilot.pause()


@pytest.mark.parametrize("size", [(80, 24), (100, 30)])
async def test_each_press_flips_the_whole_screen_and_nothing_else_does(size: tuple[int, int]) -> None:
    async with LatencyApp().run_test(size=size) as pilot:
        assert not pilot.app.screen.has_class("-flipped")
        await space_at(pilot, 10.0)
        assert pilot.app.screen.has_class("-flipped")
        await pilot.press("x")
        assert pilot.app.screen.has_class("-flipped")
        await space_at(pilot, 12.0)
        assert not pilot.app.screen.has_class("-flipped")


async def test_a_held_key_does_not_make_the_screen_flicker() -> None:
    async with LatencyApp().run_test() as pilot:
        for at_s in (10.0, 10.5, 10.533, 10.566, 10.6):
            await space_at(pilot, at_s)
        assert pilot.app.screen.has_class("-flipped")


async def space_at(pilot: Pilot[Filmed], at_s: float) -> None:
    """The space bar, read at this moment."""
    event = Key("space", " ")
    event.time = at_s
    pilot.app.post_message(event)
    await pilot.pause()


async def test_five_clips_give_a_latency_and_a_second_enter_keeps_it() -> None:
    app = LatencyApp()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await typed(pilot, "240", "10", "12", "14", "11", "13")
        assert "Key to light: 50 ms, standard uncertainty 3 ms." in result(pilot)
        await pilot.press("enter")
    assert app.return_value is not None
    assert (app.return_value.fps, app.return_value.frames) == ("240", ("10", "12", "14", "11", "13"))
    assert app.return_code == 0


async def test_clips_that_differ_much_and_a_figure_no_bench_shows_are_remarked() -> None:
    async with LatencyApp().run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await typed(pilot, "30", "10", "30", "20", "19", "21")
        assert "The clips differ much" in result(pilot)
        assert "outside what benches show" in result(pilot)


async def test_nonsense_is_told_in_place_and_nothing_typed_is_lost() -> None:
    app = LatencyApp()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await typed(pilot, "0")
        assert app.return_value is None
        assert result(pilot) == ""
        await pilot.press("escape")
    assert app.return_value is None
    assert app.return_code == 0

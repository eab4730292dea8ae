"""Does our light look like the unit's, and is it told by more than its colour?"""

import pytest

from passcheck.app.widgets.lamp import Lamp, colour_in


@pytest.mark.parametrize(
    ("words", "colour"),
    [("the green SW1 lamp lights", "green"), ("the pointer comes to rest", "amber"), ("the needle moves", "amber")],
)
def test_the_colour_is_the_one_that_the_step_names(words: str, colour: str) -> None:
    assert colour_in(words) == colour


def test_lit_and_dark_differ_without_colour() -> None:
    lamp = Lamp()
    dark = str(lamp.render())
    lamp.set_reactive(Lamp.lit, True)
    assert str(lamp.render()) != dark

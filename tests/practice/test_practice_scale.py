"""Marks stand along the arc by what they are worth."""

from pathlib import Path

from passcheck.practice.scale import scale_of
from passcheck.sequence.load import read_sequence
from passcheck.sequence.model import MarksStep

SHEET = Path(__file__).parents[2] / "sequences" / "ov-24p.yaml"
PANEL = read_sequence(SHEET.read_text("utf-8"), "ov-24p")


def marks_step(name: str) -> MarksStep:
    step = PANEL.step(name)
    assert isinstance(step, MarksStep)
    return step


def test_a_step_at_one_mark_has_the_scale_of_the_step_that_walks_them_all() -> None:
    assert scale_of(marks_step("a16"), PANEL.steps) == scale_of(marks_step("a15"), PANEL.steps)
    assert scale_of(marks_step("a15"), PANEL.steps).share(50) == 0.5


def test_a_lone_mark_stands_in_the_middle_with_twice_its_tolerance_on_either_side() -> None:
    scale = scale_of(marks_step("a16"), ())
    assert [place for place, _text in scale.marks] == [0.5]
    assert (scale.share(38), scale.share(62)) == (0.0, 1.0)

"""Does each kind of step that a hand can time have its picture, also where the unit never answered?"""

from dataclasses import replace
from pathlib import Path

import hand
import pytest
from paper_parts import plots, said
from recorded_jobs import recorded
from rig import TERMINAL, settings
from story import Story
from tapping import HOW, TapHand

from passcheck.bench.step_course import course_of
from passcheck.bench.tapped_answers import pairs_answer
from passcheck.bench.unit_trials import UnitCourse
from passcheck.job.answers import TapRow, TapRowsAnswer
from passcheck.job.commands import Attempt, BeginTiming, Refusal
from passcheck.job.kept_latency import KeptLatency
from passcheck.job.tapped import beside
from passcheck.report.document import Plot
from passcheck.sequence.load import read_sequence

BOARD = (Path(__file__).parents[1] / "samples" / "tap-board.yaml").read_text("utf-8")
FILMED = KeptLatency("0.05", "0.002", ("12",) * 5, "240", "2031-04-01", TERMINAL)
TITLE = "Timed by taps"


def _story() -> Story:
    """The tap board in an as-found run, on a bench whose latency was filmed."""
    story = Story(
        read_sequence(BOARD, "tap-board.yaml"), settings_now=settings().model_copy(update={"latency": FILMED})
    )
    story.outside = replace(story.outside, terminal=TERMINAL)
    story.do(hand.start(story.job, "as-found"))
    return story


def _by_pairs(story: Story, step_id: str, delay_s: float | None, taps: TapHand) -> None:
    """Walk a step's own course by hand, on a unit that answers after so long."""
    story.do(taps.block(), BeginTiming("t1", step_id))
    run, step = story.job.open_run, story.step(step_id)
    assert run is not None
    stands = beside(story.job, run, step, "t1", story.now, story.outside)
    assert not isinstance(stands, Refusal)
    course = course_of(step, stands)
    assert isinstance(course, UnitCourse)
    story.do(Attempt("t1", step_id, pairs_answer(taps.at_the_unit(course, delay_s), HOW)))


def _drawn(story: Story) -> list[Plot]:
    return plots(recorded(story.job, story.outside), TITLE)


def test_a_row_of_presses_is_drawn_press_by_press() -> None:
    story = _story()
    _by_pairs(story, "sw2", 0.30, TapHand(3))
    (plot,) = _drawn(story)
    assert [len(one.points) for one in plot.series] == [5, 20]
    assert plot.high == 0.6
    assert plot.title == "SW2, five presses: attempt 1, as-found"


def test_a_unit_that_never_answered_has_no_trial_to_draw_but_its_reference_trials_and_its_words() -> None:
    story = _story()
    _by_pairs(story, "sw1", None, TapHand(4))
    (plot,) = _drawn(story)
    unit, reference = plot.series
    assert (unit.points, len(reference.points)) == ((), 20)
    assert "not answered" in plot.words
    assert "No response" in plot.words


def test_a_sweep_is_drawn_mark_by_mark_one_picture_a_way() -> None:
    story = _story()
    story.do(BeginTiming("t1", "sweep"))
    rows = [_sweep(way, total, at) for way, total, at in (("up", 2.0, 10), ("down", 2.2, 20))]
    rows += [_sweep(way, total, at) for way, total, at in (("up", 2.1, 30), ("down", 2.3, 40))]
    story.do(Attempt("t1", "sweep", TapRowsAnswer(tuple(rows), HOW)))
    up, down = _drawn(story)
    assert (up.title, down.title) == ("Sweep of M1, up: attempt 1, as-found", "Sweep of M1, down: attempt 1, as-found")
    assert [one.points[-1][1] for one in up.series] == pytest.approx([2.0, 2.1])
    assert [one.points[-1][1] for one in down.series] == pytest.approx([2.2, 2.3])
    assert (up.low, up.high) == (1.5, 3.0)


def _sweep(way: str, total_s: float, at_s: float) -> TapRow:
    taps = tuple(f"{at_s + total_s * share / 3:.6f}" for share in range(4))
    return TapRow("up" if way == "up" else "down", taps)


def test_a_blink_is_drawn_from_tap_to_tap_between_the_times_of_its_rate_s_limits() -> None:
    story = _story()
    story.do(BeginTiming("t1", "blink"))
    taps = tuple(f"{10 + 0.7 * nth:.6f}" for nth in range(14))
    story.do(Attempt("t1", "blink", TapRowsAnswer((TapRow("flash", taps),), HOW)))
    (plot,) = _drawn(story)
    assert {y for _x, y in plot.series[0].points} == {0.7}
    assert (plot.low, plot.high) == (0.5, 1.0), "2 Hz and 1 Hz"
    assert plot.words.startswith("tapped at every flash.")


def test_an_answer_that_a_newer_revision_asks_for_differently_is_not_drawn() -> None:
    story = _story()
    _by_pairs(story, "home", 2.5, TapHand(5))
    read = story.job.sequence.model_copy(
        update={"steps": tuple(one for one in story.job.sequence.steps if one.id != "home")}
    )
    assert TITLE not in said(recorded(replace(story.job, sequence=read), story.outside))


def test_a_tapped_figure_is_as_unsure_in_the_table_as_in_its_own_sentence() -> None:
    story = _story()
    _by_pairs(story, "sw1", 0.25, TapHand(1))
    sentence = story.last_attempt().judgement.sentence
    figures = sentence.split(" is ")[0]
    assert f"PASS {figures}, t1" in said(recorded(story.job, story.outside), "Results")

"""Which numbers does an attempt hold, and how far may each be off?"""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import hand
import pytest
from rig import TERMINAL, settings
from story import Story
from tapping import HOW, TapHand

import sequences
from passcheck.bench.step_course import course_of
from passcheck.bench.tapped_answers import pairs_answer
from passcheck.bench.unit_trials import UnitCourse
from passcheck.job.answers import (
    Answer,
    GradeAnswer,
    ListAnswer,
    PressesAnswer,
    SweepAnswer,
    TableAnswer,
    TapRow,
    TapRowsAnswer,
)
from passcheck.job.commands import Attempt, BeginTiming, Refusal
from passcheck.job.held_numbers import HeldNumber, held_numbers
from passcheck.job.kept_latency import KeptLatency
from passcheck.job.tapped import beside
from passcheck.sequence.load import read_sequence
from sequences import GUARD, LAMPS, RAIL

TAP_BOARD = (Path(__file__).parents[1] / "samples" / "tap-board.yaml").read_text("utf-8")
COMMON = {"power": "battery", "proves": ["LAMP"], "needs": [GUARD]}
SWEEP = {**COMMON, "id": "sweep", "kind": "sweep", "title": "Sweep", "gauge": "fuel"}
SWEEP_S = {**SWEEP, "up": "0.8 s .. 2.0 s", "down": "0.8 s .. 2.0 s"}
ROWS = [{"put": "1 V", "limits": "1.9 V .. 2.1 V"}, {"put": "2 V", "limits": "3.9 V .. 4.1 V"}]
TABLE = {**COMMON, "id": "table", "kind": "table", "title": "Table", "instrument": "voltmeter", "rows": ROWS}
PRESSES = {**COMMON, "id": "sw1", "kind": "presses", "title": "SW1", "press": "SW1", "watch": "DS1", "times": 10}
GRADE = {**COMMON, "id": "dip", "kind": "grade", "title": "Supply dip", "disturbance": "9 V for 1 s", "worst": "C"}
LIT = [{"ref": "DS1", "colour": "red"}]
LIGHTS = {**COMMON, "id": "glow", "kind": "lamps", "title": "Glow lamp", "lamps": LIT}


def held(story: Story) -> tuple[HeldNumber, ...]:
    one = story.last_attempt()
    return held_numbers(story.job, story.step(one.step), one)


def answered(step: Mapping[str, object], answer: Answer) -> tuple[HeldNumber, ...]:
    story = Story(sequences.with_steps(step)).start().passes(GUARD).ready(str(step["id"]))
    story.do(Attempt("t1", str(step["id"]), answer, again=answer))
    return held(story)


def named(numbers: tuple[HeldNumber, ...]) -> list[tuple[str, str]]:
    return [(one.name, str(one.value)) for one in numbers]


def test_a_reading_holds_the_number_of_its_judgement_and_shares_its_meter_s_gain() -> None:
    story = Story().start().passes(GUARD).reads(RAIL, "5.01 V")
    (one,) = held(story)
    judged = story.last_attempt().judgement
    assert (one.name, str(one.value), one.unit, one.meter) == ("", judged.value, "V", ("M1", "0.5 % + 3 digits"))
    assert one.u == pytest.approx(float(judged.u or 0), rel=1e-6)
    assert one.source.gain == pytest.approx(0.02505, rel=1e-5)
    assert one.source.u_a == 0
    assert (one.low, one.high) == (Decimal("4.85"), Decimal("5.15"))


def test_scatter_of_several_readings_is_told_apart_from_the_meter_s_own_error() -> None:
    story = Story(sequences.changed_step(RAIL, readings=3)).start().passes(GUARD).reads(RAIL, "4.96", "5.00", "5.04")
    (one,) = held(story)
    assert one.u == pytest.approx(float(story.last_attempt().judgement.u or 0), rel=1e-6)
    assert one.source.u_a == pytest.approx(0.04 / 3**0.5, rel=1e-3)
    assert one.source.nu_a == 2


def test_over_range_and_words_hold_no_number() -> None:
    assert held(Story().start().reads(GUARD, "OL")) == ()
    assert held(Story().start().passes(GUARD).passes(LAMPS)) == ()


def test_a_sweep_holds_both_of_its_times_though_its_judgement_keeps_one() -> None:
    assert named(answered(SWEEP_S, SweepAnswer("3.1 s", "1.2 s"))) == [("up", "3.1"), ("down", "1.2")]


def test_a_table_holds_every_row_that_showed_a_value() -> None:
    assert named(answered(TABLE, TableAnswer(("2.00 V", "OL")))) == [("1 V", "2.00")]


def test_rows_named_alike_are_told_apart() -> None:
    twice = {**TABLE, "rows": [ROWS[0], ROWS[1], ROWS[0]]}
    names = [one.name for one in answered(twice, TableAnswer(("2.00 V", "4.00 V", "2.01 V")))]
    assert names == ["1 V", "2 V", "1 V (2)"]


@pytest.mark.parametrize("counted", [10, 9])
def test_presses_hold_their_slowest_answer_whatever_was_counted(counted: int) -> None:
    (one,) = answered({**PRESSES, "limits": "at most 500 ms"}, PressesAnswer(counted, "240 ms"))
    assert (one.name, one.value, one.unit) == ("", Decimal("0.24"), "s")
    assert one.meter == ("T1", "17 ms")


def test_presses_that_were_only_counted_hold_no_number() -> None:
    assert answered(PRESSES, PressesAnswer(10)) == ()


@pytest.mark.parametrize(("grade", "numbers"), [("B", 1), ("C", 1), ("A", 0)])
def test_a_unit_that_came_back_by_itself_holds_the_time_it_took(grade: str, numbers: int) -> None:
    answer = GradeAnswer(grade, "1.50 s")  # type: ignore[arg-type]
    assert len(answered({**GRADE, "limits": "at most 3 s"}, answer)) == numbers


def test_lamps_hold_the_times_that_their_step_limits() -> None:
    step = {**LIGHTS, "on_within": "at most 2 s", "off_after": "2 s .. 6 s"}
    assert named(answered(step, ListAnswer(times=("1.1 s", "4.0 s")))) == [("to light", "1.1"), ("to go out", "4.0")]


def tap_story() -> Story:
    known = settings().model_copy(
        update={"latency": KeptLatency("0.05", "0.002", ("12",) * 5, "240", "2031-04-01", TERMINAL)}
    )
    story = Story(read_sequence(TAP_BOARD, "tap-board.yaml"), settings_now=known)
    story.outside = replace(story.outside, terminal=TERMINAL)
    story.do(hand.start(story.job))
    return story


def test_a_tapped_response_is_as_unsure_as_its_judgement_with_the_block_s_degrees_of_freedom() -> None:
    story, taps = tap_story(), TapHand(1)
    story.do(taps.block(), BeginTiming("t1", "sw1"))
    run, step = story.job.open_run, story.step("sw1")
    assert run is not None
    stands = beside(story.job, run, step, "t1", story.now, story.outside)
    assert not isinstance(stands, Refusal)
    course = course_of(step, stands)
    assert isinstance(course, UnitCourse)
    story.do(Attempt("t1", "sw1", pairs_answer(taps.at_the_unit(course, 0.30), HOW)))
    (one,) = held(story)
    judged = story.last_attempt().judgement
    assert (str(one.value), one.meter) == (judged.value, None)
    assert one.u == pytest.approx(float(judged.u or 0))
    assert 1 < one.source.nu_a < 20


def test_tapped_sweeps_hold_of_each_way_the_one_that_decides() -> None:
    story = Story(sequences.with_steps({**SWEEP_S, "marks": 3})).start().passes(GUARD).ready("sweep")
    story.do(BeginTiming("t1", "sweep"))

    def row(way: str, total_s: float, at_s: float) -> TapRow:
        return TapRow(way, tuple(f"{at_s + total_s * share:.6f}" for share in (0, 0.5, 1)))  # type: ignore[arg-type]

    rows = (row("up", 1.4, 10), row("down", 1.2, 20), row("up", 1.6, 30), row("down", 1.3, 40))
    story.do(Attempt("t1", "sweep", TapRowsAnswer(rows, HOW)))
    assert [(one.name, round(float(one.value), 3)) for one in held(story)] == [("up", 1.6), ("down", 1.2)]


def test_an_answer_that_a_newer_revision_asks_for_differently_holds_nothing() -> None:
    story = Story(sequences.with_steps(TABLE)).start().passes(GUARD).ready("table")
    answer = TableAnswer(("2.00 V", "4.00 V"))
    story.do(Attempt("t1", "table", answer, again=answer))
    amps = sequences.with_steps({**TABLE, "rows": [{"put": "1 V", "limits": "at most 2 A"}, ROWS[1]]})
    assert held_numbers(story.job, amps.step("table"), story.last_attempt()) == ()

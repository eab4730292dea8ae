"""Does the truth about a unit agree with what its sequence wants, at the limits and on either side of them?"""

import ast
import inspect
import math

import pytest
import robot
from every_kind import EVERY_KIND
from hypothesis import given
from hypothesis import strategies as st

import sequences
from passcheck.job.answers import Departure
from passcheck.job.judging import judge_answer
from passcheck.judge.accuracy import parse_accuracy, standard_uncertainty
from passcheck.practice import shows, truth
from passcheck.practice.effects import Around
from passcheck.practice.eyes import WithMeter, written_down
from passcheck.practice.fault import Effect, Fault, When
from passcheck.practice.healthy import reading_limits
from passcheck.practice.meter import Meters, digit_for
from passcheck.practice.serials import drawn_from
from passcheck.practice.shows import Shows
from passcheck.practice.truth import departing, departs, worst
from passcheck.practice.unit import SimulatedUnit
from passcheck.sequence.model import ReadingStep, Sequence

AMISS = (Departure(1, "dark"),)
GOOD = (0.4,) * 10
INSIDE: tuple[tuple[str, Shows], ...] = (
    # at the limits
    (sequences.RAIL, shows.Reads((4.85,), "V")),
    (sequences.RAIL, shows.Reads((5.15,), "V")),
    (sequences.GUARD, shows.Reads((150.0,), "Ω")),
    ("ripple", shows.Reads((0.060,), "Vpp")),
    ("idle", shows.Draws(0.22, "off")),
    ("answer", shows.Responds((2.0,))),
    ("presses", shows.Responds((*GOOD, 2.0))),
    ("check", shows.Lights((), 1.0, 4.0)),
    ("check", shows.Lights((), 0.0, 2.0)),
    ("blink", shows.Lights((), rate_hz=2.0)),
    ("sweep", shows.Sweeps((0.0, 1.0), (0.0, 3.0))),
    ("marks", shows.Stands((-3.0, 53.0), (3.0, 47.0))),
    ("dip", shows.Falls("C", 3.0)),
    ("inputs", shows.Reads((0.9, 2.1), "V")),
    # just inside
    (sequences.RAIL, shows.Reads((4.8501,), "V")),
    ("answer", shows.Responds((1.999,))),
    ("answer", shows.Responds((1.97, 2.01, 1.99))),  # one unit's tries scatter
    ("marks", shows.Stands((2.99, 50.0), (0.0, 47.01))),
    # what has no number, or none that matters
    ("idle", shows.Draws(0.15, "brief")),
    ("others", shows.Responds((9.0,) * 10)),
    ("codes", shows.Codes(("F31",), ("F35",), ("F31",))),
    ("dip", shows.Falls("A", 99.0)),
    ("look", shows.Looks(())),
    ("beeps", shows.Counts(3)),
)
OUTSIDE: tuple[tuple[str, Shows], ...] = (
    (sequences.RAIL, shows.Reads((4.8499,), "V")),
    (sequences.RAIL, shows.Reads((5.1501,), "V")),
    (sequences.GUARD, shows.Reads((149.9,), "Ω")),
    ("ripple", shows.Reads((0.0601,), "Vpp")),
    ("idle", shows.Draws(0.2201, "off")),
    ("idle", shows.Draws(0.15, "on")),
    ("answer", shows.Responds((2.001,))),
    ("answer", shows.Responds((1.99, 2.03, 2.01))),
    ("answer", shows.Responds((1.0, None, 1.0))),
    ("answer", shows.Responds((None,))),
    ("presses", shows.Responds((*GOOD, 2.001))),
    ("presses", shows.Responds((*GOOD, None))),
    ("presses", shows.Responds(GOOD, twice=1)),
    ("others", shows.Responds((*GOOD, None))),
    ("check", shows.Lights((), 1.001, 3.0)),
    ("check", shows.Lights((), 0.5, 1.999)),
    ("check", shows.Lights(AMISS, 0.5, 3.0)),
    ("blink", shows.Lights((), rate_hz=2.001)),
    ("blink", shows.Lights((), rate_hz=0.0)),
    ("sweep", shows.Sweeps((0.0, 0.999), (0.0, 2.0))),
    ("sweep", shows.Sweeps((0.0, 2.0), (0.0, 3.001))),
    ("sweep", shows.Sweeps((0.0, 2.0), (0.0, 2.0), "between mark 0 and mark 1")),
    ("marks", shows.Stands((3.01, 50.0), (0.0, 50.0))),
    ("marks", shows.Stands((0.0, 50.0), (0.0, 46.99))),
    ("codes", shows.Codes(("F31", "F35"), ("F35",), ("F31",))),
    ("codes", shows.Codes((), ("F35",), ())),
    ("codes", shows.Codes(("F31",), (), ("F31",))),
    ("codes", shows.Codes(("F31",), ("F35",), ("F31", "F35"))),
    ("dip", shows.Falls("C", 3.001)),
    ("dip", shows.Falls("D", 1.0)),
    ("look", shows.Looks(AMISS)),
    ("beeps", shows.Counts(2)),
    ("inputs", shows.Reads((0.8999, 2.0), "V")),
    ("inputs", shows.Reads((1.0, 2.1001), "V")),
)
METER = parse_accuracy("0.3 % + 3 digits")
MEASURED = {name: step for name in (sequences.RAIL, sequences.GUARD) if (step := EVERY_KIND.step(name))}


@pytest.mark.parametrize(("step", "seen"), INSIDE, ids=str)
def test_at_its_limit_and_just_inside_a_unit_is_as_it_should_be(step: str, seen: Shows) -> None:
    assert not departs(EVERY_KIND.step(step), seen)


@pytest.mark.parametrize(("step", "seen"), OUTSIDE, ids=str)
def test_just_outside_it_is_not(step: str, seen: Shows) -> None:
    assert departs(EVERY_KIND.step(step), seen)


def test_every_kind_of_step_is_tried_on_both_sides() -> None:
    kinds = {step.kind for step in EVERY_KIND.steps} - {"soak"}
    for table in (INSIDE, OUTSIDE):
        assert {EVERY_KIND.step(step).kind for step, _seen in table} == kinds


@given(
    st.sampled_from(sorted(MEASURED)),
    st.sampled_from(["low", "high"]),
    st.floats(6, 12) | st.floats(-12, -6),
    st.integers(0, 999),
)
def test_far_from_a_limit_the_judge_says_of_a_reading_what_is_true_of_it(
    name: str, end: str, distance: float, seed: int
) -> None:
    """Far is six standard uncertainties: further than any instrument that keeps its accuracy can be off."""
    step = MEASURED[name]
    assert isinstance(step, ReadingStep)
    limits = reading_limits(step)
    assert limits is not None
    limit = limits.high if end == "high" and limits.high is not None else limits.low
    assert limit is not None
    u = standard_uncertainty(METER, limit.value, digit_for(limits, float(limit.value)))
    seen = shows.Reads((float(limit.value) + distance * u,), limits.unit)
    draw = drawn_from("meter", seed)
    meter = WithMeter(Meters(("M2",), draw), "M2", METER, draw)
    judged = judge_answer(step, written_down(step, seen, meter, draw), METER)
    assert (judged.verdict == "fail") == departs(step, seen), (seen, judged.sentence)
    assert (judged.verdict == "pass") != departs(step, seen), (seen, judged.sentence)


def test_the_truth_asks_nothing_of_the_judge_but_what_limits_are() -> None:
    tree = ast.parse(inspect.getsource(truth))
    imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module}
    assert {name for name in imported if ".judge" in name or ".job" in name} == {"passcheck.judge.limits"}


def unit_with(*effects: Effect, sequence: Sequence = EVERY_KIND) -> SimulatedUnit:
    return SimulatedUnit(sequence, (robot.broken(*effects),), drawn_from("unit", 1))


@pytest.mark.parametrize(
    "when",
    [When(warm_min=300), When(share=0.001), When(under="warm")],
    ids=["warm", "now and then", "under a condition"],
)
def test_a_fault_that_is_hard_to_meet_is_one_all_the_same(when: When) -> None:
    unit = unit_with(Effect(sequences.RAIL, "reads", 4.0, when=when))
    assert departing(unit) == (sequences.RAIL,)
    assert departing(unit, (frozenset({"PWR"}),)) == ()


@pytest.mark.parametrize("what", ["dead spots", "bounces"])
def test_a_button_that_fails_once_in_a_thousand_presses_is_no_good_one(what: str) -> None:
    fault = unit_with(Effect("SW1", "dead spots" if what == "dead spots" else "bounces", 0.001))
    assert "presses" in departing(fault)


@given(st.integers())
def test_nothing_scatters_out_of_a_good_unit(seed: int) -> None:
    assert departing(SimulatedUnit(EVERY_KIND, (), drawn_from("unit", seed))) == ()


def test_the_worst_is_warm_and_under_every_condition_that_a_symptom_names() -> None:
    assert worst(EVERY_KIND) == Around(powered_min=1e6, under=frozenset({"warm"}))


def test_a_step_for_a_variant_counts_where_it_is_fitted() -> None:
    beeper = sequences.with_variant()
    silent = unit_with(Effect("beeps", "counts", 0), sequence=beeper)
    assert departing(silent) == ()
    assert departing(silent, variants=("beeper",)) == ("beeps",)


def test_what_a_later_rework_breaks_is_there_from_then_on() -> None:
    born = Fault("it", "broke", "LAMP", (), (Effect("DS1", "dark"),), born=1)
    unit = SimulatedUnit(EVERY_KIND, (born,), drawn_from("unit", 1))
    assert departing(unit) == ()
    assert departing(unit, (frozenset({"PWR"}),)) == (sequences.LAMPS, "check")


def test_a_disturbance_s_class_counts_by_itself_where_no_time_is_limited() -> None:
    dip = {"id": "dip", "kind": "grade", "title": "Dip", "disturbance": "to 9 V", "worst": "D", "power": "battery"}
    step = sequences.with_steps({**dip, "proves": ["PWR"], "needs": [sequences.GUARD]}).step("dip")
    assert not departs(step, shows.Falls("D", 99.0))
    assert departs(step, shows.Falls("E", 0.0))
    timed = {**dip, "limits": "at most 3 s", "proves": ["PWR"], "needs": [sequences.GUARD]}
    needs_a_hand = sequences.with_steps(timed).step("dip")
    assert departs(needs_a_hand, shows.Falls("D", 1.0)), "it never comes back by itself"


def test_what_belongs_to_another_kind_of_step_is_a_fault_of_ours() -> None:
    with pytest.raises(ValueError, match="a count step shows no Looks"):
        departs(EVERY_KIND.step("beeps"), shows.Looks(()))


def test_limits_are_decimal_and_a_double_s_last_bit_decides_nothing() -> None:
    step = EVERY_KIND.step("ripple")
    assert not departs(step, shows.Reads((math.nextafter(0.06, 1.0),), "Vpp"))

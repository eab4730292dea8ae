"""Does a simulated unit show each fault where it belongs, when it should, and until its block is reworked?"""

from typing import Any

import demo_boards
import pytest
from every_kind import EVERY_KIND, GAUGE, NODE
from hypothesis import given, settings
from hypothesis import strategies as st

import sequences
from passcheck.practice import shows
from passcheck.practice.effects import Around
from passcheck.practice.fault import Effect, Fault, When
from passcheck.practice.fault_list import WHATS
from passcheck.practice.serials import drawn_from
from passcheck.practice.truth import departing, departs
from passcheck.practice.unit import SimulatedUnit
from passcheck.sequence.model import Sequence

WHERE = [
    (Effect(sequences.RAIL, "reads", 4.2), {sequences.RAIL}),
    (Effect(NODE, "reads", 4.2), {sequences.RAIL}),
    (Effect(NODE, "source", 5.0), {sequences.RAIL}),
    (Effect(NODE, "ripple", 0.142), {"ripple"}),
    (Effect("idle", "draws", 0.29), {"idle"}),
    (Effect("idle", "limit light", seen="on"), {"idle"}),
    (Effect("DS2", "dark"), {sequences.LAMPS, "check"}),
    (Effect("DS2", "flickers"), {sequences.LAMPS, "check"}),
    (Effect("check", "dark", nth=2), {"check"}),
    (Effect("check", "looks", nth=1, seen="green in place of red"), {"check"}),
    (Effect("DS1", "lags", 1.7), {"check"}),
    (Effect("DS3", "blinks at", 3.1), {"blink"}),
    (Effect("SW1", "delays", 2.6), {"answer", "presses"}),
    (Effect("presses", "delays", 2.6), {"presses"}),
    (Effect("SW1", "bounces", 0.3), {"presses"}),
    (Effect("SW1", "dead spots", 0.3), {"answer", "presses"}),
    (Effect(GAUGE, "slow", 2.0), {"sweep"}),
    (Effect(GAUGE, "stalls", 0.6, nth=2), {"sweep"}),
    (Effect(GAUGE, "offset", -9.0), {"marks"}),
    (Effect(GAUGE, "offset", -9.0, nth=2), {"marks"}),
    (Effect("F35", "stuck"), {"codes"}),
    (Effect("F31", "missing"), {"codes"}),
    (Effect("F35", "mute"), {"codes"}),
    (Effect("dip", "falls to", seen="D"), {"dip"}),
    (Effect("dip", "recovers in", 6.2), {"dip"}),
    (Effect("look", "looks", nth=2, seen="a dark corner"), {"look"}),
    (Effect("beeps", "counts", 2), {"beeps"}),
    (Effect("inputs", "gives", 2.4, nth=2), {"inputs"}),
    (Effect("TP9 to TP0", "holds charge", 40.0), set[str]()),
]  # fmt: skip
"""Each kind of effect, and the steps at which a unit with it isn't as the sequence wants it."""

SEEDS = st.integers(0, 10_000)


def broken(*effects: Effect, block: str = "PWR", born: int = 0) -> Fault:
    return Fault("it", "something broke", block, (), effects, born=born)


def unit_with(*effects: Effect, sequence: Sequence = EVERY_KIND) -> SimulatedUnit:
    return SimulatedUnit(sequence, (broken(*effects),), drawn_from("drawn", 1))


@pytest.mark.parametrize(
    ("effect", "where"), WHERE, ids=lambda it: f"{it.what} at {it.on}" if hasattr(it, "on") else ""
)
def test_an_effect_shows_at_its_kind_of_step_and_nowhere_else(effect: Effect, where: set[str]) -> None:
    assert set(departing(unit_with(effect))) == where


def test_every_kind_of_effect_is_tried() -> None:
    assert {effect.what for effect, _where in WHERE} == set(WHATS)


@pytest.mark.parametrize(
    ("effect", "where"), WHERE, ids=lambda it: f"{it.what} at {it.on}" if hasattr(it, "on") else ""
)
def test_a_rework_cures_its_own_block_and_no_other(effect: Effect, where: set[str]) -> None:
    unit = unit_with(effect)
    other, own = frozenset({"LAMP"}), frozenset({"PWR", "LAMP"})
    assert set(departing(unit, (other,))) == where
    assert departing(unit, (other, own)) == ()
    assert unit.live((other,))
    assert not unit.live((own,))


def test_what_the_first_rework_broke_is_there_from_then_on_until_its_own_block_is_worked_on() -> None:
    unit = SimulatedUnit(EVERY_KIND, (broken(Effect(NODE, "reads", 4.2), born=1),), drawn_from("drawn", 1))
    pwr, lamp = frozenset({"PWR"}), frozenset({"LAMP"})
    assert not unit.live(())
    assert unit.live((lamp,))
    assert unit.live((pwr,)), "the rework that broke it doesn't mend it"
    assert not unit.live((lamp, pwr))


@settings(deadline=None)
@given(warm=st.floats(1, 60), powered=st.floats(0, 120))
def test_a_warm_fault_shows_after_its_minutes_and_not_before(warm: float, powered: float) -> None:
    unit = unit_with(Effect(GAUGE, "offset", -47.0, when=When(warm_min=warm)))
    step = EVERY_KIND.step("marks")
    seen = unit.shows(step, Around(powered_min=powered), (), drawn_from("drawn", 1))
    assert seen is not None
    assert departs(step, seen) == (powered >= warm)


@pytest.mark.parametrize(
    ("under", "shown"), [(frozenset(), False), (frozenset({"cold"}), False), (frozenset({"cold", "warm"}), True)]
)
def test_a_fault_under_a_condition_shows_under_that_one_alone(under: frozenset[str], shown: bool) -> None:
    unit = unit_with(Effect(NODE, "reads", 4.2, when=When(under="warm")))
    step = EVERY_KIND.step(sequences.RAIL)
    seen = unit.shows(step, Around(powered_min=1e3, under=under), (), drawn_from("drawn", 1))
    assert seen is not None
    assert departs(step, seen) == shown


@pytest.mark.parametrize("share", [0.2, 0.5, 0.9, 1.0])
def test_an_intermittent_fault_shows_in_its_share_of_the_tries_and_then_as_a_whole(share: float) -> None:
    when = When(share=share)
    unit = unit_with(Effect("dip", "falls to", seen="D", when=when), Effect("dip", "recovers in", 6.2, when=when))
    step, tries, draw = EVERY_KIND.step("dip"), 2_000, drawn_from("drawn", 3)
    seen = [unit.shows(step, Around(), (), draw) for _ in range(tries)]
    fallen = [isinstance(one, shows.Falls) and one.grade == "D" for one in seen]
    late = [isinstance(one, shows.Falls) and one.recovery_s > 3.0 for one in seen]
    assert fallen == late
    # five standard deviations of a share of 2000 tries
    assert sum(fallen) / tries == pytest.approx(share, abs=5 * (share * (1 - share) / tries) ** 0.5)


def test_a_dead_spot_swallows_its_share_of_the_presses() -> None:
    seen = unit_with(Effect("SW1", "dead spots", 0.5)).shows(
        EVERY_KIND.step("presses"), Around(), (), drawn_from("drawn", 1)
    )
    assert isinstance(seen, shows.Responds)
    swallowed = seen.delays_s.count(None)
    assert 0 < swallowed < len(seen.delays_s)


def test_a_pointer_that_stalls_loses_its_time_in_that_segment_on_both_ways() -> None:
    seen = unit_with(Effect(GAUGE, "stalls", 0.8, nth=2)).shows(
        EVERY_KIND.step("sweep"), Around(), (), drawn_from("drawn", 1)
    )
    assert isinstance(seen, shows.Sweeps)
    up = [after - before for before, after in zip(seen.up_s, seen.up_s[1:], strict=False)]
    down = [after - before for before, after in zip(seen.down_s, seen.down_s[1:], strict=False)]
    assert max(up) - min(up) == pytest.approx(0.8)
    assert up.index(max(up)) == 1
    assert down.index(max(down)) == len(down) - 2
    assert "mark" in seen.stall


@settings(deadline=None, max_examples=25)
@given(seed=SEEDS, tries=SEEDS)
def test_the_same_seed_is_the_same_unit(seed: int, tries: int) -> None:
    one, other = (SimulatedUnit(EVERY_KIND, (), drawn_from("drawn", seed)) for _ in range(2))
    for step in EVERY_KIND.steps:
        assert one.shows(step, Around(), (), drawn_from("drawn", tries)) == other.shows(
            step, Around(), (), drawn_from("drawn", tries)
        )


def test_two_units_of_a_board_differ() -> None:
    rail = EVERY_KIND.step(sequences.RAIL)
    seen = {
        SimulatedUnit(EVERY_KIND, (), drawn_from("drawn", seed)).shows(rail, Around(), (), drawn_from("drawn", 1))
        for seed in range(20)
    }
    assert len(seen) == 20


@pytest.mark.parametrize("name", demo_boards.NAMES)
@settings(deadline=None, max_examples=25)  # a whole board each time
@given(seed=SEEDS, tries=SEEDS)
def test_a_healthy_unit_conforms_at_every_step_of_its_board(name: str, seed: int, tries: int) -> None:
    sequence = demo_boards.board(name)
    unit, draw = SimulatedUnit(sequence, (), drawn_from("drawn", seed)), drawn_from("drawn", tries)
    for step in sequence.steps:
        seen = unit.shows(step, Around(powered_min=600.0), (), draw)
        assert seen is None or not departs(step, seen), step.id


PLACES = [(name, place) for name in demo_boards.NAMES for place in demo_boards.board(name).stored_energy]


@pytest.mark.parametrize(("name", "place"), PLACES, ids=lambda it: getattr(it, "at", it))
@settings(deadline=None)
@given(early=st.floats(0, 100), late=st.floats(0, 100))
def test_charge_decays_exponentially(name: str, place: Any, early: float, late: float) -> None:
    unit = SimulatedUnit(demo_boards.board(name), (), drawn_from("drawn", 1))
    at = {off_s: unit.charge_v(place, Around(off_s=off_s)) for off_s in (0.0, early, late, early + late)}
    assert at[early + late] * at[0.0] == pytest.approx(at[early] * at[late], rel=1e-6)
    assert at[early + late] <= at[early] <= at[0.0]


@pytest.mark.parametrize(("name", "place"), PLACES, ids=lambda it: getattr(it, "at", it))
def test_a_healthy_unit_is_discharged_after_the_wait_and_one_that_holds_its_charge_is_not(
    name: str, place: Any
) -> None:
    sequence, after = demo_boards.board(name), Around(off_s=float(place.wait.value))
    limit_v = float(place.discharged_below.value)
    holding = unit_with(Effect(place.at, "holds charge", 10.0), sequence=sequence)
    assert SimulatedUnit(sequence, (), drawn_from("drawn", 1)).charge_v(place, after) < limit_v
    assert holding.charge_v(place, after) > limit_v
    assert holding.charge_v(place, after, (frozenset({"PWR"}),)) < limit_v


def test_mains_charges_to_its_peak_and_twelve_volts_to_twelve() -> None:
    sequence = demo_boards.board("EK-8")
    unit, place = SimulatedUnit(sequence, (), drawn_from("drawn", 1)), sequence.stored_energy[0]
    assert unit.charge_v(place, Around(off_s=0.0, supply="mains")) == pytest.approx(230 * 2**0.5)
    assert unit.charge_v(place, Around(off_s=0.0, supply="bench-12v")) == pytest.approx(12.0)
    assert unit.charge_v(place, Around(off_s=0.0)) == pytest.approx(230 * 2**0.5), "the worst where nothing is known"


def test_a_node_that_stores_charge_reads_what_is_left_of_it_without_power() -> None:
    sequence = demo_boards.board("QM-48")
    step = sequence.step("c02-first")
    unit = SimulatedUnit(sequence, (), drawn_from("drawn", 1))
    for off_s in (0.0, 20.0, 60.0):
        seen = unit.shows(step, Around(off_s=off_s), (), drawn_from("drawn", 1))
        assert seen == shows.Reads((unit.charge_v(sequence.stored_energy[0], Around(off_s=off_s)),), "V")


def test_steps_at_one_node_agree_where_they_ask_for_the_same() -> None:
    sequence = demo_boards.board("OV-24P")
    unit = SimulatedUnit(sequence, (), drawn_from("drawn", 1))
    seen = {
        unit.shows(sequence.step(step), Around(), (), drawn_from("drawn", 1)) for step in ("a06", "a09-low", "a09-high")
    }
    assert len(seen) == 1

"""When does a unit count as made safe, and when does a reading bring power back?"""

from dataclasses import replace
from typing import Any

import hand
import pytest
from story import Story

import sequences
from passcheck.job import power
from passcheck.job.commands import CallMakeSafe, ProveDead, ReadSupply
from passcheck.job.events import MadeSafe, PointProof, PowerTold
from sequences import GUARD, RAIL


def charged(**place: Any) -> Story:
    return Story(sequences.much_energy(**place))


def proof(story: Story, **members: Any) -> ProveDead:
    good = hand.point(story.job.sequence.stored_energy[0])
    return ProveDead("t1", "M1", (replace(good, **members),))


def test_every_item_in_range_makes_the_unit_safe() -> None:
    story = charged()
    story.do(proof(story))
    assert story.told() == "off"
    assert power.proved_dead(story.job)


@pytest.mark.parametrize(
    ("item", "value"),
    [
        ("source_before", "0.0 V"),
        ("source_before", "OL"),
        ("source_before", ""),
        ("source_after", "7.9 V"),
        ("source_after", "nothing"),
        ("forward", "2.0 V"),
        ("forward", "48 V"),
        ("forward", ""),
        ("reverse", "-2.1 V"),
        ("reverse", "OL"),
        ("again", "2.4 V"),
        ("again", ""),
        ("waited_s", 9),
        ("waited_s", -1),
        ("at", "TP8 to TP0"),
    ],
)
def test_one_item_missing_or_out_of_range_leaves_power_unknown(item: str, value: str | int) -> None:
    story = charged()
    refusal = story.refused(proof(story, **{item: value}))
    assert refusal.code in ("power", "entry")
    assert story.told() == "unknown"
    assert not power.proved_dead(story.job)


def test_both_polarities_are_measured_by_their_size() -> None:
    story = charged()
    assert story.refused(proof(story, reverse="-12 V")).code == "power"
    story.do(proof(story, reverse="-1.99 V"))


def test_a_point_named_for_ac_is_measured_on_ac_too() -> None:
    story = charged(ac=True)
    assert "AC" in story.refused(proof(story, ac=None)).sentence
    assert story.refused(proof(story, ac="30 V")).code == "power"
    story.do(proof(story, ac="0.01 V"))


def test_every_named_point_is_measured() -> None:
    other = {**sequences.MUCH_ENERGY, "at": "TP5 to TP0"}
    story = Story(sequences.sequence(stored_energy=[sequences.MUCH_ENERGY, other]))
    assert "TP5 to TP0" in story.refused(proof(story)).sentence
    story.do(hand.proved_dead(story.job))
    assert story.told() == "off"


def test_the_tester_has_a_name() -> None:
    story = charged()
    assert story.refused(replace(proof(story), tester=" ")).code == "entry"


def test_little_energy_takes_one_reading_at_the_supply() -> None:
    story = Story(sequences.little_energy())
    story.do(ProveDead("t1", "M1", at_supply="0.3 V"))
    assert story.told() == "off"


@pytest.mark.parametrize("reading", ["2.0 V", "-24 V", "OL", "", None])
def test_one_reading_has_to_be_there_and_low(reading: str | None) -> None:
    story = Story(sequences.little_energy())
    story.refused(ProveDead("t1", "M1", at_supply=reading))
    assert story.told() == "unknown"


def test_much_energy_is_not_satisfied_by_one_reading_at_the_supply() -> None:
    assert "was not measured" in charged().refused(ProveDead("t1", "M1", at_supply="0.0 V")).sentence


def test_a_hazardous_live_board_without_named_points_is_still_measured() -> None:
    board = sequences.hazardous_live().model_copy(update={"stored_energy": ()})
    story = Story(board)
    story.do(CallMakeSafe("t1"))
    assert story.refused(ProveDead("t1", "M1")).code == "entry"
    assert story.refused(ProveDead("t1", "M1", at_supply="230 V")).code == "power"
    story.do(ProveDead("t1", "M1", at_supply="0.4 V"))


def test_the_key_alone_makes_every_supply_unknown() -> None:
    story = Story(sequences.hazardous_live())
    story.do(hand.proved_dead(story.job))
    (event,) = story.do(CallMakeSafe("t1"))
    assert event == PowerTold("unknown", ("battery", "mains"), "make safe was called")
    assert (story.told("battery"), story.told("mains")) == ("unknown", "unknown")


def test_a_fitted_shorting_lead_is_recorded() -> None:
    story = charged()
    (event,) = story.do(replace(proof(story), shorting_lead=True))
    assert isinstance(event, MadeSafe)
    assert story.job.fitted[0].words == "shorting lead at TP9 to TP0"


def away(story: Story) -> Story:
    story.clock.pass_time(minutes=20)
    return story


def display(volts: str = "24.0 V", amps: str = "0.16 A", *, light: bool = False, supply: str = "battery") -> ReadSupply:
    return ReadSupply("t1", supply, volts, amps, light)


def test_a_plausible_display_restores_what_was_told_on() -> None:
    story = away(Story(sequences.little_energy()).start().passes(GUARD).power(RAIL))
    story.do(display())
    assert story.told() == "on"


@pytest.mark.parametrize(
    "reading",
    [display(light=True), display("0.1 V"), display(amps="0.50 A"), display("33 V"), display(""), display(amps="x")],
)
def test_an_implausible_display_restores_nothing(reading: ReadSupply) -> None:
    story = away(Story().start().passes(GUARD).power(RAIL))
    story.refused(reading)
    assert story.told() == "unknown"


def test_much_energy_accepts_only_make_safe() -> None:
    story = away(charged().make_safe().start().passes(GUARD).power(RAIL))
    assert story.refused(display()).code == "power"


def test_a_supply_that_was_never_told_on_is_not_restored() -> None:
    assert Story(sequences.little_energy()).refused(display()).code == "power"


def test_a_supply_that_is_not_unknown_needs_no_reading() -> None:
    assert Story().refused(display()).code == "order"
    assert Story().refused(display(supply="ghost")).code == "order"


def test_a_point_proof_keeps_what_was_typed() -> None:
    story = charged()
    (event,) = story.do(proof(story, forward="0,04 V"))
    assert isinstance(event, MadeSafe)
    assert event.points[0] == PointProof("TP9 to TP0", "9.01 V", "0,04 V", "-0.04 V", 10, "0.11 V", "9.01 V", "0.01 V")

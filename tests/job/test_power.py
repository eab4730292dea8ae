"""What may be believed of the supplies?"""

from decimal import Decimal

import pytest
from story import Story

import sequences
from passcheck.job import power
from passcheck.job.commands import AddNote, CallMakeSafe, ReadSupply, TellPower
from passcheck.job.events import Resumed, SoakStarted
from sequences import GUARD, LAMPS, RAIL


def powered() -> Story:
    return Story().start().passes(GUARD).power(RAIL)


def test_told_on_is_believed_for_a_quarter_of_an_hour() -> None:
    story = powered()
    story.clock.pass_time(minutes=14, seconds=59)
    assert story.told() == "on"
    story.clock.pass_time(seconds=1)
    assert story.told() == "unknown"


def test_an_event_within_the_quarter_hour_keeps_it() -> None:
    story = powered()
    for _ in range(4):
        story.clock.pass_time(minutes=10)
        story.do(AddNote("t1", "still reading"))
    assert story.told() == "on"


def test_a_note_after_a_long_absence_does_not_bring_power_back() -> None:
    story = powered()
    story.clock.pass_time(minutes=20)
    story.do(AddNote("t1", "back from the telephone"))
    assert story.told() == "unknown"
    assert story.refused(ReadSupply("t1", "battery", "24.0 V", "0.16 A", True)).code == "power"


def test_a_restart_of_the_program_makes_power_unknown() -> None:
    story = powered()
    story.restart()
    assert story.told() == "unknown"


def test_a_restart_of_the_machine_makes_power_unknown() -> None:
    story = powered()
    story.clock.reboot(minutes=0.1)
    assert story.told() == "unknown"


def test_a_clock_on_the_wall_that_was_set_says_nothing_about_an_absence() -> None:
    story = powered()
    story.clock.set_wall(hours=5)
    assert story.told() == "on"


@pytest.mark.parametrize("told", ["off", "soaking"])
def test_neither_off_nor_soaking_fades(told: str) -> None:
    story = Story(sequences.with_soak())
    if told == "soaking":
        story.happen(SoakStarted("soak", "battery", "24.0 V", "0.16 A"))
    story.clock.pass_time(hours=9)
    story.happen(Resumed(story.now.boot_id, 120, "passcheck test", None))
    assert story.told() == told


def test_told_off_is_not_proved_dead() -> None:
    story = powered()
    story.do(TellPower("t1", "off"))
    assert story.told() == "off"
    assert not power.proved_dead(story.job)


def test_a_proof_of_dead_holds_until_something_else_is_told() -> None:
    story = powered().make_safe()
    assert power.proved_dead(story.job)
    story.do(CallMakeSafe("t1"))
    assert not power.proved_dead(story.job)


def test_off_and_on_within_a_step_changes_nothing_that_is_believed() -> None:
    story = powered()
    story.do(TellPower("t1", "cycled", "as the step asks"))
    assert story.told() == "on"


def test_energy_is_added_up_over_all_places() -> None:
    one = sequences.little_energy()
    assert power.energy_j(one) == pytest.approx(0.13536)
    two = sequences.sequence(stored_energy=[sequences.LITTLE_ENERGY, {**sequences.LITTLE_ENERGY, "at": "TP8"}])
    assert power.energy_j(two) == pytest.approx(0.27072)
    assert power.little_energy(one)
    assert not power.little_energy(two), "each place holds little, both together don't"


def test_without_a_voltage_the_top_of_the_highest_supply_counts() -> None:
    place = {key: value for key, value in sequences.LITTLE_ENERGY.items() if key != "voltage"}
    assert power.energy_j(sequences.sequence(stored_energy=[place])) == pytest.approx(470e-6 * 32**2 / 2)


def test_hazardous_live_is_never_little_energy() -> None:
    assert not power.little_energy(sequences.hazardous_live())


@pytest.mark.parametrize(
    ("volts", "amps", "believed"),
    [
        ("24.0", "0.16", True),
        ("24.0", "0.30", True),
        ("24.0", "0.31", False),
        ("0.1", "0", False),
        ("24", "-0.1", False),
    ],
)
def test_a_display_is_plausible_inside_the_range_and_under_the_limit(volts: str, amps: str, believed: bool) -> None:
    supply = sequences.sequence().supplies["battery"]
    assert power.plausible(supply, Decimal(volts), Decimal(amps)) is believed


def test_the_dead_time_of_a_late_entry_begins_with_the_proof() -> None:
    story = Story(sequences.little_energy())
    arrived = story.now.utc
    story.clock.pass_time(minutes=5)
    story.make_safe()
    assert not power.dead_at(story.job, arrived)
    assert power.dead_at(story.job, story.now.utc)
    story.start().passes(GUARD).power(LAMPS)
    assert not power.dead_at(story.job, story.now.utc)

"""Can every demo board be practised with the faults that were written for it?"""

from functools import cache

import demo_boards
import pytest

from passcheck.practice.fault import Fault
from passcheck.practice.serials import drawn_from
from passcheck.practice.truth import departing
from passcheck.practice.unit import SimulatedUnit
from passcheck.sequence import model

ALL = [(name, fault) for name in demo_boards.NAMES for fault in demo_boards.faults(name).faults]
EACH = pytest.mark.parametrize(("name", "fault"), ALL, ids=lambda it: getattr(it, "name", it))
BOARD = pytest.mark.parametrize("name", demo_boards.NAMES)


@cache
def seen_at(name: str, fault: Fault, *reworks: str) -> frozenset[str]:
    """The steps at which a unit with that fault isn't as its sequence wants it, after reworks on these blocks."""
    unit = SimulatedUnit(demo_boards.board(name), (fault,), drawn_from("drawn", 1))
    return frozenset(departing(unit, tuple(frozenset({block}) for block in reworks)))


@EACH
def test_a_fault_is_seen_until_its_own_block_is_reworked(name: str, fault: Fault) -> None:
    found = seen_at(name, fault)
    assert found
    for block in demo_boards.board(name).blocks:
        assert seen_at(name, fault, block) == (frozenset() if block == fault.block else found)


@EACH
def test_what_an_owner_tells_of_can_be_seen_where_the_symptom_is_looked_for(name: str, fault: Fault) -> None:
    sequence = demo_boards.board(name)
    assert bool(fault.complaint) == bool(fault.symptoms)
    for symptom in fault.symptoms:
        assert seen_at(name, fault) & set(sequence.symptoms[symptom].steps) & set(demo_boards.faults(name).short)


@EACH
def test_what_broke_is_not_told_in_the_owners_words(name: str, fault: Fault) -> None:
    assert fault.parts
    assert not any(part in fault.complaint for part in (*fault.parts, fault.block))


@BOARD
def test_a_board_has_faults_of_every_sort_in_several_blocks(name: str) -> None:
    faults = demo_boards.faults(name).faults
    whens = [[effect.when for effect in fault.effects] for fault in faults]
    assert 5 <= len(faults) <= 8
    assert len({fault.block for fault in faults}) >= 3
    assert any(all(when.share == 1 and not when.warm_min and not when.under for when in each) for each in whens)
    assert any(when.share < 1 for each in whens for when in each)
    assert any(when.warm_min or when.under for each in whens for when in each)
    assert any(not fault.complaint for fault in faults)
    complaints = [fault.complaint for fault in faults if fault.complaint]
    assert len(set(complaints)) > 1


def test_one_complaint_may_have_several_causes() -> None:
    for name in ("OV-24P", "EK-8", "QM-48", "PM-7"):
        told = [fault.complaint for fault in demo_boards.faults(name).faults if fault.complaint]
        assert len(set(told)) < len(told), name


@BOARD
def test_most_faults_are_within_reach_of_the_short_sheet(name: str) -> None:
    whole = demo_boards.faults(name)
    reached = [fault for fault in whole.faults if seen_at(name, fault) & set(whole.short)]
    assert len(reached) >= max(3, len(whole.faults) - 1)


@BOARD
def test_the_short_sheet_keeps_every_guard_and_every_kind_of_step(name: str) -> None:
    sequence, short = demo_boards.board(name), demo_boards.faults(name).short
    steps = [sequence.step(step) for step in short]
    asked = {needed for step in steps for needed in step.needs}
    asked |= {checked for step in steps if isinstance(step, model.SoakStep) for checked in step.check}
    assert asked <= set(short)
    assert list(short) == [step.id for step in sequence.steps if step.id in short], "in the order of the sequence"
    assert {step.kind for step in steps} == {step.kind for step in sequence.steps}
    assert {step.role for step in steps} >= {"arrival", "first-power", "final"}
    assert len(short) < len(sequence.steps)


def test_the_first_sheet_is_a_small_one_that_shows_every_cause_of_one_complaint() -> None:
    whole, sequence = demo_boards.faults("OV-24P"), demo_boards.board("OV-24P")
    assert set(whole.first) < set(whole.short)
    assert list(whole.first) == [step.id for step in sequence.steps if step.id in whole.first]
    kinds = {sequence.step(name).kind for name in whole.first}
    assert kinds >= {"look", "reading", "power-up", "response", "grade", "soak"}
    told = [fault for fault in whole.faults if fault.complaint.startswith("She reboots")]
    assert len(told) > 2
    for fault in told:
        assert seen_at("OV-24P", fault) & set(whole.first), fault.name

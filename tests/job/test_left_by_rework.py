"""What a lifted leg and a borrowed part leave behind, and which later entry takes it away."""

from itertools import product

import hand
import pytest
from story import Story

from passcheck.job.commands import LogRework, ReportIncident, UndoChange
from passcheck.job.events import Action

DONOR = "7Q22099"


def work(*parts: str, action: Action, donor: str = "", block: str = "PWR") -> LogRework:
    return LogRework("t1", (block,), parts, action, "looking for the short", donor=donor)


def lifted(*parts: str) -> Story:
    story = Story()
    story.do(work(*parts, action="leg lifted"))
    return story


def swapped() -> Story:
    story = Story()
    story.do(work("C1", action="swapped in", donor=DONOR))
    return story


def test_a_lifted_leg_stands_between_the_unit_and_the_door_with_what_clears_it() -> None:
    (found,) = [one for one in lifted("C1", "C2").blocking() if one.sentence.startswith("Not put back")]
    assert found.sentence == "Not put back: C1, C2: a leg was lifted (rework 1) and has to be soldered back."
    assert found.lift == "Enter the rework on C1, C2 that clears it: put back, replaced or reflowed."


def test_a_part_from_another_unit_names_that_unit() -> None:
    (found,) = [one for one in swapped().blocking() if one.sentence.startswith("Not put back")]
    assert "C1: swapped in from unit 7Q22099 (rework 1), to go back or to stay as replaced" in found.sentence
    assert found.lift == "Enter the rework on C1 that clears it: put back or replaced."


@pytest.mark.parametrize(
    ("action", "clears_leg", "clears_swap"),
    [
        ("put back", True, True),
        ("replaced", True, True),
        ("reflowed", True, False),
        ("cleaned", False, False),
        ("adjusted", False, False),
        ("jumper", False, False),
        ("firmware", False, False),
        ("inspected", False, False),
        ("leg lifted", False, False),
    ],
)
def test_only_some_work_clears_it(action: Action, clears_leg: bool, clears_swap: bool) -> None:
    for story, clears in ((lifted("C1"), clears_leg), (swapped(), clears_swap)):
        story.do(work("C1", action=action))
        assert ("rework 1" not in {it.change for it in story.job.fitted}) == clears


@pytest.mark.parametrize("parts", [("C1",), ("C2",), ()])
def test_work_that_does_not_name_every_part_clears_nothing(parts: tuple[str, ...]) -> None:
    story = lifted("C1", "C2")
    story.do(work(*parts, action="reflowed"))
    assert [it.change for it in story.job.fitted] == ["rework 1"]
    story.do(work("C1", "C2", "F1", action="put back"))
    assert story.job.fitted == ()


def test_it_is_not_said_to_be_put_back_but_entered_as_work() -> None:
    story = lifted("C1")
    refusal = story.refused(UndoChange("t1", "rework 1", "soldered it"))
    assert "That is work on the unit" in refusal.sentence
    assert refusal.lift == "Enter the rework on C1 that clears it: put back, replaced or reflowed."


def test_lifting_and_soldering_back_make_results_stale_each_time() -> None:
    story = Story().walk()
    story.do(work("DS1", action="leg lifted", block="LAMP"))
    assert any("stale with rework 1" in one for one in story.blockers())
    story.walk().do(work("DS1", action="put back", block="LAMP"))
    assert story.blockers() == ("Telltales, each alone: the pass went stale with rework 2.",)
    assert story.walk().blockers() == ()


@pytest.mark.parametrize(
    ("command", "said"),
    [
        (work("C1", action="swapped in"), "The serial of the unit it came from is missing."),
        (work("C1", action="swapped in", donor="[b]"), "'[B]' is no serial number."),
        (work("C1", action="swapped in", donor="7q22051"), "is this unit: nothing can be swapped in from it"),
        (work("C1", action="replaced", donor=DONOR), "Only a part swapped in comes from another unit."),
        (work(action="swapped in", donor=DONOR), "No part is named as 'swapped in'."),
        (work(action="leg lifted"), "No part is named as 'leg lifted'."),
    ],
)
def test_what_does_not_add_up_is_refused_in_words(command: LogRework, said: str) -> None:
    assert said in Story().refused(command).sentence


def test_the_donor_s_serial_is_kept_as_serials_are_read() -> None:
    story = Story()
    story.do(work("C1", action="swapped in", donor="*7q22099*\r\n"))
    assert story.job.reworks[0].donor == DONOR


@pytest.mark.parametrize(("first", "second"), tuple(product(("leg lifted", "swapped in"), repeat=2)))
def test_two_of_them_on_one_part_are_cleared_together(first: Action, second: Action) -> None:
    story = Story()
    for action in (first, second):
        story.do(work("C1", action=action, donor=DONOR if action == "swapped in" else ""))
    story.do(work("C1", action="put back"))
    assert story.job.fitted == ()


def test_the_journal_alone_gives_the_same_list() -> None:
    story = swapped()
    story.do(ReportIncident("t1", ("PWR",), "slipped"))
    assert story.replayed().fitted == story.job.fitted != ()


def test_a_shorting_lead_is_still_put_back_by_saying_so() -> None:
    story = Story()
    story.do(hand.proved_dead(story.job, shorting_lead=True), UndoChange("t1", "shorting lead", "off"))
    assert story.job.fitted == ()

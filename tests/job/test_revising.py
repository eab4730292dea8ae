"""Is what a new revision would change known before it is entered, and is it what happens then?"""

from dataclasses import replace

import pytest
from story import Story

import sequences
from passcheck.job.board import Board
from passcheck.job.commands import ReviseSequence
from passcheck.job.power import proved_dead, told
from passcheck.job.remarks import remarks
from passcheck.job.revising import marked_since, revising
from passcheck.job.staleness import stale_by
from passcheck.sequence.model import Sequence
from sequences import GUARD, LAMPS, RAIL


def newer(*changed: str, **members: object) -> Sequence:
    """Revision 2 of the three-step board; these steps are marked as changed in it."""
    steps = [{**step, "changed_in": 2} if step["id"] in changed else step for step in sequences.BASE["steps"]]
    return sequences.sequence(**{"revision": 2, "steps": steps, **members})


def revise(story: Story, board: Board, why: str = "limits mended") -> ReviseSequence:
    return ReviseSequence("t1", board.text, board.digest, why)


@pytest.mark.parametrize(
    ("changed", "stale"),
    [((RAIL,), [RAIL]), ((GUARD, LAMPS), [GUARD, LAMPS]), ((), [GUARD, RAIL, LAMPS])],
)
def test_what_is_told_before_is_what_goes_stale_then(changed: tuple[str, ...], stale: list[str]) -> None:
    story = Story().walk()
    found = revising(story.job, newer(*changed), story.now)
    assert (found.old, found.new) == (1, 2)
    assert [one.step for one in found.stale] == stale
    story.do(revise(story, story.boards.put(newer(*changed))))
    assert [one.step for one in story.job.attempts if stale_by(story.job, one) is not None] == stale


def test_steps_that_come_and_go_are_named_by_their_titles() -> None:
    story = Story().walk()
    kept = [step for step in sequences.BASE["steps"] if step["id"] != RAIL]
    other = newer(steps=[*kept, sequences.FINAL_STEP], symptoms={})
    found = revising(story.job, other, story.now)
    assert (found.added, found.dropped) == (("Last look",), ("5 V logic rail",))
    assert RAIL in [one.step for one in found.stale]


def test_results_that_are_stale_already_are_not_counted_again() -> None:
    story = Story().walk()
    story.do(revise(story, story.boards.put(newer())))
    third = newer().model_copy(update={"revision": 3})
    assert revising(story.job, third, story.now).stale == ()


def test_only_what_was_changed_after_that_revision_is_marked() -> None:
    assert marked_since(newer(RAIL), 1) == (RAIL,)
    assert marked_since(newer(RAIL), 2) == ()


def test_a_new_revision_needs_its_reason() -> None:
    story = Story()
    assert "needs its reason" in story.refused(revise(story, story.boards.put(newer()), "  ")).sentence


def test_a_supply_that_is_new_is_off() -> None:
    story = Story().walk()
    both = newer(supplies={"battery": sequences.BATTERY, "sensor": {**sequences.BATTERY, "connect": "J2"}})
    story.do(revise(story, story.boards.put(both)))
    assert told(story.job, story.now) == {"battery": "off", "sensor": "off"}
    assert proved_dead(story.job)


def test_points_that_the_old_text_did_not_name_were_never_proved_dead() -> None:
    story = Story().walk()
    story.do(revise(story, story.boards.put(newer(stored_energy=[sequences.MUCH_ENERGY]))))
    assert story.told() == "unknown"
    assert not proved_dead(story.job)


def test_whoever_takes_the_unit_up_is_told_of_another_file() -> None:
    story = Story()
    assert remarks(story.job, story.outside) == ()
    outside = replace(story.outside, todays_digest="another", changed_steps=(RAIL,))
    assert remarks(story.job, outside) == (
        "Today's file of LB-3 is another than this job's: 1 of this job's steps changed in it.",
    )
    assert remarks(story.job, replace(outside, todays_digest=None)) == ()

"""What makes a result worthless? The table, row by row."""

from typing import Any

import hand
import pytest
from story import Story

import sequences
from passcheck.job import events as happened
from passcheck.job.commands import OpenCase, ReportIncident
from passcheck.job.staleness import call, reaches, stale_by, would_go_stale
from passcheck.job.state import Change
from passcheck.sequence.model import Sequence
from sequences import GUARD, LAMPS, RAIL

FIRST_POWER = {
    "id": "first-power",
    "kind": "power-up",
    "title": "First power",
    "role": "first-power",
    "power": "battery",
    "proves": ["LAMP"],
    "needs": [GUARD],
    "limits": "0.10 A .. 0.22 A",
    "after": "2 s",
    "instrument": "ammeter",
}
BOARD = sequences.sequence(
    steps=[sequences.LOOK_STEP, *sequences.BASE["steps"], FIRST_POWER, sequences.FINAL_STEP, sequences.SOAK_STEP],
    instruments={},
)
EVERY = ("arrival", GUARD, RAIL, LAMPS, "first-power", "final")


def walked(board: Sequence = BOARD) -> Story:
    story = Story(board).start()
    for step in EVERY:
        story.passes(step)
    return story.make_safe()


def stale(story: Story) -> set[str]:
    return {one.step for one in story.job.attempts if stale_by(story.job, one) is not None}


def test_nothing_is_stale_while_nothing_happened() -> None:
    assert stale(walked()) == set()


def test_a_rework_on_the_supply_makes_all_stale_but_the_arrival() -> None:
    story = walked()
    story.do(hand.rework("PWR"))
    assert stale(story) == {GUARD, RAIL, LAMPS, "first-power", "final"}


def test_a_rework_on_the_lamps_leaves_what_feeds_them() -> None:
    story = walked()
    story.do(hand.rework("LAMP"))
    assert stale(story) == {LAMPS, "first-power", "final"}


def test_what_a_block_feeds_is_followed_to_the_end() -> None:
    blocks = {
        "PWR": {"title": "Supply", "feeds": ["MCU"]},
        "MCU": {"title": "Logic", "feeds": ["LAMP"]},
        "LAMP": {"title": "Lamps"},
    }
    story = Story(sequences.sequence(blocks=blocks)).start().passes(GUARD).passes(LAMPS).make_safe()
    story.do(hand.rework("PWR"))
    assert LAMPS in stale(story)


def test_blocks_that_feed_each_other_in_a_circle_come_to_an_end() -> None:
    blocks = {"PWR": {"title": "Supply", "feeds": ["LAMP"]}, "LAMP": {"title": "Lamps", "feeds": ["PWR"]}}
    story = Story(sequences.sequence(blocks=blocks)).start().passes(GUARD)
    story.do(hand.rework("LAMP"))
    assert stale(story) == {GUARD}


def test_an_incident_counts_as_a_rework_on_its_blocks() -> None:
    story = walked()
    story.do(ReportIncident("t1", ("LAMP",), "slipped probe"))
    assert stale(story) == {LAMPS, "first-power", "final"}


def test_an_opened_case_asks_for_the_last_look_and_a_short_round() -> None:
    story = walked()
    story.do(OpenCase("t1", "to read the label"))
    assert stale(story) == {"final", RAIL}, "what the soak checks, where the author names no round"


def test_the_author_s_short_round_goes_before_what_the_soak_checks() -> None:
    story = Story(sequences.with_steps(sequences.SOAK_STEP, short_round=[LAMPS])).walk()
    story.do(OpenCase("t1", "to read the label"))
    assert stale(story) == {LAMPS}


def test_an_opened_case_asks_for_the_soak_again_only_where_the_author_says_so() -> None:
    for again in (False, True):
        board = sequences.with_steps({**sequences.SOAK_STEP, "again_after_opening": again})
        change = Change(9, "case opened", 1, (), "", Story(board).now, "t1")
        assert reaches(Story(board).job, change, board.step("soak")) is again


def test_new_firmware_reaches_everything_powered() -> None:
    story = walked()
    story.happen(happened.ReworkLogged(1, ("LAMP",), (), "firmware", "new version"))
    assert stale(story) == {RAIL, LAMPS, "first-power", "final"}


def revised(story: Story, **changes: Any) -> Story:
    steps = [{**step, **changes.get(step["id"].replace("-", "_"), {})} for step in sequences.BASE["steps"]]
    newer = sequences.sequence(
        steps=[sequences.LOOK_STEP, *steps, FIRST_POWER, sequences.FINAL_STEP],
        instruments={},
        revision=changes.get("revision", 2),
    )
    board = story.boards.put(newer)
    story.happen(happened.SequenceRevised(board.text, board.digest, "new file"))
    return story


def test_a_new_revision_that_marks_nothing_makes_all_stale_but_the_arrival() -> None:
    assert stale(revised(walked())) == {GUARD, RAIL, LAMPS, "first-power", "final"}


def test_a_new_revision_that_marks_a_step_makes_that_step_stale() -> None:
    assert stale(revised(walked(), rail_5v={"changed_in": 2})) == {RAIL}


def test_marks_of_revisions_that_were_jumped_over_count_too() -> None:
    story = revised(walked(), rail_5v={"changed_in": 2}, telltales={"changed_in": 3}, revision=3)
    assert stale(story) == {RAIL, LAMPS}


def test_a_result_after_the_event_stands() -> None:
    story = walked()
    story.do(hand.rework("LAMP"))
    story.passes(LAMPS)
    assert stale_by(story.job, story.last_attempt()) is None


def test_a_stale_result_names_the_first_event_that_did_it() -> None:
    story = walked()
    story.do(hand.rework("PWR"), hand.rework("PWR"))
    change = stale_by(story.job, story.job.attempts[1])
    assert change is not None
    assert call(change) == "rework 1"


def test_a_step_that_a_newer_revision_dropped_goes_stale_with_it() -> None:
    story = Story(sequences.with_variant(), variants=("beeper",)).start().passes(GUARD).passes("beeps").make_safe()
    board = story.boards.put(sequences.sequence(revision=2))
    story.happen(happened.SequenceRevised(board.text, board.digest, "beeper gone"))
    assert stale(story) == {GUARD, "beeps"}


def test_the_preview_names_what_would_go_stale_and_nothing_that_is() -> None:
    story = walked()
    story.do(hand.rework("LAMP"))
    change = Change(99, "rework", 2, ("PWR",), "", story.now, "t1")
    assert {one.step for one in would_go_stale(story.job, change)} == {GUARD, RAIL}


@pytest.mark.parametrize(
    ("kind", "words"),
    [("incident", "incident 3"), ("case opened", "case opened 3"), ("new revision", "new revision 3")],
)
def test_events_are_called_by_kind_and_number(kind: Any, words: str) -> None:
    story = Story()
    assert call(Change(1, kind, 3, (), "", story.now, "t1")) == words

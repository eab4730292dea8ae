"""What does a retest walk after a rework, and what does it leave to acceptance?"""

import hand
from story import Story

import sequences
from passcheck.job.commands import CloseRun, LogRework, MapComplaint, ReportIncident, StartRun
from passcheck.job.plan import plan
from passcheck.job.retest import concerned, failed_before, last_work
from sequences import GUARD, LAMPS, RAIL

SOCKET = {**sequences.RAIL_STEP, "id": "socket", "title": "Socket voltage", "proves": ["OUT"], "minutes": 3}
BLOCKS = {**sequences.BASE["blocks"], "OUT": {"title": "Socket", "parts": ["J9"], "feeds": []}}
BOARD = sequences.with_steps(SOCKET, sequences.FINAL_STEP, sequences.SOAK_STEP, blocks=BLOCKS)


def reworked(*blocks: str) -> Story:
    """As found the rail failed; then these blocks were worked on."""
    story = Story(BOARD)
    story.do(MapComplaint("t1", ("rail-low",)))
    story.start("as-found").passes(GUARD).fails(RAIL).passes(LAMPS).passes("socket").make_safe()
    story.do(CloseRun("t1"), hand.rework(*blocks))
    return story


def order(story: Story) -> list[str]:
    return [one.step.id for one in plan(story.job)]


def test_a_retest_walks_what_was_touched_and_what_had_failed_with_their_guards() -> None:
    assert concerned(reworked("LAMP").job) == {GUARD, RAIL, LAMPS}
    assert concerned(reworked("PWR").job) == {GUARD, RAIL, LAMPS}
    assert concerned(reworked("OUT").job) == {GUARD, RAIL, "socket"}


def test_what_failed_before_is_walked_before_everything_else_that_needs_power() -> None:
    assert order(reworked("LAMP").start("retest")) == [GUARD, RAIL, LAMPS]


def test_acceptance_walks_the_rest_and_leaves_the_final_look_to_after_the_burn_in() -> None:
    story = reworked("PWR").start("retest")
    for step in order(story):
        story.passes(step)
    assert order(story) == []
    assert order(story.start("acceptance")) == ["socket"]


def test_reworks_done_in_one_go_belong_together() -> None:
    story = reworked("LAMP")
    story.do(hand.rework("OUT"))
    assert [change.number for change in last_work(story.job)] == [1, 2]
    assert {LAMPS, "socket"} <= concerned(story.job)


def test_only_the_last_go_counts_once_a_run_lies_between() -> None:
    story = reworked("LAMP").start("retest").passes(GUARD).passes(RAIL).passes(LAMPS).make_safe()
    story.do(CloseRun("t1"), hand.rework("OUT"))
    assert concerned(story.job) == {GUARD, "socket"}


def test_an_incident_is_retested_like_a_rework() -> None:
    story = Story(BOARD).walk()
    story.do(ReportIncident("t1", ("OUT",), "slipped probe"))
    assert concerned(story.job) == {GUARD, "socket"}


def test_again_walks_the_failed_symptom_with_what_comes_before_its_power_and_nothing_else() -> None:
    story = reworked("PWR")
    start = hand.start(story.job, "retest")
    assert isinstance(start, StartRun)
    story.do(StartRun(start.by, "retest", start.serial, start.instruments, start.ambient_c, again=True))
    assert order(story) == [GUARD, RAIL]


def test_again_is_refused_where_no_symptom_failed() -> None:
    story = Story(BOARD)
    start = hand.start(story.job, "retest")
    assert isinstance(start, StartRun)
    refusal = story.refused(StartRun(start.by, "retest", start.serial, start.instruments, again=True))
    assert "no failed symptom" in refusal.sentence


def test_the_latest_word_decides_what_failed_before() -> None:
    story = reworked("LAMP")
    assert failed_before(story.job) == (RAIL,)
    story.start("retest").passes(GUARD).passes(RAIL)
    assert failed_before(story.job) == ()


def test_a_rework_of_a_group_is_one_entry_and_one_go() -> None:
    story = reworked("LAMP")
    story.do(LogRework("t1", ("PWR",), ("C1", "C2"), "replaced", "one age"))
    assert len(last_work(story.job)) == 2

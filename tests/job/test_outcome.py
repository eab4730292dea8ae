"""With which words does a run close? The trade's table, row by row."""

import hand
from story import Story

import sequences
from passcheck.job.commands import CloseRun, MapComplaint, VoidAttempt
from passcheck.job.events import RunClosed
from sequences import GUARD, LAMPS, RAIL


def as_found(*, mapped: bool = True, conditions: tuple[str, ...] = ("warm",)) -> Story:
    story = Story(sequences.with_arrival_and_final())
    if mapped:
        story.do(MapComplaint("t1", ("rail-low",), conditions))
    return story.start("as-found").passes("arrival").passes(GUARD)


def closed(story: Story) -> str:
    (event,) = story.do(CloseRun("t1"))
    assert isinstance(event, RunClosed)
    return event.outcome


def test_reproduced() -> None:
    assert closed(as_found().fails(RAIL).passes(LAMPS)) == "complaint reproduced"


def test_reproduced_with_further_faults() -> None:
    assert closed(as_found().fails(RAIL).fails(LAMPS)) == "complaint reproduced; further faults found"


def test_not_reproduced_names_the_conditions() -> None:
    assert closed(as_found().passes(RAIL).passes(LAMPS)) == "not reproduced under: warm"
    assert closed(as_found(conditions=()).passes(RAIL)) == "not reproduced under: the conditions of the bench"


def test_a_different_fault() -> None:
    assert closed(as_found().passes(RAIL).fails(LAMPS)) == "complaint not reproduced; different fault found"


def test_inconclusive_says_how_far_it_got() -> None:
    assert closed(as_found().passes(LAMPS)) == "inconclusive: 0 of 1 linked steps tried"


def test_inconclusive_names_the_other_fault_that_was_met() -> None:
    words = "inconclusive: 0 of 1 linked steps tried; different fault found"
    assert closed(as_found().fails(LAMPS)) == words


def test_a_doubt_is_no_try_that_shows_anything() -> None:
    assert closed(as_found().reads(RAIL, "5.14 V")) == "inconclusive: 0 of 1 linked steps tried"


def test_intermittent_counts_every_repeat() -> None:
    story = as_found()
    for verdict in ("pass", "fail", "pass", "fail", "pass"):
        story = story.passes(RAIL) if verdict == "pass" else story.fails(RAIL)
    assert closed(story) == "intermittent: 2 of 5"


def test_powered_confirmation_not_safe_gives_the_reading() -> None:
    story = as_found().make_safe().fails(GUARD)
    assert closed(story) == f"powered confirmation not safe: {story.last_attempt().judgement.sentence}"


def test_a_fault_seen_on_arrival_makes_nothing_unsafe() -> None:
    story = Story(sequences.with_arrival_and_final())
    story.do(MapComplaint("t1", ("rail-low",)))
    story.start("as-found").fails("arrival").passes(GUARD).fails(RAIL)
    assert closed(story) == "complaint reproduced; further faults found"


def test_a_complaint_that_was_not_mapped() -> None:
    assert closed(as_found(mapped=False).passes(RAIL)) == "complaint not mapped to a symptom"
    assert closed(as_found(mapped=False).fails(RAIL)) == "complaint not mapped to a symptom; 1 step(s) fail"


def test_a_withdrawn_try_is_no_evidence() -> None:
    story = as_found().fails(RAIL)
    story.do(VoidAttempt("t1", 3, "lead", "open lead", "0.2 Ω now"))
    assert closed(story.passes(RAIL)) == "not reproduced under: warm"


def test_only_this_run_is_looked_at() -> None:
    story = as_found().fails(RAIL).start("as-found").passes(RAIL)
    assert closed(story) == "not reproduced under: warm"


def test_other_runs_close_with_how_far_they_got() -> None:
    story = Story().start().passes(GUARD).passes(GUARD).fails(RAIL)
    assert closed(story) == "1 of 3 steps passed"
    story.make_safe().do(hand.start(story.job, "retest"))
    assert closed(story) == "0 of 3 steps passed"

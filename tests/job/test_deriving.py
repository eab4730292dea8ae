"""Is a derived reading worked out from this run's own readings, and from nothing that anybody typed?"""

from typing import Any

from story import Story

import sequences
from passcheck.job.answers import ReadingAnswer
from passcheck.job.commands import Attempt, VoidAttempt
from passcheck.job.judging import instrument_role, needs_accuracy
from passcheck.judge.judgement import Judgement
from passcheck.sequence.model import Sequence
from sequences import GUARD, RAIL, RAIL_STEP

NOTHING = ReadingAnswer(())
INPUT: dict[str, Any] = {**RAIL_STEP, "id": "input", "title": "Input", "limits": "4.00 V .. 6.00 V"}
DROP: dict[str, Any] = {
    "id": "drop",
    "kind": "reading",
    "title": "Drop over the filter",
    "power": "battery",
    "proves": ["PWR"],
    "needs": [GUARD],
    "limits": "at most 150 mV",
    "derive": {"form": "drop", "of": ["input", RAIL], "same_meter": True},
}


def board(**members: Any) -> Sequence:
    return sequences.with_steps(INPUT, {**DROP, **members})


def read(*, volts_in: str = "5.06 V", rail: str = "5.00 V", instrument: str | None = None, **members: Any) -> Story:
    """Both readings are made, the drop is not worked out yet."""
    story = Story(board(**members)).start().passes(GUARD)
    return story.reads("input", volts_in).reads(RAIL, rail, instrument=instrument)


def worked_out(story: Story) -> Judgement:
    story.do(Attempt("t1", "drop", NOTHING))
    return story.last_attempt().judgement


def test_a_drop_is_worked_out_from_both_readings() -> None:
    story = read()
    found = worked_out(story)
    assert (found.verdict, found.value, found.unit) == ("pass", "0.06", "V")
    assert found.sentence.startswith("5.06 V - 5.00 V: ")
    assert story.last_attempt().instrument is None
    assert story.replayed() == story.job


def test_it_needs_no_instrument_of_its_own() -> None:
    step = board().step("drop")
    assert not needs_accuracy(step)
    assert instrument_role(step) is None


def test_two_meters_are_less_sure_of_a_drop_than_one() -> None:
    assert worked_out(read(volts_in="5.10 V")).verdict == "pass"
    assert worked_out(read(volts_in="5.10 V", instrument="M2")).verdict == "in doubt"


def test_nothing_is_ever_typed() -> None:
    refusal = read().refused(Attempt("t1", "drop", ReadingAnswer(("60 mV",))))
    assert (refusal.code, "never typed" in refusal.sentence) == ("entry", True)


def test_a_reading_that_this_run_did_not_make_is_asked_for() -> None:
    story = Story(board()).start().passes(GUARD).reads("input", "5.06 V")
    assert "5 V logic rail was not read in this run" in story.refused(Attempt("t1", "drop", NOTHING)).sentence
    story = read()
    story.make_safe().start().passes(GUARD).ready("drop")
    assert "Input was not read in this run" in story.refused(Attempt("t1", "drop", NOTHING)).sentence


def test_a_withdrawn_reading_is_none() -> None:
    story = read()
    number = story.last_attempt().number
    story.do(VoidAttempt("t1", number, "clip slipped"))
    assert "was not read" in story.refused(Attempt("t1", "drop", NOTHING)).sentence


def test_the_latest_reading_counts() -> None:
    story = read()
    story.reads(RAIL, "4.98 V")
    assert worked_out(story).value == "0.08"


def test_a_drop_outside_its_limits_fails_without_being_typed_twice() -> None:
    story = read(volts_in="5.40 V")
    found = worked_out(story)
    assert (found.verdict, found.outside) == ("fail", True)
    assert not story.last_attempt().typed_twice


def test_a_doubt_is_not_lifted_by_working_it_out_again() -> None:
    story = read(volts_in="5.13 V")
    assert worked_out(story).verdict == "in doubt"
    story.reads("input", "5.05 V")
    again = worked_out(story)
    assert again.verdict == "in doubt"
    assert "M1 is not 1.5 times better" in again.sentence


def test_limits_that_the_form_cannot_give_are_a_fault_of_the_sequence() -> None:
    story = read(limits="at most 2 W")
    assert "doesn't give W" in story.refused(Attempt("t1", "drop", NOTHING)).sentence


def test_a_value_that_was_worked_out_can_be_worked_with() -> None:
    share = {
        **DROP,
        "id": "share",
        "title": "Drop as a share of the input",
        "limits": "at most 5 %",
        "derive": {"form": "ratio", "of": ["drop", "input"]},
    }
    story = Story(sequences.with_steps(INPUT, DROP, share)).start().passes(GUARD)
    story.reads("input", "5.06 V").reads(RAIL, "5.00 V")
    worked_out(story)
    story.do(Attempt("t1", "share", NOTHING))
    assert story.last_attempt().judgement.value == "1.18577"


def test_over_range_can_not_be_worked_with() -> None:
    high = {**INPUT, "limits": "at least 4.00 V", "seen": "at least 0 V"}
    story = Story(sequences.with_steps(high, DROP)).start().passes(GUARD)
    story.reads("input", "OL").reads(RAIL, "5.00 V")
    assert "showed no value" in story.refused(Attempt("t1", "drop", NOTHING)).sentence

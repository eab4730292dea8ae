"""What stands between a unit and the door? Every sentence that can stand there, and what lifts it."""

from collections.abc import Callable
from dataclasses import replace

import hand
import pytest
import soaking
from story import Story

import sequences
from passcheck.job import events as happened
from passcheck.job.answers import ReadingAnswer
from passcheck.job.commands import (
    AddNote,
    Attempt,
    LogRework,
    MapComplaint,
    ReportIncident,
    ReviseSequence,
    SignOff,
    TellPower,
    UndoChange,
)
from passcheck.job.events import LeftOld
from passcheck.sequence.model import Sequence
from sequences import GUARD, LAMPS, RAIL

Tell = Callable[[Story], object]


def released(board: Sequence | None = None) -> Story:
    """A unit against which nothing stands."""
    story = Story(board).walk()
    assert story.blockers() == ()
    return story


def test_nothing_stands_against_a_unit_whose_every_step_passed_as_left() -> None:
    story = released()
    (event,) = story.do(SignOff("t1", "7Q22051"))
    assert isinstance(event, happened.SignedOff)


def test_a_job_that_has_ended_says_only_that() -> None:
    story = released()
    story.do(SignOff("t1", "7Q22051"))
    assert story.blockers() == ("This job has ended: signed off.",)


def test_a_blank_step_blocks_until_it_is_walked() -> None:
    story = Story()
    assert "Telltales, each alone: blank as left." in story.blockers()
    story.walk()
    assert story.blockers() == ()


def test_an_as_found_result_never_counts() -> None:
    story = Story().start("as-found").passes(GUARD)
    assert "5 V rail to 0 V, unpowered: blank as left; an as-found result never counts." in story.blockers()
    assert story.walk().blockers() == ()


def test_a_fail_blocks_with_its_own_sentence_until_rework_and_retest() -> None:
    story = Story().start().passes(GUARD).fails(RAIL)
    (found,) = [one for one in story.blocking() if one.step == RAIL]
    assert found.sentence == f"5 V logic rail: fails. {story.last_attempt().judgement.sentence}"
    assert "rework" in found.lift
    story.make_safe().do(hand.rework("PWR"))
    assert story.walk().blockers() == ()


def test_a_doubt_blocks_until_a_better_method_settles_it() -> None:
    story = Story().start().passes(GUARD).reads(RAIL, "5.14 V")
    assert any(one.startswith("5 V logic rail: in doubt. ") for one in story.blockers())
    story.reads(RAIL, "5.0800 V", instrument="M9").passes(LAMPS).make_safe()
    assert story.blockers() == ()


def test_a_probe_that_never_touched_blocks_until_it_is_measured() -> None:
    story = Story().start().reads(GUARD, "OL")
    assert any(one.startswith("5 V rail to 0 V, unpowered: not measured. ") for one in story.blockers())
    assert story.walk().blockers() == ()


def test_an_unexplained_pass_blocks_until_its_repeats_and_its_note() -> None:
    story = Story().start().passes(GUARD).fails(RAIL).passes(RAIL).passes(LAMPS).make_safe()
    assert story.blockers() == (
        "5 V logic rail: the pass is unexplained (failed 1 of 2, then passed with no rework between); "
        "0 of 5 clean repeats done, no note says why.",
    )
    for _ in range(5):
        story.passes(RAIL)
    story.make_safe()
    assert story.blockers()[0].endswith("between); no note says why.")
    story.do(AddNote("t1", "the clip had slipped off TP3", RAIL))
    assert story.blockers() == ()


def test_what_came_and_went_as_found_blocks_until_it_stayed_away() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL).passes(RAIL).make_safe()
    story.do(hand.rework("PWR"))
    story.start().passes(GUARD).passes(RAIL).passes(LAMPS).make_safe()
    (sentence,) = story.blockers()
    assert "failed 1 of 2 as found, and may only be hiding since the rework" in sentence
    assert "1 of 5 clean repeats done" in sentence
    for _ in range(4):
        story.passes(RAIL)
    assert story.make_safe().blockers() == ()


def test_a_fail_after_the_pass_blocks_though_its_run_was_as_found() -> None:
    story = released()
    story.start("as-found").fails(RAIL).make_safe()
    assert any(one.startswith("5 V logic rail: failed since it passed as left. ") for one in story.blockers())
    story.do(hand.rework("PWR"))
    assert story.walk().blockers() == ()


def test_a_stale_pass_blocks_and_names_the_rework() -> None:
    story = released()
    story.do(hand.rework("LAMP"))
    assert story.blockers() == ("Telltales, each alone: the pass went stale with rework 1.",)
    assert story.walk().blockers() == ()


def test_a_missing_burn_in_blocks() -> None:
    story = Story(sequences.with_soak()).walk()
    assert story.blockers() == ("Four hours at power: burn-in not done.",)


def test_a_note_that_the_step_asks_for_blocks_until_it_is_there() -> None:
    story = Story(sequences.changed_step(LAMPS, note=True)).walk()
    assert story.blockers() == ("Telltales, each alone: the note it asks for is missing.",)
    story.do(AddNote("t1", "DS2 a little dimmer than DS1", LAMPS))
    assert story.blockers() == ()


def test_a_photo_that_the_step_asks_for_blocks_until_its_path_is_there() -> None:
    story = Story(sequences.changed_step(LAMPS, photo=True)).walk()
    assert story.blockers() == ("Telltales, each alone: the photo it asks for is missing.",)
    story.do(AddNote("t1", "lamps", LAMPS, ("photos/lamps.jpg",)))
    assert story.blockers() == ()


def test_a_witnessed_step_blocks_until_somebody_else_saw_it() -> None:
    story = Story(sequences.with_witness()).walk()
    assert story.blockers() == ("Telltales, each alone: nobody else saw it.",)
    story.start().passes(LAMPS, second="t2").make_safe()
    assert story.blockers() == ()


def test_a_witness_who_tested_is_no_witness() -> None:
    story = Story(sequences.with_witness()).walk()
    story.start().ready(LAMPS)
    (event,) = story.do(hand.passing(story.job, LAMPS))
    assert isinstance(event, happened.AttemptJudged)
    story.happen(replace(event, attempt=event.attempt + 1, second="t1"))
    story.make_safe()
    assert story.blockers() == ("Telltales, each alone: the second person is the one who tested.",)
    story.passes(LAMPS, second="t2").make_safe()
    assert story.blockers() == ()


def test_a_result_under_a_caution_that_nobody_answered_blocks() -> None:
    story = Story().start().passes(GUARD).passes(LAMPS).ready(RAIL)
    (event,) = story.do(hand.passing(story.job, RAIL))
    story.make_safe().start()
    assert isinstance(event, happened.AttemptJudged)
    story.happen(replace(event, attempt=4, run=2))
    assert story.blockers() == ("5 V logic rail: the caution 'fault-current' was not answered in that run.",)
    story.passes(RAIL).make_safe()
    assert story.blockers() == ()


def test_an_instrument_that_was_overdue_at_the_reading_blocks() -> None:
    story = Story().start()
    story.do(hand.reading(GUARD, "300 Ω", instrument="OLD"))
    story.passes(RAIL).passes(LAMPS).make_safe()
    assert story.blockers() == ("5 V rail to 0 V, unpowered: OLD was overdue since 2031-04-01 when it was read.",)
    story.passes(GUARD)
    assert story.blockers() == ()


def test_a_due_date_counts_at_the_time_of_the_reading() -> None:
    story = released()
    story.clock.pass_time(hours=24 * 400)
    assert story.blockers() == ()


def test_a_confirmed_symptom_that_was_not_tried_again_blocks() -> None:
    story = Story().start("as-found")
    story.do(MapComplaint("t1", ("rail-low",), ("warm",)))
    story.passes(GUARD).fails(RAIL).make_safe().do(hand.rework("PWR"))
    assert "Symptom 'Everything dim': 5 V logic rail not tried again since." in story.blockers()
    assert story.walk().blockers() == ()


@pytest.mark.parametrize("shown", ["OL", "5.14 V"])
def test_a_slipped_probe_or_a_doubt_under_the_condition_leaves_the_symptom_open(shown: str) -> None:
    story = Story().start("as-found")
    story.do(MapComplaint("t1", ("rail-low",)))
    story.passes(GUARD).fails(RAIL, under=("warm",)).make_safe().do(hand.rework("PWR"))
    story.start().passes(GUARD).passes(LAMPS).ready(RAIL)
    warm, better = ReadingAnswer((shown,)), ReadingAnswer(("5.000 V",))
    story.do(Attempt("t1", RAIL, warm, again=warm, conditions=("warm",)))
    story.do(Attempt("t1", RAIL, better, instrument="M9"))
    story.make_safe()
    assert story.blockers() == ("Symptom 'Everything dim': 5 V logic rail showed it under warm; not tried so since.",)
    story.ready(RAIL).do(Attempt("t1", RAIL, better, instrument="M9", conditions=("warm",)))
    story.make_safe()
    assert story.blockers() == ()


def test_a_part_of_a_group_left_old_blocks_until_it_is_renewed_or_explained() -> None:
    for answer in (
        LogRework("t1", ("PWR",), ("C2",), "replaced", "same age"),
        LogRework("t1", ("PWR",), (), "inspected", "same age", left_old=(LeftOld("C2", "film, not electrolytic"),)),
    ):
        story = Story()
        story.do(LogRework("t1", ("PWR",), ("C1",), "replaced", "high series resistance"))
        story.walk()
        assert story.blockers() == ("Renewed together: C2 left old without a stated reason.",)
        story.do(answer)
        assert story.walk().blockers() == ()


def test_an_open_incident_blocks_until_it_is_answered() -> None:
    story = released()
    story.do(ReportIncident("t1", ("LAMP",), "probe slipped"))
    story.walk()
    assert story.blockers() == ("Incident 1 is open.",)
    story.do(hand.rework("LAMP", incident=1))
    assert story.walk().blockers() == ()


def test_something_not_put_back_blocks_until_it_is() -> None:
    story = Story(sequences.with_restore()).walk()
    assert story.blockers() == ("Not put back: dummy plug out of J5.",)
    story.do(UndoChange("t1", RAIL, "pulled and put in the drawer"))
    assert story.blockers() == ()


@pytest.mark.parametrize(
    ("tell", "sentence"),
    [
        (lambda story: story.start().power(LAMPS), "Supply battery: told on."),
        (lambda story: (story.start().power(LAMPS), story.restart()), "Supply battery: told unknown."),
        (
            lambda story: story.start().power(LAMPS).do(TellPower("t1", "off")),
            "The unit was not proved dead since it was last powered.",
        ),
    ],
)
def test_power_that_is_not_off_and_proved_dead_blocks_until_made_safe(tell: Tell, sentence: str) -> None:
    story = released()
    tell(story)
    assert story.blockers() == (sentence,)
    assert story.make_safe().blockers() == ()


def test_a_run_on_another_serial_blocks() -> None:
    story = Story()
    (event,) = story.do(hand.start(story.job))
    assert isinstance(event, happened.RunStarted)
    story.happen(happened.RunClosed(1, ""), replace(event, run=2, serial_scanned="7Q22052"))
    story.passes(GUARD).passes(RAIL).passes(LAMPS).make_safe()
    assert story.blockers() == ("Run 2 scanned serial 7Q22052, not this unit's.",)
    assert story.walk_again().blockers() == ()


def test_a_step_that_today_s_file_marks_as_changed_blocks_until_the_job_goes_on_under_it() -> None:
    story = released()
    newer = story.boards.put(sequences.changed_step(LAMPS, changed_in=2).model_copy(update={"revision": 2}))
    story.outside = replace(story.outside, changed_steps=(LAMPS,), todays_digest=newer.digest)
    assert story.blockers() == ("Telltales, each alone: changed in today's sequence file.",)
    story.do(ReviseSequence("t1", newer.text, newer.digest, "lamps changed"))
    story.outside = replace(story.outside, changed_steps=())
    assert story.blockers() == ("Telltales, each alone: the pass went stale with new revision 2.",)
    assert story.walk().blockers() == ()


def test_records_that_are_not_whole_block() -> None:
    story = released()
    story.outside = replace(story.outside, records_faults=("A31-0417.jsonl, line 3: altered.",))
    assert story.blockers() == ("A31-0417.jsonl, line 3: altered.",)


def test_an_event_of_a_later_version_blocks() -> None:
    story = released()
    story.happen(happened.Unrecognised("lamp dimmed", {}))
    assert story.blockers() == ("The journal holds 'lamp dimmed', which this version doesn't know.",)


def test_a_variant_that_was_not_chosen_leaves_its_step_out() -> None:
    assert Story(sequences.with_variant()).walk().blockers() == ()
    chosen = Story(sequences.with_variant(), variants=("beeper",))
    assert "Beeps at power-up: blank as left." in chosen.blockers()


def test_every_blocker_says_what_lifts_it() -> None:
    story = Story(sequences.with_soak()).start("as-found").passes(GUARD).fails(RAIL)
    story.do(ReportIncident("t1", ("LAMP",), "smoke"))
    story.happen(happened.Unrecognised("lamp dimmed", {}))
    for one in story.blocking():
        assert one.sentence.endswith(".")
        assert one.lift.endswith(".")
        assert one.step is None or story.step(one.step)


def test_what_stands_at_the_door_is_kept_in_the_record() -> None:
    story = released()
    (event,) = story.do(SignOff("t1", "7Q22052", second="t1"))
    assert event == happened.SignOffRefused(
        ("The unit in hand reads 7Q22052; this job is for 7Q22051.", "The second person is the signer.")
    )
    assert story.job.ended is None
    (event,) = story.do(SignOff("t1", " *7q22051* ", second="t2"))
    assert isinstance(event, happened.SignedOff)
    assert event.second == "t2"


def test_a_run_left_open_is_closed_by_the_sign_off() -> None:
    story = Story().start().passes(GUARD).passes(RAIL).passes(LAMPS).make_safe()
    events = story.do(SignOff("t1", "7Q22051"))
    assert [type(one) for one in events] == [happened.RunClosed, happened.SignedOff]


def test_the_last_look_comes_after_the_burn_in_and_is_walked_again_when_it_came_before() -> None:
    story = Story(sequences.with_steps(sequences.FINAL_STEP, sequences.SOAK_STEP)).walk()
    assert "Last look: comes after the burn-in." in story.blockers()
    story.start("acceptance").passes("final").start("burn-in").power("soak")
    story.do(soaking.start(story.job))
    story.passes(RAIL)
    for hour in range(1, 5):
        story.clock.pass_time(hours=1)
        story.do(soaking.check(story.job, continuity=soaking.meter_after(story.job, 3600 * hour)))
        story.passes(RAIL)
    story.do(soaking.finish(story.job))
    story.make_safe()
    assert story.blockers() == ("Last look: was walked before the burn-in ended.",)
    assert story.walk().blockers() == ()


def test_a_photo_given_before_the_answer_counts_for_it_and_not_for_the_next_one() -> None:
    story = Story(sequences.changed_step(LAMPS, photo=True)).walk()
    missing = "Telltales, each alone: the photo it asks for is missing."
    assert story.blockers() == (missing,)
    story.start().do(AddNote("t1", "as they were", LAMPS, ("lamps.jpg",)))
    story.passes(LAMPS).make_safe()
    assert story.blockers() == ()
    story.passes(LAMPS).make_safe()
    assert story.blockers() == (missing,)


def test_a_photo_of_before_a_rework_is_none_of_the_try_after_it() -> None:
    story = Story(sequences.changed_step(LAMPS, photo=True)).walk()
    story.do(AddNote("t1", "as they were", LAMPS, ("lamps.jpg",)))
    assert story.blockers() == ()
    story.do(hand.rework("LAMP"))
    story.walk()
    assert story.blockers() == ("Telltales, each alone: the photo it asks for is missing.",)

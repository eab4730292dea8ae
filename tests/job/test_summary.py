"""What does a job wait for, and what does its tag say?"""

from dataclasses import replace

import hand
from story import Story

import sequences
from passcheck.job.commands import CloseRun, SignOff
from passcheck.job.shelf_row import COMPLAINT_SHOWN
from passcheck.job.summary import summarise, waits_for
from sequences import GUARD, LAMPS, RAIL


def test_a_new_unit_waits_for_confirmation() -> None:
    assert waits_for(Story().job) == "confirm"
    assert waits_for(Story().start("as-found").passes(GUARD).job) == "confirm"


def test_a_unit_with_a_confirmed_fault_waits_for_rework() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL).make_safe()
    story.do(CloseRun("t1"))
    assert waits_for(story.job) == "rework"
    story.do(hand.rework("PWR"))
    assert waits_for(story.job) == "accept"


def test_a_unit_that_fails_acceptance_waits_for_rework_again() -> None:
    story = Story().start().passes(GUARD).fails(RAIL)
    assert waits_for(story.job) == "rework"


def test_an_accepted_unit_waits_for_burn_in_where_there_is_one() -> None:
    assert waits_for(Story(sequences.with_soak()).walk().job) == "burn in"


def test_a_unit_whose_every_step_passed_waits_for_its_signature() -> None:
    assert waits_for(Story().walk().job) == "sign"


def test_a_part_walked_acceptance_waits_to_be_gone_on_with() -> None:
    assert waits_for(Story().start().passes(GUARD).passes(LAMPS).job) == "accept"


def test_the_tag_tells_unit_words_and_blockers() -> None:
    story = Story()
    row = summarise(story.job, story.outside, story.now)
    assert (row.job, row.serial, row.sequence, row.revision) == ("A31-0417", "7Q22051", "LB-3", "1")
    assert (row.blockers, row.ended) == (3, None)
    assert row.opened_at == "2031-04-02T08:00:00.000Z"
    assert len(row.complaint) <= COMPLAINT_SHOWN


def test_the_tag_of_a_practice_job_says_that_it_is_one() -> None:
    story = Story()
    job = replace(story.job, facts=replace(story.job.facts, practice=True))
    assert summarise(job, story.outside, story.now).practice
    assert not summarise(story.job, story.outside, story.now).practice


def test_an_ended_job_has_no_blockers_left_to_count() -> None:
    story = Story().walk()
    story.do(SignOff("t1", "7Q22051"))
    row = summarise(story.job, story.outside, story.now)
    assert (row.blockers, row.ended) == (0, "signed off")

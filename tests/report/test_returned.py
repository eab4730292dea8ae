"""Does a unit that leaves without a release carry a paper that nobody can take for one?"""

import re
from dataclasses import replace

import pytest
from fullest_note import sample_job
from paper_source import cells, said, source_of, tables
from story import Story

import sequences
from passcheck.errors import FileFault
from passcheck.job.commands import AgreeOwner, CloseRun, LogRework, OpenCase, ReturnInPart, ReturnUnrepaired
from passcheck.job.fixed_words import LICENSED, NOT_A_RELEASE, REBOUND
from passcheck.job.state import Job
from passcheck.report.document import Cell, Heading, Outcome, Table, Words
from passcheck.report.open_points import AS_LEFT, NONE_FAILED, SINCE
from passcheck.report.owners_part import NONE_AGREED
from passcheck.report.returned import FITTER, returned_in_part, returned_unrepaired
from sequences import GUARD, LAMPS, RAIL

CLAIMS = re.compile(r"\b(released|safe|certified|calibrated|guaranteed|OK)\b", re.IGNORECASE)
UNREPAIRED, AS_IT_CAME, IN_PART = "A31-0004", "A31-0003", "A31-0005"


def outcome_of(job: Job) -> Outcome:
    """The word in large."""
    make = returned_in_part if job.ended == "returned repaired in part" else returned_unrepaired
    return next(part for part in make(job, source_of(job)).parts if isinstance(part, Outcome))


@pytest.mark.parametrize("job_id", [UNREPAIRED, AS_IT_CAME, IN_PART])
def test_the_word_in_large_says_that_it_is_no_release(job_id: str) -> None:
    told = outcome_of(sample_job(job_id))
    assert told.good is False
    assert told.sentence.startswith(NOT_A_RELEASE)


def test_the_two_papers_have_two_titles_and_neither_claims_a_release() -> None:
    bare = returned_unrepaired(sample_job(UNREPAIRED), source_of(sample_job(UNREPAIRED)))
    part = returned_in_part(sample_job(IN_PART), source_of(sample_job(IN_PART)))
    assert (bare.title, part.title) == ("Returned unrepaired", "Returned repaired in part")
    assert (bare.kind, part.kind) == ("returned-unrepaired", "returned-in-part")
    for paper in (bare, part):
        assert not CLAIMS.search(said(paper))


def test_why_it_goes_back_stands_there_word_for_word() -> None:
    job = sample_job(UNREPAIRED)
    assert Words("The board is burnt through under D1.", "quote") in returned_unrepaired(job, source_of(job)).parts


def test_a_unit_that_nobody_touched_says_so_and_what_the_owner_wanted() -> None:
    job = sample_job(AS_IT_CAME)
    shown = said(returned_unrepaired(job, source_of(job)))
    for words in ("Nothing was done to it.", "no opening was noted", "was not tried as it came in"):
        assert words in shown
    assert "nothing is done (Owner, by telephone; noted by t1 (First technician))" in shown


def test_what_was_done_what_is_fitted_and_what_was_left_old_stands_there() -> None:
    story = Story(sequences.with_restore()).start("as-found").passes(GUARD).fails(RAIL)
    story.make_safe().do(CloseRun("t1"))
    story.do(OpenCase("t1", "to see C1"), LogRework("t1", ("PWR",), ("C1",), "replaced", "dried out"))
    story.do(ReturnUnrepaired("t1", "U1 is not to be had."))
    shown = said(returned_unrepaired(story.job, source_of(story.job)))
    assert "Opened\nyes, 2031-04-02 10:00 (UTC+02:00): to see C1" in shown
    assert "rework 1: replaced C1 (PWR). dried out" in shown
    assert "Parts fitted that stay in it\nC1" in shown
    assert "Left old of a group\nC2 (no reason given)" in shown
    assert "Still to be put back\ndummy plug out of J5" in shown


def test_it_says_what_was_proved_dead_and_that_this_says_nothing_of_later() -> None:
    story = Story(sequences.much_energy()).make_safe()
    story.do(ReturnUnrepaired("t1", "The owner wants it back."))
    shown = said(returned_unrepaired(story.job, source_of(story.job)))
    assert re.search(
        r"proved dead 2031-04-02 \d\d:\d\d \(UTC\+02:00\) at TP9 to TP0\. That holds for that moment", shown
    )
    assert REBOUND in shown


def test_what_it_would_need_counts_the_steps_and_points_at_the_blocks() -> None:
    job = sample_job(UNREPAIRED)
    shown = said(returned_unrepaired(job, source_of(job)))
    assert "Steps that would have to pass\n4 (as left now: 4 not walked)" in shown
    assert "Supply (PWR)\nF1 in circuit\n" in shown


def test_what_failed_after_the_work_is_told_apart_from_what_it_came_with() -> None:
    story = Story().start("acceptance").passes(GUARD).fails(RAIL)
    story.make_safe().do(CloseRun("t1"), ReturnUnrepaired("t1", "The board is beyond it."))
    paper = returned_unrepaired(story.job, source_of(story.job))
    assert "What failed since" in said(paper)
    assert cells(tables(paper)[0])[0][0] == "5 V logic rail"


def in_part() -> Story:
    """The rail fails and is reworked; the lamps stay as they are by the owner's choice."""
    story = Story().start("as-found").passes(GUARD).fails(RAIL).fails(LAMPS)
    story.make_safe().do(CloseRun("t1"))
    story.do(AgreeOwner("t2", "lamps stay dark", "Owner, by telephone"))
    story.do(LogRework("t1", ("PWR",), ("C1", "C2"), "replaced", "dried out", repair=True))
    story.start("acceptance").passes(GUARD).passes(RAIL).passes(RAIL).fails(LAMPS)
    story.make_safe().do(CloseRun("t1"), ReturnInPart("t1", "Owner, 2 April: the lamps stay."))
    return story


def test_each_open_point_is_listed_with_what_was_seen_of_it() -> None:
    job = in_part().job
    rows = cells(tables(returned_in_part(job, source_of(job)))[0])
    assert [row[0] for row in rows] == [*open_titles(job)]
    lamps = next(row for row in rows if row[0] == "Telltales, each alone")
    assert lamps[1].startswith("FAIL: ")


def open_titles(job: Job) -> tuple[str, ...]:
    """The points of the record."""
    assert job.left is not None
    return getattr(job.left, "points", ())


def test_the_owners_agreement_stands_with_their_words_and_who_took_them() -> None:
    job = in_part().job
    paper = returned_in_part(job, source_of(job))
    assert Words("Owner, 2 April: the lamps stay.", "quote") in paper.parts
    assert "lamps stay dark (Owner, by telephone; noted by t2 (Second technician))" in said(paper)
    alone = sample_job(IN_PART)
    assert NONE_AGREED not in said(returned_in_part(alone, source_of(alone)))


def test_what_was_repaired_and_what_was_shown_after_it_is_said() -> None:
    shown = said(returned_in_part(in_part().job, source_of(in_part().job)))
    assert "rework 1, a repair, not as drawn: replaced C1, C2 (PWR). dried out" in shown
    assert "2 steps passed as left." in shown


def test_whoever_fits_it_is_told_that_the_points_are_theirs_to_weigh() -> None:
    job = in_part().job
    assert Words(FITTER, "notice") in returned_in_part(job, source_of(job)).parts
    assert LICENSED not in said(returned_in_part(job, source_of(job)))


def test_what_passed_and_was_not_tried_again_since_the_work_is_a_list_in_few_words() -> None:
    story = Story().start("as-found").passes(GUARD).passes(RAIL).fails(LAMPS)
    story.make_safe().do(CloseRun("t1"))
    story.do(LogRework("t1", ("PWR",), ("C1", "C2"), "replaced", "dried out"))
    story.do(AgreeOwner("t1", "no more", "Owner"), ReturnInPart("t1", "The lamps stay."))
    parts = returned_in_part(story.job, source_of(story.job)).parts
    at = parts.index(Heading(f"{SINCE} rework 1 (2 steps)", 2))
    (lamps,) = cells(tables(returned_in_part(story.job, source_of(story.job)))[0])
    assert lamps[0] == "Telltales, each alone"
    table = parts[at + 1]
    assert isinstance(table, Table)
    assert cells(table) == [
        ["5 V rail to 0 V, unpowered", "PASS 50.1 kΩ", "at least 150 Ω"],
        ["5 V logic rail", "PASS 5.00 V", "4.85 V .. 5.15 V"],
    ]
    assert not any(isinstance(cell, Cell) for row in table.rows for cell in row)


def test_what_passed_as_found_only_is_told_apart_from_what_a_work_made_worthless() -> None:
    story = Story().start("as-found").passes(GUARD).passes(RAIL)
    story.make_safe().do(CloseRun("t1"))
    story.do(AgreeOwner("t1", "no more", "Owner"), ReturnInPart("t1", "As it is."))
    shown = said(returned_in_part(story.job, source_of(story.job)))
    assert f"{NONE_FAILED}\n{AS_LEFT} (2 steps)" in shown
    assert "Not walked at all (1 step)\nTelltales, each alone." in shown
    assert SINCE not in shown


def test_a_point_that_passed_and_does_not_count_says_why() -> None:
    job = sample_job(IN_PART)
    rows = cells(tables(returned_in_part(job, source_of(job)))[0])
    assert "It failed 1 of 2 times before, and no cause was shown" in rows[0][1]


def test_a_point_that_the_sequence_has_no_more_is_still_listed() -> None:
    job = sample_job(IN_PART)
    gone = replace(job, sequence=job.sequence.model_copy(update={"steps": job.sequence.steps[1:]}), attempts=())
    rows = cells(tables(returned_in_part(gone, source_of(gone)))[0])
    assert rows[0][:2] == ["As it came in", "no step of this title is in the sequence now"]
    assert "Not walked at all (1 step)\nFinal look." in said(returned_in_part(gone, source_of(gone)))


@pytest.mark.parametrize("number", [1, 2, 6, 7])
def test_a_unit_that_did_not_leave_so_gets_neither_paper(number: int) -> None:
    job = sample_job(f"A31-{number:04d}")
    with pytest.raises(FileFault, match="no paper of a return unrepaired"):
        returned_unrepaired(job, source_of(job))
    with pytest.raises(FileFault, match="no paper of a return in part"):
        returned_in_part(job, source_of(job))

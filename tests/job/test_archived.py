"""Do a job's rows say of it what its card, its table and its confirmed repairs say?"""

import os

import pytest
from any_order import AnyOrder
from hypothesis import HealthCheck
from hypothesis import settings as run_with
from sample_set import logs_of, rig_of, sample_set, sets
from story import Story

import sequences
from passcheck.job.answers import MarksAnswer, SweepAnswer, TableAnswer
from passcheck.job.archive_rows import AttemptRow, JobRows
from passcheck.job.archived import archived
from passcheck.job.archived_attempts import margin
from passcheck.job.before_after import before_after
from passcheck.job.commands import (
    AddNote,
    AgreeOwner,
    CloseRun,
    Command,
    Jot,
    LogRework,
    OpenCase,
    Propose,
    ReportIncident,
    ReturnUnrepaired,
    SignOff,
    VoidAttempt,
)
from passcheck.job.confirmed import confirmed_by
from passcheck.job.replay import recorded
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import withdrawn
from passcheck.job.state import Attempt, Job
from passcheck.job.traveller import figure
from sequences import GUARD, LAMPS, RAIL

EXAMPLES = int(os.environ.get("PASSCHECK_EXAMPLES", "60"))
SAMPLES = [(name, job) for name in sets() for job in sample_set(name).about]
SEVERAL = (MarksAnswer, SweepAnswer, TableAnswer)
DIGEST = "5f3a9c01" * 8


def rows_of(story: Story) -> JobRows:
    return archived(story.job, story.history, DIGEST)


def then(story: Story, *commands: Command) -> Story:
    story.do(*commands)
    return story


def attempts(story: Story, step: str) -> list[AttemptRow]:
    return [row for row in rows_of(story).attempts if row.step == step]


def agrees(job: Job, rows: JobRows) -> None:
    """What the rows say, asked attempt by attempt and step by step of those who know."""
    own = [one for one in job.attempts if one.purpose != "good-unit"]
    assert [row.number for row in rows.attempts] == [one.number for one in own]
    for row, one in zip(rows.attempts, own, strict=True):
        assert (row.struck_by, row.figure) == (struck_by(job, one), figure(one.judgement))
        assert (row.purpose, row.by, row.verdict, row.sentence) == (
            one.purpose, one.by, one.judgement.verdict, one.judgement.sentence,
        )  # fmt: skip
    for step in job.sequence.steps:
        told = before_after(job, step)
        made = [row for row in rows.attempts if row.step == step.id]
        assert [row.number for row in made if row.as_found] == numbers(told.as_found)
        assert [row.number for row in made if row.as_left] == numbers(told.as_left)
    blocks = {repair.block for repair in confirmed_by(job).repairs}
    assert {row.block for row in rows.touched if row.confirmed} == blocks & {row.block for row in rows.touched}
    assert all((row.confirmed is None) == (rows.job.ended != "signed off" or rows.job.practice) for row in rows.touched)
    assert [row.place for row in rows.said] == list(range(len(rows.said)))
    assert len({(row.line, row.block) for row in rows.touched}) == len(rows.touched)
    assert len({(row.rework, row.part) for row in rows.parts}) == len(rows.parts)


def struck_by(job: Job, attempt: Attempt) -> str:
    change = stale_by(job, attempt)
    return "void" if withdrawn(attempt) else call(change) if change is not None else ""


def numbers(attempt: Attempt | None) -> list[int]:
    return [] if attempt is None else [attempt.number]


class ArchivedInAnyOrder(AnyOrder):
    """Whatever was asked of a unit, its rows agree with its card."""

    def teardown(self) -> None:
        agrees(self.story.job, rows_of(self.story))


TestArchivedInAnyOrder = ArchivedInAnyOrder.TestCase
TestArchivedInAnyOrder.settings = run_with(
    max_examples=EXAMPLES, stateful_step_count=40, deadline=None, suppress_health_check=list(HealthCheck)
)


@pytest.mark.parametrize(("name", "job_id"), SAMPLES, ids=[f"{name}-{job}" for name, job in SAMPLES])
def test_the_rows_of_an_old_journal_agree_with_its_card(name: str, job_id: str) -> None:
    folder = sample_set(name).folder
    job = rig_of(folder, job_id).shop.look(job_id)
    rows = archived(job, tuple(recorded(logs_of(folder, job_id).read_job(job_id))), DIGEST)
    agrees(job, rows)
    assert (rows.job.job, rows.job.serial, rows.job.practice) == (job_id, job.serial, job_id.startswith("P"))
    assert (rows.job.ended, rows.job.digest) == (job.ended or "", DIGEST)
    for row, one in zip(rows.attempts, (one for one in job.attempts if one.purpose != "good-unit"), strict=True):
        assert row.value is None or not isinstance(one.answer, SEVERAL)


def test_a_repair_is_a_row_a_block_and_the_block_that_was_the_fault_says_what_had_shown_it() -> None:
    story = then(Story().start("as-found").passes(GUARD).fails(RAIL).passes(LAMPS).make_safe(), CloseRun("t1"))
    then(story, LogRework("t1", ("PWR", "LAMP", "PWR"), ("F1", "F1"), "replaced", "F1 is open", part_number="1 A"))
    then(story.walk(), SignOff("t1", story.job.serial))
    rows = rows_of(story)
    told = [(row.kind, row.block, row.action, row.reason, row.confirmed, row.shown_by) for row in rows.touched]
    assert told == [
        ("rework", "PWR", "replaced", "F1 is open", 1, RAIL),
        ("rework", "LAMP", "replaced", "F1 is open", 0, ""),
    ]
    assert [(row.part, row.part_number, row.rework) for row in rows.parts] == [("F1", "1 A", 1)]
    assert (rows.job.ended, rows.job.ended_by, rows.job.first_try) == ("signed off", "t1", 1)
    assert rows.job.ended_at == rows.job.last_at == story.now.utc.strftime("%Y-%m-%dT%H:%M:%SZ")


def test_an_incident_and_an_opened_case_are_work_and_nothing_is_confirmed_while_the_job_is_open() -> None:
    story = Story().start("as-found").passes(GUARD)
    then(story, ReportIncident("t1", ("PWR",), "probe slipped")).make_safe().do(OpenCase("t1", "to see D1"))
    told = [(row.kind, row.number, row.block, row.action, row.reason, row.confirmed) for row in rows_of(story).touched]
    assert told == [
        ("incident", 1, "PWR", "", "probe slipped", None),
        ("case opened", 1, "", "", "to see D1", None),
    ]


def test_what_went_wrong_and_loose_readings_are_found_by_their_words_too() -> None:
    story = then(Story().start("as-found").passes(GUARD), Jot("t1", "C7 top", "0.9 V", "M1"))
    then(story, ReportIncident("t1", ("PWR",), "probe slipped")).make_safe()
    then(story, OpenCase("t1", "to see D1"), ReturnUnrepaired("t1", "not worth it"))
    assert [(row.kind, row.text) for row in rows_of(story).said][2:] == [
        ("jot", "C7 top 0.9 V M1"),
        ("incident", "probe slipped"),
        ("case opened", "to see D1"),
        ("returned", "not worth it"),
    ]


def test_what_people_wrote_is_kept_in_the_order_in_which_they_wrote_it() -> None:
    story = then(Story(), AddNote("t2", "läuft aus")).start("as-found").passes(GUARD, note="lead was loose")
    story.do(VoidAttempt("t1", 1, "wrong meter"), AgreeOwner("t1", "the lens stays cracked", "Owner"))
    told = [(row.kind, row.by, row.step, row.text) for row in rows_of(story).said]
    assert told[2:] == [
        ("note", "t2", "", "läuft aus"),
        ("note", "t1", GUARD, "lead was loose"),
        ("void", "t1", GUARD, "wrong meter"),
        ("agreed", "t1", "", "the lens stays cracked (Owner)"),
    ]
    assert [kind for kind, *_ in told[:2]] == ["complaint", "condition"]


def test_each_line_of_a_proposal_is_a_text_of_its_own_and_an_earlier_proposal_stays() -> None:
    story = then(Story(), Propose("t1", ("renew C1 and C2", "polish the lens")), Propose("t2", ("renew C1",)))
    told = [(row.kind, row.by, row.step, row.text) for row in rows_of(story).said]
    assert told[2:] == [
        ("proposed", "t1", "", "renew C1 and C2"),
        ("proposed", "t1", "", "polish the lens"),
        ("proposed", "t2", "", "renew C1"),
    ]


def test_a_first_acceptance_run_with_a_second_try_did_not_pass_at_once() -> None:
    story = Story().start("acceptance").passes(GUARD)
    assert rows_of(story).job.first_try is None
    story.fails(RAIL).passes(RAIL).make_safe().do(CloseRun("t1"))
    assert rows_of(story).job.first_try == 0
    assert rows_of(then(Story().start("acceptance"), CloseRun("t1"))).job.first_try is None


def test_a_try_takes_the_time_since_the_line_before_it_in_its_run_but_not_an_absence() -> None:
    story = Story().start("as-found")
    story.clock.pass_time(minutes=2)
    then(story, AddNote("t1", "a note belongs to no run")).clock.pass_time(minutes=3)
    story.passes(GUARD).clock.pass_time(minutes=16)
    story.passes(GUARD).clock.pass_time(minutes=1)
    story.passes(GUARD)
    assert [row.seconds for row in attempts(story, GUARD)] == [300, None, 60]


def test_a_machine_that_was_started_anew_leaves_no_time_to_tell() -> None:
    story = Story().start("as-found")
    story.clock.reboot(minutes=3)
    assert [row.seconds for row in attempts(story.passes(GUARD), GUARD)] == [None]


def test_a_good_unit_s_tries_are_another_unit_s() -> None:
    story = then(Story().start("good-unit").passes(GUARD), CloseRun("t1"))
    assert rows_of(story).attempts == ()


def test_a_job_that_was_given_back_is_ended_and_confirms_nothing() -> None:
    story = then(Story(), ReturnUnrepaired("t1", "burnt through"))
    assert (rows_of(story).job.ended, rows_of(story).touched) == ("returned unrepaired", ())


@pytest.mark.parametrize(
    ("value", "low", "high", "told"),
    [
        (5.0, 4.85, 5.15, 1.0),
        (5.09, 4.85, 5.15, 0.4),
        (5.30, 4.85, 5.15, -1.0),
        (0.024, None, 0.060, 0.6),
        (0.142, None, 0.060, -1.36667),
        (300.0, 150.0, None, 1.0),
        (-0.2, None, -0.1, 1.0),
        (0.3, None, 0.0, None),
        (5.0, 5.0, 5.0, None),
        (1.0, None, None, None),
        (None, 1.0, 2.0, None),
    ],
)
def test_a_margin_is_a_share_of_what_there_is_to_be_inside_of(
    value: float | None, low: float | None, high: float | None, told: float | None
) -> None:
    assert margin(value, low, high) == told


def test_the_numbers_of_a_reading_are_those_of_its_judgement() -> None:
    story = Story(sequences.sequence()).start("as-found").passes(GUARD).reads(RAIL, "5.01 V")
    (row,) = attempts(story, RAIL)
    assert (row.value, row.unit, row.figure, row.instrument, row.late) == (5.01, "V", "5.01 V", "M1", 0)
    assert row.u is not None
    assert (row.low is None, row.high is None) == (False, False)

"""Is a history that is folded in one go the job that its events make one by one?"""

from dataclasses import fields, replace
from functools import reduce

import pytest
from every_kind import EVERY_KIND
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.strategies import from_type
from story import Story

import sequences
from passcheck.errors import FileFault
from passcheck.job import events as happened
from passcheck.job.events import Event
from passcheck.job.fold import evolve, fold, opened
from passcheck.job.history import changed, finished, grown, under_way
from passcheck.job.state import Job, Recorded
from sequences import GUARD, RAIL

ANYTHING: st.SearchStrategy[Event] = st.sampled_from(
    [
        happened.NoteAdded,
        happened.Jotted,
        happened.WorkProposed,
        happened.PowerTold,
        happened.Energised,
        happened.MadeSafe,
        happened.SupplyRead,
        happened.AttemptVoided,
        happened.RunStarted,
        happened.RunClosed,
        happened.TimingBegun,
        happened.TimingInterrupted,
        happened.IncidentReported,
        happened.ReworkLogged,
        happened.ChangeUndone,
        happened.SoakStarted,
        happened.SoakChecked,
        happened.SoakInterrupted,
        happened.HandedOver,
        happened.Resumed,
        happened.Mended,
        happened.SignedOff,
    ]
).flatmap(from_type)


def one_by_one(story: Story, history: list[Recorded]) -> Job:
    read = story.boards.read
    return reduce(lambda job, one: evolve(job, one, read), history[1:], opened(history[0], read))


def lists_in(job: Job) -> list[str]:
    legs = [held for leg in job.soaks for held in (leg.looks, leg.cycled)]
    members = [getattr(job, each.name) for each in fields(job)]
    return [repr(held) for held in (*members, *legs) if isinstance(held, list)]


@given(st.lists(ANYTHING, max_size=30), st.integers(0, 2))
def test_whatever_happens_the_whole_history_gives_what_its_events_give(events: list[Event], hours: int) -> None:
    story = Story(sequences.with_soak()).start().passes(GUARD).passes(RAIL)
    history = list(story.history)
    for event in events:
        story.clock.pass_time(hours=hours / 3)  # the longest of them is an absence
        history.append(Recorded(len(history), story.now, "t1", event))
    assert fold(history, story.boards.read) == one_by_one(story, history)


def test_a_folded_job_is_frozen_like_any_other() -> None:
    story = Story(EVERY_KIND).make_safe().walk()
    look = happened.SoakChecked("soak", story.job.serial, "24.0 V", "0.16 A", "4.0 h", good=True)
    story.happen(happened.SoakStarted("soak", "battery", "24.0 V", "0.16 A"), look, look)
    story.happen(happened.PowerTold("cycled", ("battery",), ""), happened.NoteAdded("x"), happened.NoteAdded("y"))
    job = story.replayed()
    assert type(job) is Job
    assert job == story.job
    assert lists_in(job) == []
    assert all(isinstance(held, tuple) for held in (job.notes, job.attempts, job.power, job.soaks[0].looks))


def test_what_is_added_to_a_job_under_way_reaches_nobody_else() -> None:
    job = Story().start().passes(GUARD).job
    before = replace(job)
    going = under_way(job)
    assert changed(going, holder="t2", power=grown(going, going.power, *going.power)) is going
    assert (job, finished(going).holder) == (before, "t2")
    assert len(finished(going).power) == 2 * len(job.power)


def test_a_job_that_others_hold_is_never_written_into() -> None:
    job = Story().start().job
    after = changed(job, runs=grown(job, job.runs, *job.runs))
    assert (len(job.runs), len(after.runs)) == (1, 2)


def test_a_history_that_breaks_off_in_a_fault_leaves_the_events_as_they_were() -> None:
    story = Story().start()
    with pytest.raises(FileFault):
        fold([*story.history, replace(story.history[0], number=2)], story.boards.read)
    assert story.replayed() == story.job

"""Is an ending borne out by the events before it, exactly where the gate would have let the unit go?"""

from dataclasses import replace
from datetime import date

import pytest
from bench_work import BenchWork
from finishing import Finisher
from hypothesis import HealthCheck
from hypothesis import settings as run_with
from rig import SERIAL, settings
from story import Story

from passcheck.job.commands import ReturnInPart, ReturnUnrepaired, SignOff
from passcheck.job.decide_ending import MEANING
from passcheck.job.deserved import against_ending
from passcheck.job.events import Event, NoteAdded, ReturnedInPart, ReturnedUnrepaired, SignedOff
from passcheck.job.fold import fold
from passcheck.job.settings import BenchSettings
from passcheck.job.soak import soak_steps
from sequences import GUARD, LAMPS, RAIL


def against(story: Story) -> tuple[str, ...]:
    """What stood against the last event of a story, as the events before it have it."""
    job = fold(story.history[:-1], story.boards.read)
    return tuple(one.sentence for one in against_ending(job, story.history[-1]))


def past_the_gate(story: Story, event: Event) -> tuple[str, ...]:
    """The same, after an event that nobody decided."""
    other = story.twin()
    other.happen(event)
    return against(other)


def failed() -> Story:
    """Found with a bad rail, made safe and put aside."""
    return Story().start().passes(GUARD).fails(RAIL).make_safe()


def test_what_the_bench_granted_stands() -> None:
    for story, ends in (
        (Story().walk(), SignOff("t1", SERIAL)),
        (Story().walk(), SignOff("t1", SERIAL, second="t2")),
        (failed(), ReturnUnrepaired("t1", "no part to be had")),
        (failed(), ReturnInPart("t1", "the owner, by telephone")),
    ):
        story.do(ends)
        assert story.job.ended is not None
        assert against(story) == ()


def test_a_sign_off_that_somebody_wrote_has_all_against_it_that_the_gate_had() -> None:
    story = failed()
    found = past_the_gate(story, SignedOff(SERIAL, MEANING))
    assert found == story.blockers()
    assert any(one.startswith("5 V logic rail: fails.") for one in found)


def test_the_door_is_asked_as_well_who_holds_which_unit_and_who_stands_beside() -> None:
    story = Story().walk()
    assert past_the_gate(story, SignedOff("7Q22052", MEANING)) == (
        f"The unit in hand reads 7Q22052; this job is for {SERIAL}.",
    )
    assert past_the_gate(story, SignedOff(SERIAL, MEANING, "t1")) == ("The second person is the signer.",)


def test_a_unit_goes_back_unrepaired_off_and_proved_dead_and_for_a_reason() -> None:
    safe, powered = failed(), Story().start().passes(GUARD).power(RAIL)
    back = ReturnedUnrepaired("no part to be had")
    assert past_the_gate(safe, back) == ()
    assert past_the_gate(powered, back) == ("Supply battery: told on.",)
    assert past_the_gate(safe, ReturnedUnrepaired("  ")) == ("Say why the unit goes back unrepaired.",)
    powered.clock.pass_time(minutes=20)
    assert past_the_gate(powered, back) == ("Supply battery: told unknown.",)


def test_a_unit_goes_back_in_part_with_every_open_point_agreed() -> None:
    story = failed()
    story_points = tuple(step.title for step in story.job.sequence.steps if step.id in (RAIL, LAMPS))
    assert past_the_gate(story, ReturnedInPart(story_points, "the owner")) == ()
    assert past_the_gate(story, ReturnedInPart(story_points[1:], "the owner")) == (
        "5 V logic rail: doesn't pass, and is not among the points that the owner agreed to.",
    )
    assert past_the_gate(story, ReturnedInPart(story_points, " ")) == ("The owner's agreement is missing.",)
    assert past_the_gate(Story().walk(), ReturnedInPart((), "the owner")) == ("Every step passes.",)


@pytest.mark.parametrize(
    "since",
    [
        settings(people={}),
        settings(instruments={}),
        settings().model_copy(update={"pin_hashes": {"t1": "set since"}}),
        settings(
            instruments={
                "M1": {
                    "title": "Hand multimeter",
                    "due": date(2031, 12, 1),
                    "doubtful_since": date(2031, 1, 1),
                    "fills": {"voltmeter": "0.5 % + 3 digits", "ohmmeter": "0.8 % + 3 digits"},
                }
            }
        ),
    ],
    ids=["nobody works here any more", "every instrument was sold", "a PIN was set", "the meter is doubtful"],
)
def test_what_the_bench_became_since_takes_nothing_from_an_old_job(since: BenchSettings) -> None:
    story = Story().walk()
    story.do(SignOff("t1", SERIAL))
    story.with_settings(since)
    story.outside = replace(story.outside, changed_steps=(RAIL,), records_faults=("a ledger was lost",))
    assert against(story) == ()


def test_a_meter_that_was_overdue_on_the_day_stands_against_it() -> None:
    story = Story().walk().start().reads(GUARD, "4.7 kΩ", instrument="OLD").make_safe()
    (found,) = past_the_gate(story, SignedOff(SERIAL, MEANING))
    assert found.endswith("OLD was overdue since 2031-04-01 when it was read.")


def test_a_line_that_ends_nothing_has_nothing_against_it() -> None:
    story = Story()
    story.happen(NoteAdded("came without its knob"))
    assert against(story) == ()


class WorkEnded(BenchWork):
    """A week of work in no sensible order; a seal that is written then, and one that was deserved in the end."""

    def teardown(self) -> None:
        if not hasattr(self, "story"):
            return
        story = self.story
        if story.job.ended is None:
            now = past_the_gate(story, SignedOff(story.job.serial, MEANING))
            assert now == story.blockers()
            finisher = Finisher(story)
            finisher.puts_in_order()
            finisher.accepts()
            if soak_steps(story.job):
                finisher.soaks()
            story.do(SignOff("k9", story.job.serial))
        assert story.job.ended is not None
        assert against(story) == ()


TestWorkEnded = WorkEnded.TestCase
TestWorkEnded.settings = run_with(
    max_examples=20, stateful_step_count=6, deadline=None, suppress_health_check=list(HealthCheck)
)

"""From wherever a unit was left, does walking what the plan says lift all that walking can lift?

Random histories (`any_order.py`, `bench_work.py`, `on_soak.py`) are lived; then a patient technician (`finishing.py`)
takes over.
"""

import os

import hand
import soaking
from any_order import AnyOrder
from bench_work import PAPERS, BenchWork
from finishing import Finisher
from hypothesis import HealthCheck
from hypothesis import settings as run_with
from on_soak import OnSoak
from story import Story
from watched import Watched

from passcheck.job.commands import CallMakeSafe, MapComplaint, ReportIncident, SignOff
from passcheck.job.soak import soak_steps
from sequences import GUARD, LAMPS, RAIL

EXAMPLES = int(os.environ.get("PASSCHECK_EXAMPLES", "60"))


def finish(machine: Watched) -> Story:
    """The technician takes over; the watcher goes on watching."""
    story = machine.story
    seen = len(story.history)
    finisher = Finisher(story)
    finisher.puts_in_order()
    finisher.accepts()
    assert finisher.walking() == []
    if soak_steps(story.job):
        finisher.soaks()
    assert finisher.of_steps() == []
    machine.watch(seen)
    return story


def signs_off(machine: Watched) -> None:
    """Where every line is understood nothing stands against the door any more, and the watcher agrees."""
    story = finish(machine)
    assert (story.blockers() == ()) == (not story.job.unrecognised)
    seen = len(story.history)
    story.do(SignOff("k9", story.job.serial))
    machine.watch(seen)
    assert (story.job.ended == "signed off") == (not story.job.unrecognised)


def test_a_unit_that_shows_its_fault_in_every_way_at_once_is_walked_to_the_door() -> None:
    """Came and went when warm, failed again as left, smoked, and failed under soak: all of it is lifted by walking."""
    story = Story(PAPERS).make_safe()
    story.do(MapComplaint("k9", ("rail-low",)))
    story.start("as-found", "k9").passes("arrival", "k9").passes(GUARD, "k9")
    story.fails(RAIL, "k9", under=("warm",)).passes(RAIL, "k9", under=("warm",)).passes(RAIL, "k9")
    story.make_safe("k9").do(hand.rework("PWR", by="k9"))
    story.start("acceptance", "k9").passes(GUARD, "k9").fails(LAMPS, "k9").passes(LAMPS, "k9", second="t1")
    story.do(ReportIncident("k9", ("LAMP",), "smoke"))
    story.do(CallMakeSafe("k9"), hand.proved_dead(story.job, "k9", shorting_lead=True))
    finisher = Finisher(story)
    finisher.puts_in_order()
    finisher.accepts()
    story.start("burn-in", "k9", "t1").power("soak", "k9").do(soaking.start(story.job, "k9"))
    story.fails(RAIL, "k9")
    finisher.puts_in_order()
    assert {one.step for one in finisher.walking()} == {GUARD, RAIL, LAMPS}, "the last look waits for the soak"
    finisher.accepts()
    finisher.soaks()
    assert story.blockers() == ()
    warm = [one for one in story.job.attempts if one.step == RAIL and one.purpose == "acceptance" and one.conditions]
    assert len(warm) >= 5, "a fault that came and went 1 of 2 is hidden for five clean passes"


class AnyOrderFinished(AnyOrder):
    """Anything at all, and then a patient technician."""

    def teardown(self) -> None:
        if hasattr(self, "story") and self.story.job.ended is None:
            signs_off(self)


class BenchWorkFinished(BenchWork):
    """A week of work in no sensible order, and then a patient technician."""

    def teardown(self) -> None:
        if hasattr(self, "story") and self.story.job.ended is None:
            signs_off(self)


class OnSoakFinished(OnSoak):
    """Soaks of every sort, and then a patient technician."""

    def teardown(self) -> None:
        if hasattr(self, "story") and self.story.job.ended is None:
            signs_off(self)


TestAnyOrderFinished = AnyOrderFinished.TestCase
TestAnyOrderFinished.settings = run_with(
    max_examples=EXAMPLES, stateful_step_count=30, deadline=None, suppress_health_check=list(HealthCheck)
)
TestBenchWorkFinished = BenchWorkFinished.TestCase
TestBenchWorkFinished.settings = run_with(
    max_examples=2 * EXAMPLES, stateful_step_count=8, deadline=None, suppress_health_check=list(HealthCheck)
)
TestOnSoakFinished = OnSoakFinished.TestCase
TestOnSoakFinished.settings = run_with(
    max_examples=EXAMPLES, stateful_step_count=12, deadline=None, suppress_health_check=list(HealthCheck)
)

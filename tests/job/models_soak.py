"""The small model of a soak: two hours at power with a look every hour, and all that can come between.

A look comes in time, late, too late, with nothing to show continuity, or on the wrong unit; its step passes or fails;
the soak is broken off, the unit made safe, the program killed, the unit reworked, a pass withdrawn. Bounded by two
things only: a look is taken when the one before was walked, and a step fails when no fail of it stands.
"""

from collections.abc import Callable, Mapping

import hand
import soaking
from story import Story
from walk import Act, State, crash, story_act, told_by

import sequences
from passcheck.job.commands import AddNote, BreakSoak, CheckSoak, Command, SignOff, VoidAttempt
from passcheck.job.plan import plan
from passcheck.job.soak import soak_now
from passcheck.job.standing import standing_attempts
from passcheck.job.state import Job
from sequences import RAIL

BOARD = sequences.sequence(
    cautions={"fault-current": {**sequences.FAULT_CURRENT, "signal": "NOTICE", "confirm": []}},
    steps=[*sequences.BASE["steps"], {**sequences.SOAK_STEP, "hours": "2 h"}],
)


def _wanted(job: Job) -> tuple[str, ...]:
    return soak_now(job, soaking.soak_of(job)).still_to_pass


def _accept(story: Story) -> None:
    """All that the plan of acceptance asks for, with a note where a pass has to be explained."""
    assert story.job.open_soak is None
    assert plan(story.job, "acceptance")
    story.make_safe().walk()
    story.do(AddNote("t1", "the clip had slipped off", RAIL))


def _burn_in(story: Story) -> None:
    assert story.job.open_run is None or story.job.open_run.purpose != "burn-in"
    story.start("burn-in")


def _begin(story: Story) -> None:
    story.ready("soak").do(soaking.start(story.job, witness="the relay is in"))


def _look(minutes: float, make: Callable[[Job], Command]) -> Act:
    """So many minutes later the unit is looked at."""

    def tell(story: Story) -> None:
        assert story.job.open_soak is not None
        assert not _wanted(story.job)
        story.clock.pass_time(minutes=minutes)
        story.do(make(story.job))

    return story_act(tell)


def _wrong_unit(job: Job) -> Command:
    wrong = soaking.seen(job, "the relay is in", serial="7Q22052")
    return CheckSoak("t1", "soak", wrong, again=wrong)


def _rail_fails_as_left(state: State) -> State | None:
    """Once everything was accepted: a fail stands beside passes that stand."""
    job = state.story.job
    run = job.open_run
    stands = standing_attempts(job, job.sequence.step(RAIL))
    if run is None or run.purpose != "acceptance" or any(one.judgement.verdict == "fail" for one in stands):
        return None
    return story_act(lambda story: story.fails(RAIL))(state)


def _rail(*, fails: bool) -> Act:
    def act(state: State) -> State | None:
        job = state.story.job
        stands = standing_attempts(job, job.sequence.step(RAIL))
        if job.open_soak is None or (fails and any(one.judgement.verdict == "fail" for one in stands)):
            return None
        return story_act(lambda story: (story.fails if fails else story.passes)(RAIL))(state)

    return act


def _voids_a_look(*, cause: bool) -> Act:
    """The last try of a burn-in is withdrawn, once."""

    def act(state: State) -> State | None:
        job = state.story.job
        made = [one for one in job.attempts if one.purpose == "burn-in" and one.step == RAIL]
        if not made or made[-1].void is not None:
            return None
        shown = ("the lead", "read again with another lead") if cause else (None, None)
        return told_by(lambda _job: VoidAttempt("t1", made[-1].number, "slip", *shown))(state)

    return act


def _rework(story: Story) -> None:
    assert story.job.open_run is not None
    story.do(hand.rework("LAMP"))


ON_SOAK: Mapping[str, Act] = {
    "accept": story_act(_accept),
    "start burn-in": story_act(_burn_in),
    "begin the soak": story_act(_begin),
    "look in time": _look(60, lambda job: soaking.check(job, continuity="the relay is in")),
    "look late": _look(100, lambda job: soaking.check(job, continuity="the relay is in")),
    "look far too late": _look(130, lambda job: soaking.check(job, continuity="the relay is in")),
    "look with nothing to show continuity": _look(60, lambda job: soaking.check(job, continuity=None)),
    "look at another unit": _look(60, _wrong_unit),
    "rail passes at the look": _rail(fails=False),
    "rail fails at the look": _rail(fails=True),
    "rail fails as left": _rail_fails_as_left,
    "void the look": _voids_a_look(cause=False),
    "void the look with its cause": _voids_a_look(cause=True),
    "break it off": told_by(lambda _job: BreakSoak("t1", "soak", "the bench is needed")),
    "finish": told_by(soaking.finish),
    "start acceptance": story_act(lambda story: story.start()),
    "make safe": story_act(lambda story: story.make_safe()),
    "rework on the lamps": story_act(_rework),
    "crash": crash,
    "sign off": told_by(lambda job: SignOff("t1", job.serial)),
}

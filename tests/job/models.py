"""The small models that are walked to the end: a board, what may be done with it, and how little is kept apart.

Every model has three steps, two of them powered. `POWER` says every single thing that can be said of supplies, cautions
and absences, and everything passes. `VERDICTS` lets a step fail and takes power for granted. `AS_FOUND` confirms the
complaint first, so that fails of one purpose meet passes of another. In `UNDER_CONDITIONS` it shows only when warm.
The soak has a model of its own in `models_soak.py`.
"""

from collections.abc import Mapping

import hand
from story import Story
from walk import Act, State, crash, long_wait, story_act, told_by

import sequences
from passcheck.job.answers import ReadingAnswer
from passcheck.job.commands import (
    Acknowledge,
    AddNote,
    CallMakeSafe,
    CloseRun,
    MapComplaint,
    ReadSupply,
    ReturnUnrepaired,
    SignOff,
    TellPower,
    VoidAttempt,
)
from passcheck.job.commands import Attempt as Try
from passcheck.job.standing import passes_standing, standing_attempts
from passcheck.job.state import Attempt, Job
from sequences import GUARD, LAMPS, RAIL

ONE_FACT = {"ask": "Current limit on the display", "limits": "0.30 A ± 5 %"}
CAUTIONS = {"fault-current": {**sequences.FAULT_CURRENT, "confirm": ONE_FACT}}
WARM = ("warm",)
BOARD = sequences.sequence(cautions=CAUTIONS)
CHARGED_BOARD = sequences.sequence(cautions=CAUTIONS, stored_energy=[sequences.MUCH_ENERGY])


def _tries(job: Job, step: str) -> list[Attempt]:
    standing = standing_attempts(job, job.sequence.step(step))
    return [one for one in standing if one.judgement.verdict in ("pass", "fail")]


def _walked(step: str, *, fails: bool = False, under: tuple[str, ...] = ()) -> Act:
    """The step tried with the power it needs, and the unit made safe again."""

    def tell(story: Story) -> None:
        (story.fails if fails else story.passes)(step, under=under)
        story.make_safe()

    return story_act(tell)


def _fails_early(state: State) -> State | None:
    """A fail, as long as the step has at most one try behind it: without a bound there would be no end."""
    return _walked(RAIL, fails=True)(state) if len(_tries(state.story.job, RAIL)) <= 1 else None


def _voided(*, cause: bool) -> Act:
    """The last try of the rail that is not void yet is withdrawn."""

    def act(state: State) -> State | None:
        made = [one for one in state.story.job.attempts if one.step == RAIL and one.void is None]
        if not made:
            return None
        shown = ("the lead", "read again with another lead") if cause else (None, None)
        return told_by(lambda _job: VoidAttempt("t1", made[-1].number, "slip", *shown))(state)

    return act


def _as_found_once(state: State) -> State | None:
    before = any(run.purpose == "as-found" for run in state.story.job.runs)
    return None if before else story_act(lambda story: story.start("as-found"))(state)


def _as_found_of_the_complaint(state: State) -> State | None:
    """The complaint is matched, and looked for once, before anything else is done."""
    if state.story.job.runs:
        return None
    return story_act(lambda story: story.do(MapComplaint("t1", ("rail-low",), WARM)) and story.start("as-found"))(state)


def _rail_shows_nothing(state: State) -> State | None:
    """The probe slips off the warm rail, once as left: that is no answer."""
    job = state.story.job
    run = job.open_run
    before = any(one.judgement.verdict == "not measured" for one in job.attempts)
    if before or run is None or run.purpose != "acceptance":
        return None

    def slips(story: Story) -> None:
        slipped = ReadingAnswer(("OL",))
        story.ready(RAIL).do(Try("t1", RAIL, slipped, again=slipped, conditions=WARM))
        story.make_safe()

    return story_act(slips)(state)


def _rail_where_it_belongs(*, fails: bool, under: tuple[str, ...] = (), at_most: int = 2) -> Act:
    """As found the rail is tried so often at most and may fail; afterwards it passes."""

    def act(state: State) -> State | None:
        job = state.story.job
        run = job.open_run
        as_found = sum(one.purpose == "as-found" and one.step == RAIL for one in job.attempts)
        if run is None or (run.purpose == "as-found" and as_found >= at_most) or (fails and run.purpose != "as-found"):
            return None
        return _walked(RAIL, fails=fails, under=under)(state)

    return act


def _others(story: Story) -> None:
    """Everything but the rail, as left."""
    assert story.job.open_run is not None
    assert story.job.open_run.purpose == "acceptance"
    for step in (GUARD, LAMPS):
        if not passes_standing(story.job, story.step(step)):
            story.passes(step).make_safe()


POWER: Mapping[str, Act] = {
    "start as-found": told_by(lambda job: hand.start(job, "as-found")),
    "start acceptance": told_by(hand.start),
    "close the run": told_by(lambda _job: CloseRun("t1")),
    "answer": told_by(lambda _job: Acknowledge("t1", "fault-current", "0.30 A")),
    "answer wrongly": told_by(lambda _job: Acknowledge("t1", "fault-current", "0.50 A")),
    "power for the rail": told_by(lambda job: hand.energise(job, RAIL)),
    "power for the lamps": told_by(lambda job: hand.energise(job, LAMPS)),
    "tell off": told_by(lambda _job: TellPower("t1", "off")),
    "tell cycled": told_by(lambda _job: TellPower("t1", "cycled")),
    "make-safe key": told_by(lambda _job: CallMakeSafe("t1")),
    "prove dead": told_by(hand.proved_dead),
    "read the supply": told_by(lambda _job: ReadSupply("t1", "battery", "24.0 V", "0.16 A", False)),
    "read its limit light": told_by(lambda _job: ReadSupply("t1", "battery", "24.0 V", "0.30 A", True)),
    "guard passes": told_by(lambda job: hand.passing(job, GUARD)),
    "rail passes": told_by(lambda job: hand.passing(job, RAIL)),
    "lamps pass": told_by(lambda job: hand.passing(job, LAMPS)),
    "rework on the supply": told_by(lambda _job: hand.rework("PWR")),
    "crash": crash,
    "long wait": long_wait,
    "sign off": told_by(lambda job: SignOff("t1", job.serial)),
    "return unrepaired": told_by(lambda _job: ReturnUnrepaired("t1", "no parts")),
}
VERDICTS: Mapping[str, Act] = {
    "start": story_act(lambda story: story.start()),
    "guard passes": _walked(GUARD),
    "lamps pass": _walked(LAMPS),
    "rail passes": _walked(RAIL),
    "rail fails": _fails_early,
    "note on the rail": told_by(lambda _job: AddNote("t1", "the clip had slipped off", RAIL)),
    "void": _voided(cause=False),
    "void with its cause": _voided(cause=True),
    "rework on the supply": told_by(lambda _job: hand.rework("PWR")),
    "rework on the lamps": told_by(lambda _job: hand.rework("LAMP")),
    "sign off": told_by(lambda job: SignOff("t1", job.serial)),
}
AS_FOUND: Mapping[str, Act] = {
    "start as-found": _as_found_once,
    "start acceptance": story_act(lambda story: story.start()),
    "guard passes": _walked(GUARD),
    "all but the rail passes": story_act(_others),
    "rail passes": _rail_where_it_belongs(fails=False),
    "rail fails": _rail_where_it_belongs(fails=True),
    "note on the rail": told_by(lambda _job: AddNote("t1", "only when warm", RAIL)),
    "rework on the supply": told_by(lambda _job: hand.rework("PWR")),
    "sign off": told_by(lambda job: SignOff("t1", job.serial)),
}
UNDER_CONDITIONS: Mapping[str, Act] = {
    "look for the complaint": _as_found_of_the_complaint,
    "start acceptance": story_act(lambda story: story.start()),
    "guard passes": _walked(GUARD),
    "all but the rail passes": story_act(_others),
    "rail passes warm": _rail_where_it_belongs(fails=False, under=WARM, at_most=1),
    "rail passes cold": _rail_where_it_belongs(fails=False, at_most=1),
    "rail fails warm": _rail_where_it_belongs(fails=True, under=WARM, at_most=1),
    "the probe slips off the warm rail": _rail_shows_nothing,
    "note on the rail": told_by(lambda _job: AddNote("t1", "only when warm", RAIL)),
    "rework on the supply": told_by(lambda _job: hand.rework("PWR")),
    "sign off": told_by(lambda job: SignOff("t1", job.serial)),
}

"""May the taps of a step begin, and does a block of reference trials hold?"""

from statistics import median

from passcheck.job import events as happened
from passcheck.job.commands import BeginTiming, InterruptTiming, Refusal, TapReference
from passcheck.job.decide_attempt import step_refusal
from passcheck.job.entry import EntryFault
from passcheck.job.events import Event, ReferencePair
from passcheck.job.judging_taps import beyond_delays, seconds
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.permission import run_and_step
from passcheck.job.state import Job
from passcheck.job.tapped import beside
from passcheck.judge.reference import AROUND, can_be_a_hand, check_of_the_day
from passcheck.judge.response_taps import FEWEST_REFERENCE

Answered = tuple[Event, ...] | Refusal
DRAWN_LATE_S = 0.1
"""So much later than programmed a light may be drawn; later the machine was too busy for trials."""


def begin_timing(job: Job, command: BeginTiming, moment: Moment, outside: Outside) -> Answered:
    """Taps begin where the step may be tried and whatever has to stand beside them is there."""
    found = run_and_step(job, command.step)
    if isinstance(found, Refusal):
        return found
    run, step = found
    refusal = step_refusal(job, step, command.by, run, moment, outside)
    if refusal is not None:
        return refusal
    stands = beside(job, run, step, command.by, moment, outside)
    return stands if isinstance(stands, Refusal) else (happened.TimingBegun(run.number, step.id),)


def interrupt_timing(job: Job, command: InterruptTiming) -> Answered:
    """What was tapped is void and kept."""
    if job.timing is None or job.timing.step != command.step:
        return Refusal("order", "No taps of this step are under way.", "Begin them.")
    return (happened.TimingInterrupted(command.step, command.why, command.pairs, command.rows),)


def tap_reference(job: Job, command: TapReference, moment: Moment, outside: Outside) -> Answered:
    """A block counts when it is whole, its delays lie where they should, and a hand can have tapped it."""
    if job.open_run is None:
        return Refusal("no run", "No run is open.", "Start a run.")
    try:
        fault = _block_fault(command, moment, outside)
    except (EntryFault, ValueError) as error:
        return Refusal("entry", f"The reference trials can't be used: {error}.", "Tap them anew.")
    if fault:
        return Refusal("reference", fault, "Tap the reference trials anew.")
    return (
        happened.ReferenceTapped(
            block=len(job.references) + 1,
            run=job.open_run.number,
            middle_s=command.middle_s,
            trials=command.trials,
            how=command.how,
            terminal=outside.terminal,
            walked=command.walked,
            checked=command.checked,
        ),
    )


def _block_fault(command: TapReference, moment: Moment, outside: Outside) -> str:
    middle_s, block_s = seconds(command.middle_s), beyond_delays(command.trials)
    if len(block_s) < FEWEST_REFERENCE:
        return f"{len(block_s)} reference trials count, and {FEWEST_REFERENCE} are needed."
    if not all(_is_around(one, middle_s) for one in (*command.trials, *command.checked) if not one.void):
        return "The delays of these reference trials lie elsewhere than they should."
    if not can_be_a_hand(block_s, outside.latency_at(moment).latency):
        return f"No hand reacts so to a light ({median(block_s):.2f} s after it, latency and all)."
    if command.walked is None:
        return ""
    check = check_of_the_day(block_s, beyond_delays(command.checked))
    return "" if check.holds else "Today's earlier block no longer holds: the hand, or the bench, is another by now."


def _is_around(one: ReferencePair, middle_s: float) -> bool:
    """Does the delay lie within the block's share of its middle, and was it drawn about when it should be?"""
    if one.drawn is None:
        return False
    programmed_s, drawn_s = seconds(one.programmed), seconds(one.drawn) - seconds(one.pressed)
    within = abs(programmed_s - middle_s) <= AROUND * middle_s * (1 + 1e-6)
    return within and 0 <= drawn_s - programmed_s + 1e-6 <= DRAWN_LATE_S

"""Which course of taps does this step take, with what stands beside it?"""

from passcheck.bench.tap_rows import RateCourse, SweepCourse
from passcheck.bench.unit_trials import HandCourse, PressCourse, ResponseCourse, UnitCourse
from passcheck.errors import OurBug
from passcheck.job.judging_taps import Beside, beyond_delays, hand_of
from passcheck.job.timed import limit_s
from passcheck.judge.rate_taps import tapped_every
from passcheck.sequence import model
from passcheck.sequence.model import Step


def course_of(step: Step, beside: Beside) -> UnitCourse | SweepCourse | RateCourse:
    """The course from its beginning.

    Raises:
        OurBug: taps don't answer this step, which was to be asked before.
    """
    limit = limit_s(step)
    match step:
        case model.ResponseStep() if beside.reference is not None and limit is not None:
            block_s = beyond_delays(beside.reference.facts.trials)
            return ResponseCourse(
                limit_s=limit, reference_s=block_s, latency=beside.latency.latency, earlier_s=beside.earlier_s
            )
        case model.ResponseStep() if beside.way == "by hand":
            return HandCourse(limits=step.limits)
        case model.PressesStep() if limit is not None:
            return PressCourse(limit_s=limit, presses=step.times * len(step.press), hand=hand_of(beside))
        case model.SweepStep():
            return SweepCourse(step.up, step.down, step.marks - 1)
        case model.LampsStep(limits=limits) if limits is not None and (every := tapped_every(limits)) is not None:
            return RateCourse(limits, every)
        case _:
            raise OurBug(f"taps don't answer a {step.kind} step such as {step.id}")

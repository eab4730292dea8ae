"""How does the robot technician try a step: look, read, tap, type, and type again when asked?"""

import re
from dataclasses import replace

from passcheck.bench.bench import Done
from passcheck.bench.reference_block import BlockNeed, blocks_needed, programmed_delays
from passcheck.bench.step_course import course_of
from passcheck.bench.tap_rows import RateCourse, SweepCourse
from passcheck.bench.tapped_answers import pairs_answer, reference_pairs, rows_answer
from passcheck.bench.timing import ReferenceCourse
from passcheck.bench.unit_trials import UnitCourse
from passcheck.job.answers import Answer, ReadingAnswer
from passcheck.job.commands import Attempt, BeginTiming, Refusal, TapReference
from passcheck.job.judging import needs_accuracy
from passcheck.job.state import Attempt as Tried
from passcheck.job.symptoms import known_conditions
from passcheck.job.tapped import beside
from passcheck.job.timed import limit_s, reference_for, timed_steps, way_of
from passcheck.judge.reference import TRIALS
from passcheck.practice import shows
from passcheck.practice.at_work import AtWork, NotGranted
from passcheck.practice.eyes import written_down
from passcheck.practice.hand import HOW
from passcheck.practice.hand_rows import rows_of_flashes, rows_of_sweep
from passcheck.practice.shows import Shows
from passcheck.practice.slips import slipped
from passcheck.practice.truth import departs
from passcheck.sequence.model import Step

ENTRY_S = 15.0  # to look again and type
WARM = re.compile(r"(\d+) min warm")
FLASHES = 400  # more than any row of taps follows


async def tried(work: AtWork, step: Step, under: tuple[str, ...] = (), instrument: str | None = None) -> Tried:
    """Try a step with all that belongs to it, and give what was kept; `instrument` takes another one than the run's.

    Raises:
        NotGranted: the step may not be tried now, or no entry at it was taken.
    """
    await work.ready_for(step)
    await _warmed(work, under)
    await work.pass_time(float(step.minutes))
    under = (*under, *_warm_by_itself(work, under))
    seen = work.unit.shows(step, work.around(under), work.reworks, work.draw)
    if seen is None:
        raise NotGranted(Refusal("order", f"{step.title} is left at power and looked at, not tried."))
    before, slipped_before = len(work.job.attempts), work.tally.slipped_through
    if instrument is None and way_of(work.job, step) is not None and work.draw.random() >= work.manner.by_instrument:
        await _tapped(work, step, seen, under)
    else:
        await _written(work, step, seen, under, instrument)
    kept = work.job.attempts[before]
    work.tally.tries += 1
    mistyped = work.tally.slipped_through > slipped_before
    work.tally.hold_against(step.id, kept.judgement.verdict, departs=departs(step, seen), mistyped=mistyped)
    return kept


# Reading, counting, looking


async def _written(work: AtWork, step: Step, seen: Shows, under: tuple[str, ...], instrument: str | None) -> None:
    meter = work.meter(step, instrument)
    if meter is None and needs_accuracy(step):
        raise NotGranted(Refusal("instrument", f"Nothing at this bench measures {step.title}."))
    meant = written_down(step, seen, meter, work.draw)
    await _entered(work, _attempt(work, step, _typed(work, meant), under, instrument), meant)


async def _entered(work: AtWork, command: Attempt, meant: Answer) -> None:
    """Type an entry. Asked for it once more, look again and type what is there; where the two differ, begin anew."""
    answered: Done | Refusal | None = None
    for entry in (command.answer, meant):
        answered = await work.ask(replace(command, answer=entry))
        if isinstance(answered, Refusal) and answered.code == "type again":
            work.clock.pass_time(seconds=ENTRY_S)
            answered = await work.ask(replace(command, answer=entry, again=meant))
        if isinstance(answered, Done):
            work.tally.slipped_through += entry != meant
            return
        if entry != meant:
            work.tally.caught += 1
        if answered.code != "entry":
            break
    assert isinstance(answered, Refusal)  # noqa: S101 - the loop ran
    raise NotGranted(answered)


def _typed(work: AtWork, meant: Answer) -> Answer:
    """What the fingers make of it; a probe that doesn't touch reads over range."""
    if isinstance(meant, ReadingAnswer) and meant.readings and work.draw.random() < work.manner.loose_probe:
        wrong: Answer = replace(meant, readings=("OL",) * len(meant.readings))
    elif work.draw.random() < work.manner.slips:
        wrong = slipped(meant, work.draw)
    else:
        return meant
    work.tally.slips += wrong != meant
    return wrong


def _attempt(
    work: AtWork, step: Step, answer: Answer, under: tuple[str, ...], instrument: str | None = None
) -> Attempt:
    """The command for a try, with photo, note and witness where the step asks for them."""
    failed = any(one.step == step.id and one.judgement.verdict == "fail" for one in work.job.attempts)
    return Attempt(
        work.by,
        step.id,
        answer,
        instrument=instrument,
        note=f"{step.title}: looked at closely" if step.note or failed else "",
        photos=(f"photos/{work.job.id}-{step.id}.jpg",) if step.photo else (),
        second=work.second if step.witness else None,
        conditions=under,
    )


# Tapping


async def _tapped(work: AtWork, step: Step, seen: Shows, under: tuple[str, ...]) -> None:
    await _block_for(work, step)
    await work.do(BeginTiming(work.by, step.id))
    run = work.job.open_run
    assert run is not None  # noqa: S101 - the bench has just granted it
    stands = beside(work.job, run, step, work.by, work.bench.moment(), work.bench.outside())
    if isinstance(stands, Refusal):
        raise NotGranted(stands)
    course, begun_s = course_of(step, stands), work.hand.now_s
    answer: Answer
    match course, seen:
        case UnitCourse(), shows.Responds(delays_s):
            turn = iter(delays_s * 8)
            answer = pairs_answer(work.hand.at_the_unit(course, lambda: next(turn, None)), HOW)
        case SweepCourse(), shows.Sweeps(up_s, down_s):
            answer = rows_answer(rows_of_sweep(work.hand, course, lambda way: up_s if way == "up" else down_s), HOW)
        case RateCourse(), shows.Lights(amiss, rate_hz=rate_hz):
            flashes = (nth / rate_hz for nth in range(FLASHES)) if rate_hz > 0 else ()
            answer = rows_answer(rows_of_flashes(work.hand, course, flashes), HOW, amiss)
        case _:
            raise NotGranted(Refusal("order", f"{step.title} shows nothing that a hand could tap."))
    await work.pass_time((work.hand.now_s - begun_s) / 60)
    await work.do(_attempt(work, step, answer, under))


async def _block_for(work: AtWork, step: Step) -> None:
    """Tap the reference trials that the step needs beside it, where this run has none yet."""
    job, run, limit = work.job, work.job.open_run, limit_s(step)
    if run is None or limit is None or way_of(job, step) != "by reference":
        return
    if reference_for(job, run, work.by, limit, work.bench.outside().terminal) is not None:
        return
    need = next(need for need in blocks_needed(timed_steps(job, run.purpose)) if step.id in need.steps)
    for _ in range(3):  # a block that can't be used is tapped anew
        answered = await work.ask(_block(work, need))
        if isinstance(answered, Done):
            return
    raise NotGranted(Refusal("reference", "Three blocks of reference trials could not be used."))


def _block(work: AtWork, need: BlockNeed) -> TapReference:
    begun_s = work.hand.now_s
    delays_s = programmed_delays(need.middle_s, work.uniforms(2 * TRIALS))
    course = ReferenceCourse(tuple(round(each, 6) for each in delays_s), max(need.limits_s))
    walked = work.hand.at_our_screen(course)
    work.clock.pass_time(seconds=work.hand.now_s - begun_s)
    return TapReference(work.by, f"{need.middle_s:.6f}", reference_pairs(walked), HOW)


# Warmth


async def _warmed(work: AtWork, under: tuple[str, ...]) -> None:
    """Wait until the unit is as warm as a condition asks."""
    wanted_min = max((float(found.group(1)) for words in under if (found := WARM.search(words))), default=0.0)
    await work.pass_time(max(0.0, wanted_min - work.around().powered_min))


def _warm_by_itself(work: AtWork, under: tuple[str, ...]) -> tuple[str, ...]:
    """Conditions that the unit is in by its time at power alone."""
    powered_min = work.around().powered_min
    return tuple(
        words
        for words in known_conditions(work.job)
        if words not in under and (found := WARM.fullmatch(words)) and powered_min >= float(found.group(1))
    )

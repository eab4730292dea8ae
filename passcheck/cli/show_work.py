"""What happened to the unit between its attempts: runs with their outcomes, work done, hours on soak, jottings?"""

from collections.abc import Iterator

from passcheck.cli.say import say
from passcheck.job.moment import Moment
from passcheck.job.replay import stamp as at
from passcheck.job.soak import hours_words, soak_now, soak_steps, standing_legs, stretch_words
from passcheck.job.soak_course import courses
from passcheck.job.state import Job, SoakLeg
from passcheck.job.work_done import work_done
from passcheck.sequence.model import SoakStep


def say_work(job: Job) -> None:
    """Print a section for each that has anything to say."""
    for title, told in (
        ("RUNS", tuple(_runs(job))),
        ("PROPOSED TO THE OWNER (the last is what papers show)", tuple(_proposals(job))),
        ("THE OWNER AGREED", tuple((1, f"{minute(it.moment)}  {it.by}  {it.scope} ({it.who})") for it in job.agreed)),
        ("DONE TO THE UNIT", tuple((1, f"{minute(one.moment)}  {one.by}  {one.words}") for one in work_done(job))),
        ("STILL TO BE PUT BACK", tuple((1, it.words) for it in job.fitted)),
        ("BURN-IN", tuple(_soaks(job))),
        ("JOTTED (kept, never counted)", tuple(_jottings(job))),
    ):
        if told:
            say()
            say(title)
            for indent, words in told:
                say(words, indent=indent)


def _runs(job: Job) -> Iterator[tuple[int, str]]:
    for run in job.runs:
        second = f", {run.facts.second} within call" if run.facts.second else ""
        begun = f"{minute(run.started)} by {run.by}{second}"
        yield 1, f"run {run.number}, {run.purpose}, begun {begun}: {run.outcome or 'open'}"


def _proposals(job: Job) -> Iterator[tuple[int, str]]:
    for one in job.proposed:
        yield 1, f"{minute(one.moment)}  {one.by}"
        yield from ((3, f"- {line}") for line in one.lines)


def _soaks(job: Job) -> Iterator[tuple[int, str]]:
    for soak in soak_steps(job):
        legs = [leg for leg in job.soaks if leg.step == soak.id]
        if not legs:
            continue
        now = soak_now(job, soak)
        yield 1, f"{soak.title}: {hours_words(now.credit.counted_s)} of {soak.hours.text} count"
        counting = standing_legs(job, soak)
        for leg in legs:
            yield from _leg(leg, counts=leg in counting)
        for stretch in now.credit.stretches:
            if stretch.standing != "in time":
                yield 5, stretch_words(stretch)
        yield from _courses(job, soak)


def _leg(leg: SoakLeg, *, counts: bool) -> Iterator[tuple[int, str]]:
    end = f"ended: {leg.ended}" if leg.ended_line is not None else "under way"
    struck = "" if counts else " (made worthless since)"
    yield 3, f"from {minute(leg.looks[0].moment)}, {len(leg.looks)} looks, {end}{struck}"
    if leg.unattended:
        yield 5, f"left alone: {'; '.join(leg.unattended)}"


def _courses(job: Job, soak: SoakStep) -> Iterator[tuple[int, str]]:
    for course in courses(job, soak):
        yield 3, course.warning or f"{course.step.title}: {course.trend.sentence}"


def _jottings(job: Job) -> Iterator[tuple[int, str]]:
    for one in job.jottings:
        meter = f" with {one.meter}" if one.meter else ""
        yield 1, f"{minute(one.moment)}  {one.by}  {one.point}: {one.value}{meter}"


def minute(moment: Moment) -> str:
    """A moment to the minute, in UTC."""
    return at(moment)[:16].replace("T", " ") + " UTC"

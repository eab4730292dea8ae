"""In which words does the bench say where the technician is, what is limited, and what came out?"""

from datetime import timedelta

from textual.content import Content

from passcheck.app.plain import joined
from passcheck.app.trying import Trying
from passcheck.job import cautions, power
from passcheck.job.fold import told_now
from passcheck.job.instruments import taken_up
from passcheck.job.judging import instrument_role, needs_accuracy
from passcheck.job.moment import ABSENCE, Moment
from passcheck.job.outcome import conditions_tried
from passcheck.job.plan import plan
from passcheck.job.standing import latest
from passcheck.job.state import Attempt, Job
from passcheck.job.steps import steps_of
from passcheck.job.symptoms import conditions_to_try
from passcheck.sequence import model
from passcheck.sequence.model import Step

GRANTED = "Nothing recorded forbids power. Look at the unit; you decide."
AHEAD_SHOWN = 9
SIGN_OF_LIFE = timedelta(minutes=5)  # before a told "on" fades; a step may take longer than anybody types
AHEAD_WIDTH = 22


def place_words(job: Job, step: Step) -> Content:
    """Step n of m, minutes left, and why the plan asks for this step."""
    run = job.open_run
    if run is None:
        return Content("")
    steps = steps_of(job, run.purpose)
    planned = plan(job)
    minutes = sum((one.minutes for one in planned), start=0)
    why = next((one.why for one in planned if one.step.id == step.id), _stands(job, step))
    left = f"{len(planned)} left, about {minutes:.0f} min"
    return joined((f"step {steps.index(step) + 1} of {len(steps)}", "bold"), f"   {left}   {run.purpose}   {why}")


def _stands(job: Job, step: Step) -> str:
    """A step that the plan doesn't ask for was walked already."""
    attempt = latest(job, step)
    return "walked" if attempt is None else f"walked: {attempt.judgement.verdict}"


def ahead_words(job: Job, chosen: str | None) -> Content:
    """The steps still to walk, the one at hand first, each with what it needs of power."""
    if job.open_run is None:
        return Content("")
    planned = [one.step for one in plan(job)]
    ahead = [step for step in planned if step.id != chosen][: AHEAD_SHOWN - (chosen is not None)]
    now = [job.sequence.step(chosen)] if chosen is not None else []
    rows = [joined((_ahead(step), "bold" if place == 0 else "")) for place, step in enumerate([*now, *ahead])]
    more = len(planned) - len(ahead)
    tail = [joined(f"  and {more} more")] if more > len(now) else []
    return Content("\n").join([joined(("AHEAD", "bold reverse")), *rows, *tail])


def _ahead(step: Step) -> str:
    mark = "unpowered" if step.power == model.NO_SUPPLY else step.power
    return f"{step.title[:AHEAD_WIDTH]}, {mark}"


def step_note(job: Job, step: Step, trying: Trying, meter: str | None = None, *, tapped: bool = False) -> str:
    """Where the probes go, with which instrument, and what else belongs to the step: witness, papers, conditions."""
    at = step.at or "" if isinstance(step, model.ReadingStep) else ""
    second = trying.of(job.open_run, step).second
    seen_by = f"seen by {second or 'a second person: name them (Ctrl+N)'}" if step.witness else ""
    wants = [word for word, wanted in (("photo", step.photo), ("note", step.note)) if wanted]
    asks = f"asks for a {' and a '.join(wants)} (F4)" if wants else ""
    by = "by taps of a hand" if tapped else _with(job, step, meter)
    return "   ".join(part for part in (at, by, seen_by, asks, _conditions(job, step, trying)) if part)


def _conditions(job: Job, step: Step, trying: Trying) -> str:
    """What the unit is put to now, and what is still to be tried: where the complaint shows, or a fail showed."""
    now = f"UNDER {', '.join(trying.under)}" if trying.under else ""
    left = [words for words in _to_try(job, step) if words not in trying.under]
    return "   ".join(part for part in (now, f"to try: {', '.join(left)} (Ctrl+N)" if left else "") if part)


def _to_try(job: Job, step: Step) -> tuple[str, ...]:
    run = job.open_run
    if run is None:
        return ()
    if run.purpose != "as-found":
        return next((one.under for one in plan(job) if one.step.id == step.id), ())
    tried = conditions_tried(job, run)
    return tuple(one.words for one in conditions_to_try(job) if step.id in one.steps and one not in tried)


def _with(job: Job, step: Step, meter: str | None) -> str:
    run = job.open_run
    role = instrument_role(step)
    if role is None or run is None or not needs_accuracy(step):
        return ""
    own = taken_up(run, role)
    return f"{role} {meter or (own.instrument if own is not None else 'not taken up (F3)')}"


def caution_line(job: Job, step: Step) -> tuple[tuple[str, str] | str, ...]:
    """The worst hazard message of the step in one line that stays in sight, and every NOTICE."""
    order = ("DANGER", "WARNING", "CAUTION", "NOTICE")
    found = [job.sequence.cautions[name] for name in cautions.of_step(job, step)]
    found.sort(key=lambda one: order.index(one.signal))
    parts: list[tuple[str, str] | str] = []
    for one in [*found[:1], *(other for other in found[1:] if other.signal == "NOTICE")]:
        parts += [(f" {one.signal} ", "bold reverse"), f" {one.hazard} Stop if {one.stop_if}.  "]
    return tuple(parts)


def result_words(attempt: Attempt, title: str, fitted: tuple[str, ...] = ()) -> Content:
    """The last verdict's sentence, and what the step has left on the unit that has to come off again."""
    parts: list[tuple[str, str] | str] = [(f"{title}: ", "bold"), attempt.judgement.sentence]
    for words in fitted:
        parts += ["  ", ("PUT BACK BEFORE IT LEAVES", "bold reverse"), f" {words}"]
    return joined(*parts)


def powered_absence(job: Job, moment: Moment) -> str:
    """What to say when a supply that was told on can't be believed any more, or soon can't, or ""."""
    gone = moment.since(job.last)
    if power.on_now(job, moment) and gone is not None and gone >= ABSENCE - SIGN_OF_LIFE:
        left = max(1, int((ABSENCE - gone).total_seconds() // 60))
        return f"Still at the bench? Ctrl+Y says so. Without any entry power counts as unknown in {left} min."
    lost = [name for name in power.unknown_now(job, moment) if power.last_told_on(job, name) is not None]
    if not lost or power.proved_dead(job):
        return ""
    changes = told_now(job)
    if not any(changes[name].told == "on" or changes[name].line in job.alerts for name in lost):
        return "Make safe was called and is not finished: power is unknown."
    last, step = _last_act(job, lost)
    where = job.sequence.step(step).title if step else "power on"
    return f"You were at '{where}', powered, {_away(moment.since(last), last)}: power is unknown."


def _last_act(job: Job, supplies: list[str]) -> tuple[Moment, str]:
    """When something was last done under power, and at which step ("" for the telling itself)."""
    acts = [(attempt.line, attempt.moment, attempt.step) for attempt in job.attempts]
    acts += [(on.line, on.moment, "") for name in supplies if (on := power.last_told_on(job, name)) is not None]
    _, last, step = max(acts, key=lambda one: one[0])
    return last, step


def _away(gone: timedelta | None, last: Moment) -> str:
    if gone is None:
        return f"last entry {last.local():%H:%M}"
    return f"away {int(gone.total_seconds() // 60)} min"

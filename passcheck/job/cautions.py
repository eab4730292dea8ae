"""Which hazard messages must be answered before this step, and with what?

NOTICE is shown. CAUTION asks for one deliberate key a run and person; WARNING for a fact; DANGER for a fact and the
named person at each entry to the powered state. After a rework, an incident, a hand-over or an absence every answer is
asked for again, and a CAUTION that has a fact to ask for asks for it.
"""

from dataclasses import dataclass
from decimal import Decimal
from hashlib import sha256

from passcheck.job.moment import Moment
from passcheck.job.state import Acknowledged, Job
from passcheck.job.steps import is_powered
from passcheck.judge.quantity import OverRange, QuantityError, parse_reading
from passcheck.sequence.model import Caution, Confirm, Step


@dataclass(frozen=True, slots=True)
class Asked:
    """One hazard message that still stands before the technician; `confirm` is None where a deliberate key will do."""

    name: str
    caution: Caution
    confirm: Confirm | None


def of_step(job: Job, step: Step) -> tuple[str, ...]:
    """Names of all hazard messages of a step and of the supply it uses, the step's own first."""
    supply = job.sequence.supplies.get(step.power)
    return tuple(dict.fromkeys((*step.cautions, *(supply.cautions if supply else ()))))


def of_discharge(job: Job) -> tuple[str, ...]:
    """Names of the hazard messages of the places that hold energy: discharging and proving dead have their own."""
    return tuple(dict.fromkeys(name for place in job.sequence.stored_energy for name in place.cautions))


def outstanding(job: Job, step: Step, person: str, moment: Moment) -> tuple[Asked, ...]:
    """What this person has to answer before this step, worst first."""
    names = of_step(job, step) if is_powered(step) else step.cautions
    return asked(job, names, person, moment)


def asked(job: Job, names: tuple[str, ...], person: str, moment: Moment) -> tuple[Asked, ...]:
    """Those of the named hazard messages that this person has to answer now, worst first."""
    order = ("DANGER", "WARNING", "CAUTION")
    alerts = (*job.alerts, job.lines - 1) if moment.absent_since(job.last) else job.alerts
    open_now = [
        Asked(name, caution, _confirm(job, name, caution, alerts))
        for name in names
        if (caution := job.sequence.cautions[name]).signal != "NOTICE"
        and not _answered(job, name, caution, person, alerts)
    ]
    return tuple(sorted(open_now, key=lambda one: order.index(one.caution.signal)))


def accepts(confirm: Confirm, given: str) -> bool:
    """Is this what a display would show: a figure inside the limits, with all its digits?

    "All its digits" means a last digit at least as fine as the one the author wrote in the limits.
    """
    try:
        fact = parse_reading(given, confirm.limits.unit)
    except QuantityError:
        return False
    if isinstance(fact, OverRange):
        return False
    written = [end.digit for end in (confirm.limits.nominal, confirm.limits.low, confirm.limits.high) if end]
    return confirm.limits.holds(fact.value) and fact.digit <= max(written, default=Decimal(1))


def text_hash(caution: Caution) -> str:
    """Names the wording that was answered, so that a record shows which text it was."""
    words = "\n".join((caution.signal, caution.hazard, caution.harm, *caution.avoid, caution.stop_if))
    return sha256(words.encode()).hexdigest()


def _answered(job: Job, name: str, caution: Caution, person: str, alerts: tuple[int, ...]) -> bool:
    run = job.open_run
    if run is None:
        return False
    since = max([run.line, *alerts])
    if caution.signal == "DANGER":
        since = max([since, *(change.line for change in job.power if change.told not in ("on", "soaking"))])
    return any(_counts(it, name, caution, person, since) for it in job.acknowledged)


def _counts(it: Acknowledged, name: str, caution: Caution, person: str, since: int) -> bool:
    facts = it.facts
    return it.line > since and it.by == person and facts.caution == name and facts.text_hash == text_hash(caution)


def _confirm(job: Job, name: str, caution: Caution, alerts: tuple[int, ...]) -> Confirm | None:
    """The fact to ask: none for a CAUTION in quiet times, otherwise a different one each time."""
    if not caution.confirm:
        return None
    run = job.open_run
    quiet = run is not None and not any(line >= run.line for line in alerts)
    if caution.signal == "CAUTION" and quiet:
        return None
    times = sum(it.facts.caution == name for it in job.acknowledged)
    return caution.confirm[times % len(caution.confirm)]

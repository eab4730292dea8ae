"""What stands on a blank sheet of hazards, of the supplies, and of making safe?

On paper nobody refuses, so everything that the program would have asked before a step stands before it, with a line to
write on.
"""

from passcheck.job.cautions import of_discharge, of_step
from passcheck.job.fixed_words import HAND, REBOUND
from passcheck.job.power import little_energy
from passcheck.job.state import Job
from passcheck.job.steps import is_powered
from passcheck.report.document import Column, Heading, Part, Table, ToWrite, Words
from passcheck.report.source import Source
from passcheck.sequence.model import Caution, PowerUpStep, Step, StoredEnergy

WORST_FIRST = ("DANGER", "WARNING", "CAUTION", "NOTICE")
NO_STOP = "This sheet switches nothing, and it is no emergency stop. Your hand does: supply OFF, plug OUT."
WITHIN_CALL = "Second person within call, who knows where it is switched off"


class Asked:
    """Which fact of a caution is asked next: another each time, as at the bench."""

    def __init__(self, job: Job) -> None:
        """Go on from what was asked in this job."""
        self._times = {name: sum(it.facts.caution == name for it in job.acknowledged) for name in job.sequence.cautions}

    def parts(self, job: Job, names: tuple[str, ...]) -> tuple[Part, ...]:
        """Each message in full, the worst first, and a line for the fact or for the initials of who read it."""
        cautions = sorted(names, key=lambda name: WORST_FIRST.index(job.sequence.cautions[name].signal))
        return tuple(part for name in cautions for part in self._one(name, job.sequence.cautions[name]))

    def _one(self, name: str, caution: Caution) -> tuple[Part, ...]:
        message = Words(caution_words(caution), "notice")
        if caution.signal == "NOTICE":
            return (message,)
        if not caution.confirm:
            return (message, ToWrite((("read and understood, initials", 0.6), ("time", 0.4))))
        fact = caution.confirm[self._times[name] % len(caution.confirm)]
        self._times[name] += 1
        return (message, ToWrite(((fact.ask, 0.7), ("initials", 0.15), ("time", 0.15))))


def caution_words(caution: Caution) -> str:
    """Signal word, hazard, harm, what to do, when to stop; in this order always."""
    return f"{caution.signal}. {caution.hazard} {caution.harm} DO: {' '.join(caution.avoid)} STOP IF {caution.stop_if}."


def before_step(job: Job, step: Step, asked: Asked) -> tuple[Part, ...]:
    """The hazard messages of a step, and for a powered one how its supply is set."""
    names = of_step(job, step) if is_powered(step) else step.cautions
    return (*asked.parts(job, names), *(supply_parts(job, step) if is_powered(step) else ()))


def supply_parts(job: Job, step: Step) -> tuple[Part, ...]:
    """What to set and connect, what has to be out, and a line for what the display shows."""
    supply = job.sequence.supplies[step.power]
    own = step.set if isinstance(step, PowerUpStep) else None
    set_to = (own or supply.nominal).text
    others = [name for name in job.sequence.supplies if name != step.power]
    out = f" Physically out: {', '.join(step.unplugged)}." if step.unplugged else ""
    off = f" Off: {', '.join(others)}." if others else ""
    words = f"Supply {step.power}: {set_to}, current limit {supply.current_limit.text}. {supply.connect}.{off}{out}"
    shown = (("volts on its display", 0.25), ("current limit set", 0.25))
    who = ((WITHIN_CALL, 0.5),) if supply.supply_class == "hazardous-live" else ()
    return (Words(words, "strong"), ToWrite((*shown, *who)))


def make_safe_parts(job: Job, source: Source, asked: Asked) -> tuple[Part, ...]:
    """The acts of the hand in their order, the points with limits and waits, and the first row of boxes."""
    sequence = job.sequence
    acts = tuple(f"{number}. {act}" for number, act in enumerate(sequence.make_safe or HAND, start=1))
    rebound = (Words(REBOUND, "strong"),) if sequence.stored_energy else ()
    return (
        Heading("Make safe"),
        Words(NO_STOP, "notice"),
        *asked.parts(job, of_discharge(job)),
        *(Words(act) for act in acts),
        *_points(job),
        *rebound,
        *proof_boxes(job, source),
    )


def proof_boxes(job: Job, source: Source) -> tuple[Part, ...]:
    """Boxes for one time that the unit is proved dead: tester, each point both ways round, tester again."""
    known = source.outside.settings.known_source
    tester = Words(f"Tester tried before and after on: {known.title} ({known.limits.words()}).")
    if not _named(job):
        return (
            tester,
            ToWrite((("volts at the supply's terminals, output off", 0.5), ("time", 0.2), ("initials", 0.2))),
        )
    return (tester, *(ToWrite(_boxes(place)) for place in _named(job)))


def _named(job: Job) -> tuple[StoredEnergy, ...]:
    return () if little_energy(job.sequence) else job.sequence.stored_energy


def _points(job: Job) -> tuple[Part, ...]:
    columns = (Column("Point", 2), Column("Has to be", 1.6), Column("Wait", 0.8), Column("If it is not", 2.4))
    rows = tuple(
        (
            place.at,
            f"under {place.discharged_below.text} both ways round{', and on AC' if place.ac else ''}",
            place.wait.text,
            f"{place.discharge or 'discharge it through a resistor'}; then measure again",
        )
        for place in _named(job)
    )
    return (Table(columns, rows),) if rows else ()


def _boxes(place: StoredEnergy) -> tuple[tuple[str, float], ...]:
    """In the order in which they are read; a point's name opens its line."""
    ac = (("on AC", 0.12),) if place.ac else ()
    return (
        (f"{place.at}: known source before", 0.28),
        ("one way round", 0.14),
        ("the other way", 0.14),
        *ac,
        (f"again after {place.wait.text}", 0.16),
        ("known source after", 0.16),
        ("time", 0.1),
        ("initials", 0.1),
    )

"""What stands on a blank sheet of the supplies and of making safe?

On paper nobody refuses, so everything that the program would have asked stands there, with a box to write in.
"""

from passcheck.job.fixed_words import HAND, REBOUND
from passcheck.job.power import little_energy
from passcheck.job.state import Job
from passcheck.report.blank_cautions import Cautions
from passcheck.report.document import Box, Boxes, Column, Heading, Part, Said, Table, Together, Words
from passcheck.report.source import Source
from passcheck.sequence.model import PowerUpStep, Step, StoredEnergy

NO_STOP = "This sheet switches nothing, and it is no emergency stop. Your hand does: supply OFF, plug OUT."
WITHIN_CALL = "second person within call, who knows where it is switched off"
MADE_SAFE = "Now make safe: the acts of the section 'Make safe' in their order, then these boxes."


def supply_words(job: Job, step: Step) -> str:
    """What to set and connect for a powered step, what is off and what has to be out."""
    supply = job.sequence.supplies[step.power]
    own = step.set if isinstance(step, PowerUpStep) else None
    others = [name for name in job.sequence.supplies if name != step.power]
    out = f" Physically out: {', '.join(step.unplugged)}." if step.unplugged else ""
    off = f" Off: {', '.join(others)}." if others else ""
    set_to = f"Supply {step.power}: {(own or supply.nominal).text}, current limit {supply.current_limit.text}."
    return f"{set_to} {supply.connect}.{off}{out}"


def supply_boxes(job: Job, step: Step) -> Boxes:
    """The same with boxes for what the display shows, and for who is within call where the supply can kill."""
    live = job.sequence.supplies[step.power].supply_class == "hazardous-live"
    shown = (Box("volts on its display", 0.2), Box("current limit set", 0.2))
    return Boxes((Said(supply_words(job, step), 0.6), *shown, *((Box(WITHIN_CALL, 1.0),) if live else ())))


def make_safe_parts(job: Job, source: Source, cautions: Cautions) -> tuple[Part, ...]:
    """The acts of the hand in their order, the points with limits and waits, and the first row of boxes."""
    sequence = job.sequence
    acts = "\n".join(f"{number}. {act}" for number, act in enumerate(sequence.make_safe or HAND, start=1))
    rebound = (Words(REBOUND, "strong"),) if sequence.stored_energy else ()
    return (
        Heading("Make safe"),
        Words(NO_STOP, "notice"),
        *cautions.discharging(),
        Words(acts),
        *_points(job),
        *rebound,
        Together(_proof_boxes(job, source)),
    )


def made_safe(job: Job, source: Source) -> Together:
    """What is done and written down where power comes off."""
    return Together((Words(MADE_SAFE, "strong"), *_proof_boxes(job, source)))


def _proof_boxes(job: Job, source: Source) -> tuple[Part, ...]:
    """Boxes for one time that the unit is proved dead: tester, each point both ways round, tester again."""
    known = source.outside.settings.known_source
    tester = Words(f"Tester tried before and after on: {known.title} ({known.limits.words()}).")
    if not _named(job):
        volts = Box("volts at the supply's terminals, output off", 0.5)
        return (tester, Boxes((volts, Box("time", 0.25), Box("initials", 0.25))))
    return (tester, *(Boxes(_boxes(place)) for place in _named(job)))


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


def _boxes(place: StoredEnergy) -> tuple[Said | Box, ...]:
    """In the order in which they are read; a point's name opens its row."""
    names = (
        "known source before",
        "one way round",
        "the other way",
        *(("on AC",) if place.ac else ()),
        f"again after {place.wait.text}",
        "known source after",
        "time",
        "initials",
    )
    share = 0.87 / len(names)
    return (Said(place.at, 0.13), *(Box(name, share) for name in names))

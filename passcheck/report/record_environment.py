"""At what temperature and on which supplies was the unit tested?"""

from passcheck.job.state import Job
from passcheck.report.document import Facts, Heading, Part, Words
from passcheck.report.source import Source

TITLE = "Environment"
TOLD = (
    "passcheck sees no supply: volts and current limits are those that the technician told, as read on the supply's "
    "own display. Ambient temperatures stand with the runs and with the looks of the burn-in."
)


def environment(job: Job, _source: Source) -> tuple[Part, ...]:
    """Ambient temperatures, each supply as the sequence wants it and as it was told."""
    noted = dict.fromkeys(run.facts.ambient_c for run in job.runs if run.facts.ambient_c)
    ambient = ", ".join(f"{one} °C" if not one.endswith("C") else one for one in noted) or "not noted"
    rows = [("Ambient temperature", ambient)]
    for name, supply in job.sequence.supplies.items():
        wanted = f"{supply.nominal.text}, limit {supply.current_limit.text}, {supply.supply_class}, {supply.connect}"
        rows += [(f"Supply {name}", wanted), (f"Supply {name}, as told", _as_told(job, name))]
    return Heading(TITLE), Facts(tuple(rows)), Words(TOLD, "small")


def _as_told(job: Job, name: str) -> str:
    """How often it was told on, and with which settings."""
    on = [change for change in job.power if change.supply == name and change.told in ("on", "soaking")]
    if not on:
        return "never told on"
    settings = dict.fromkeys(f"{it.volts}, limit {it.current_limit}" for it in on if it.current_limit)
    read = dict.fromkeys(it.volts for it in on if it.volts and not it.current_limit)
    told = (*settings, *(f"read as {volts}" for volts in read))
    times = "once" if len(on) == 1 else f"{len(on)} times"
    return f"told on {times}: {'; '.join(told)}" if told else f"told on {times}"

"""What was told of each supply, in words that claim nothing more?"""

from passcheck.job.moment import Moment
from passcheck.job.power import last_told_on, proved_dead, told
from passcheck.job.state import Job


def power_lines(job: Job, moment: Moment) -> tuple[str, ...]:
    """One line a supply: "battery told on 10:41, 24.0 V, limit 0.30 A"; "battery unknown: make safe first (F8)"."""
    return tuple(_line(job, supply, state) for supply, state in told(job, moment).items())


def _line(job: Job, supply: str, state: str) -> str:
    if state == "unknown":
        return f"{supply} unknown: make safe first (F8)"
    if state == "off":
        dead = "proved dead" if proved_dead(job) else "not proved dead since"
        return f"{supply} told off, {dead}"
    change = last_told_on(job, supply)
    if change is None:
        return f"{supply} told {state}"
    figures = ", ".join(
        (f"{change.moment.local():%H:%M}", change.volts or "volts not given", f"limit {change.current_limit or '?'}")
    )
    return f"{supply} told {state} {figures}"

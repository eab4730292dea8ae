"""A soak as a good technician carries it: commands made from the job's own sequence."""

from passcheck.job import commands
from passcheck.job.commands import CheckSoak, Command, Seen, StartSoak
from passcheck.job.soak import meter, soak_steps
from passcheck.job.state import Job
from passcheck.sequence.model import SoakStep

METER_AT_START = "1204.60 h"


def soak_of(job: Job) -> SoakStep:
    """The job's soak."""
    return soak_steps(job)[0]


def start(
    job: Job, by: str = "t1", *, witness: str | None = METER_AT_START, unattended: tuple[str, ...] = ()
) -> StartSoak:
    """Leave the unit at power, with all that the sequence asks for."""
    step = soak_of(job)
    supply = job.sequence.supplies[step.power]
    return StartSoak(
        by, step.id, supply.nominal.text, _amps(job), limit_light=False, witness=witness, ambient=_ambient(step),
        unattended=unattended,
    )  # fmt: skip


def seen(job: Job, continuity: str | None = "held", **members: str | bool | None) -> Seen:
    """The right unit on a supply at rest."""
    step = soak_of(job)
    supply = job.sequence.supplies[step.power]
    told: dict[str, str | bool | None] = {
        "serial": job.serial,
        "volts": supply.nominal.text,
        "amps": _amps(job),
        "limit_light": False,
        "continuity": continuity,
        "ambient": _ambient(step),
        **members,
    }
    return Seen(**told)  # type: ignore[arg-type]


def check(job: Job, by: str = "t1", *, continuity: str | None = "held", cycles: int = 0, lost: str = "") -> CheckSoak:
    """Look at the unit and find it as it should be."""
    return CheckSoak(by, soak_of(job).id, seen(job, continuity), cycles=cycles, lost=lost)


def meter_after(job: Job, at_power_s: float) -> str:
    """What the hour meter that was read at the start shows after so many seconds at power."""
    begun = meter(METER_AT_START)
    assert begun is not None
    hundredths = (begun.value + round(at_power_s)) // 36  # a meter cuts off, it doesn't round
    return f"{hundredths / 100:.2f} h"


def finish(job: Job, by: str = "t1") -> Command:
    """End the soak."""
    return commands.FinishSoak(by, soak_of(job).id)


def _amps(job: Job) -> str:
    limit = job.sequence.supplies[soak_of(job).power].current_limit
    return f"{limit.value / 2:f} A"


def _ambient(step: SoakStep) -> str | None:
    return None if step.ambient is None else "22 °C"

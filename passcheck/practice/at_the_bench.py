"""Which unit lies on the practice bench, and what does it do at the step at hand?

For one try at a step the unit does one thing, however often a screen asks: what is drawn follows from the serial
number, the step and the number of tries before.
"""

from collections.abc import Callable

from passcheck.job.moment import Moment
from passcheck.job.state import Job
from passcheck.judge.accuracy import Accuracy
from passcheck.judge.limits import Limits
from passcheck.practice.fault import Fault
from passcheck.practice.fault_list import FaultList
from passcheck.practice.in_hand import around_now, reworks_of
from passcheck.practice.meter import Meters, digit_for, display_for
from passcheck.practice.serials import drawn_from, unit_of
from passcheck.practice.shows import Shows
from passcheck.practice.unit import SimulatedUnit
from passcheck.sequence.model import Sequence, Step, StoredEnergy

Lists = Callable[[Sequence], FaultList]


class PracticeBench:
    """Simulated units for the jobs of a practice shop, with the instruments they are measured by."""

    def __init__(self, lists: Lists) -> None:
        """`lists` gives a board's faults."""
        self._lists = lists
        self._units: dict[str, SimulatedUnit] = {}

    def unit(self, job: Job) -> SimulatedUnit:
        """The unit of this job."""
        if job.id not in self._units:
            self._units[job.id] = unit_of(job.sequence, self._lists(job.sequence).faults, job.serial)
        return self._units[job.id]

    def shows(self, job: Job, step: Step, moment: Moment, under: tuple[str, ...] = ()) -> Shows | None:
        """What the unit does at this step now; the same until the next try at any step is kept."""
        draw = drawn_from(job.serial, step.id, len(job.attempts))
        return self.unit(job).shows(step, around_now(job, moment, under), reworks_of(job), draw)

    def charge_v(self, job: Job, place: StoredEnergy, moment: Moment) -> float:
        """Volts still held at a place that stores energy."""
        return self.unit(job).charge_v(place, around_now(job, moment), reworks_of(job))

    def reading(self, job: Job, value: float, limits: Limits, instrument: str, accuracy: Accuracy, nth: int = 0) -> str:
        """What the named instrument shows of a true value, as people write it down; `nth` is the flicker's turn."""
        meters = Meters((instrument,), drawn_from(job.serial, "instrument", instrument))
        digit = digit_for(limits, value)
        figure = meters.shown(instrument, accuracy, value, digit, drawn_from(job.serial, "flicker", instrument, nth))
        return display_for(figure, limits, digit)

    def still_broken(self, job: Job) -> tuple[Fault, ...]:
        """What is wrong with the unit now; told when the job is over, never before."""
        return self.unit(job).live(reworks_of(job))

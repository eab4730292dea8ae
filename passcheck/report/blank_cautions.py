"""Where does a hazard message stand on a blank sheet, and what is written down before a step that has it?

Each stands in full once, under a number. Before a step a line names it and takes its fact. DANGER is read in full again
each time that the unit comes to power.
"""

from collections.abc import Iterable
from typing import Final

from passcheck.job.cautions import of_discharge, of_step
from passcheck.job.state import Job
from passcheck.job.steps import is_powered
from passcheck.report.bounded import cut
from passcheck.report.document import Box, Boxes, Heading, Part, Said, Words
from passcheck.sequence.model import Caution, Step

WORST_FIRST: Final = ("DANGER", "WARNING", "CAUTION", "NOTICE")
READ: Final = "read and understood, initials"
FEW_WORDS: Final = 88


class Cautions:
    """The numbers of the messages, and what was said of each so far, from the top of the sheet down."""

    def __init__(self, job: Job, steps: Iterable[Step]) -> None:
        """Number what discharging asks for, then what the steps do; go on from the facts asked in this job."""
        self._of = job.sequence.cautions
        self._times = {name: sum(it.facts.caution == name for it in job.acknowledged) for name in self._of}
        self._discharge = self._sorted(of_discharge(job))
        others = self._sorted(dict.fromkeys(name for step in steps for name in names_of(job, step)))
        self._numbers = {name: at for at, name in enumerate(dict.fromkeys((*self._discharge, *others)), start=1)}
        self._noticed: set[str] = set()
        self._in_full: set[str] = set()

    def discharging(self) -> tuple[Part, ...]:
        """The messages of making safe, in full, each with its line."""
        return tuple(part for name in self._discharge for part in (self._whole(name), *self._line(name)))

    def section(self) -> tuple[Part, ...]:
        """All others in full."""
        rest = tuple(self._whole(name) for name in self._numbers if name not in self._discharge)
        return (Heading("Cautions"), *rest) if rest else ()

    def before(self, names: Iterable[str]) -> tuple[Part, ...]:
        """A line for each, the worst first; DANGER in full where it wasn't since the unit came to power."""
        return tuple(part for name in self._sorted(names) for part in self._before(name))

    def powered_off(self) -> None:
        """From here on DANGER is read in full again."""
        self._in_full.clear()

    def _before(self, name: str) -> tuple[Part, ...]:
        again = self._of[name].signal == "DANGER" and name not in self._in_full
        self._in_full.add(name)
        return (*((self._whole(name),) if again else ()), *self._line(name))

    def _whole(self, name: str) -> Words:
        return Words(f"{self._numbers[name]}. {caution_words(self._of[name])}", "notice")

    def _line(self, name: str) -> tuple[Part, ...]:
        caution = self._of[name]
        said = f"{caution.signal} {self._numbers[name]}: {cut(caution.hazard, FEW_WORDS)}"
        if caution.signal == "NOTICE":
            first = name not in self._noticed
            self._noticed.add(name)
            return (Words(said, "small"),) if first else ()
        if not caution.confirm:
            return (Boxes((Said(said, 0.64), Box(READ, 0.36))),)
        fact = caution.confirm[self._times[name] % len(caution.confirm)]
        self._times[name] += 1
        return (Boxes((Said(said, 0.46), Box(fact.ask, 0.39), Box("initials", 0.15))),)

    def _sorted(self, names: Iterable[str]) -> tuple[str, ...]:
        return tuple(sorted(names, key=lambda name: WORST_FIRST.index(self._of[name].signal)))


def names_of(job: Job, step: Step) -> tuple[str, ...]:
    """The messages of a step, with those of its supply where it is powered."""
    return of_step(job, step) if is_powered(step) else tuple(step.cautions)


def caution_words(caution: Caution) -> str:
    """Signal word, hazard, harm, what to do, when to stop; in this order always."""
    return f"{caution.signal}. {caution.hazard} {caution.harm} DO: {' '.join(caution.avoid)} STOP IF {caution.stop_if}."

"""What does the practice unit of a job show now, and what did the hand do to it so far?"""

from __future__ import annotations

from dataclasses import dataclass, replace

from passcheck.app.key_clock import key_now_s
from passcheck.app.practice_desk import PracticeDesk
from passcheck.bench.bench import Bench
from passcheck.job.events import InstrumentInUse
from passcheck.job.instruments import instrument_for
from passcheck.job.judging import instrument_role
from passcheck.job.settings import BenchSettings
from passcheck.practice.front import Front, front_for
from passcheck.practice.panel import panel_for
from passcheck.practice.seen import Hands, Panel
from passcheck.sequence.model import Step


@dataclass(frozen=True, slots=True)
class UnitInHand:
    """The unit with the step at hand.

    Attributes:
        practice: where units and acts are kept.
        bench: the job.
        settings: bench.yaml, for the source that a tester is tried on.
        step: what lies on the bench; None where no step does.
        meter: an instrument chosen for the step, None for the run's own.
        under: conditions that the unit is put to.
        by_hand: is the step timed by a hand? Then no instrument shows its times: a hand that knows them is bent.
        switched_off: True while the unit is made safe.
    """

    practice: PracticeDesk
    bench: Bench
    settings: BenchSettings
    step: Step | None = None
    meter: str | None = None
    under: tuple[str, ...] = ()
    by_hand: bool = False
    switched_off: bool = False

    def panel(self) -> Panel:
        """What is to be seen now."""
        source = self.settings.known_source
        panel = panel_for(
            self.practice.bench,
            self.bench.job,
            self.step,
            self.bench.moment(),
            self.hands,
            self._chosen_meter(),
            self.under,
            (source.title, source.limits),
            switched_off=self.switched_off,
        )
        return replace(panel, meters=()) if self.by_hand else panel

    def front(self, panel: Panel) -> Front:
        """Its front, as far as this panel tells of it."""
        return front_for(self.bench.job, self.step, panel, self.hands)

    def act(self) -> None:
        """The hand does what the step asks, once more."""
        key = self._key
        if key is not None:
            self.practice.done[key] = (self.hands.acts + 1, key_now_s())

    @property
    def hands(self) -> Hands:
        """What it did since the last try, whichever view of the unit it used."""
        key = self._key
        if key is None or key not in self.practice.done:
            return Hands()
        acts, at_s = self.practice.done[key]
        return Hands(acts, key_now_s() - at_s)

    @property
    def _key(self) -> tuple[str, str, int] | None:
        return None if self.step is None else (self.bench.job.id, self.step.id, len(self.bench.job.attempts))

    def _chosen_meter(self) -> InstrumentInUse | None:
        role = None if self.step is None else instrument_role(self.step)
        if self.meter is None or role is None:
            return None
        found = instrument_for(self.bench.job, role, self.meter, self.bench.outside())
        return found if isinstance(found, InstrumentInUse) else None

"""What is known of a job once its events are folded?

Plain frozen values. Nothing here judges: whether an attempt still counts, whether power may be told on, what stands
against a sign-off are questions asked of this state by the modules beside it.
"""

from dataclasses import dataclass, field
from typing import Literal

from passcheck.job.answers import Answer
from passcheck.job.events import (
    Action,
    AttemptVoided,
    CautionAcknowledged,
    Event,
    InstrumentInUse,
    JobOpened,
    Purpose,
    ReferenceTapped,
    ReturnedInPart,
    ReturnedUnrepaired,
    ReworkLogged,
    RunStarted,
    SignedOff,
    Unrecognised,
)
from passcheck.job.moment import Measured, Moment
from passcheck.judge.judgement import Judgement
from passcheck.sequence.model import Sequence

Told = Literal["off", "on", "unknown", "soaking"]
ChangeKind = Literal["rework", "incident", "case opened", "new revision", "failed soak check"]
Ending = Literal["signed off", "returned unrepaired", "returned repaired in part"]
Left = SignedOff | ReturnedUnrepaired | ReturnedInPart
"""What is known of a job's end beside when and by whom."""


@dataclass(frozen=True, slots=True)
class Recorded:
    """One event as the journal holds it: its line number, when, and by whom."""

    number: int
    moment: Moment
    by: str
    event: Event


@dataclass(frozen=True, slots=True)
class Run:
    """One pass through the steps of a purpose; `outcome` is None while it is open."""

    number: int
    line: int
    purpose: Purpose
    started: Moment
    by: str
    facts: RunStarted
    outcome: str | None = None


@dataclass(frozen=True, slots=True)
class Attempt:
    """One try at a step, with the void that was laid on it, if any."""

    number: int
    line: int
    run: int
    purpose: Purpose
    revision: int
    step: str
    answer: Answer
    judgement: Judgement
    instrument: InstrumentInUse | None
    note: str
    photos: tuple[str, ...]
    by: str
    second: str | None
    moment: Moment
    measured_at: str | None
    typed_twice: bool
    latency_s: str | None = None
    latency_u_s: str | None = None
    reference: int | None = None
    measured_ms: int = 0  # on the job's own measured time
    conditions: tuple[str, ...] = ()
    void: AttemptVoided | None = None


@dataclass(frozen=True, slots=True)
class Timing:
    """Taps of a step that were begun; `broken_off` says why they came to nothing, "" while they are under way."""

    step: str
    line: int
    by: str
    broken_off: str = ""


@dataclass(frozen=True, slots=True)
class Reference:
    """A block of reference trials that a person tapped in a run, or took over from earlier in the day."""

    number: int
    line: int
    run: int
    by: str
    moment: Moment
    facts: ReferenceTapped


@dataclass(frozen=True, slots=True)
class Note:
    """Words and photo paths; `step` is None for the job as a whole."""

    line: int
    text: str
    step: str | None
    photos: tuple[str, ...]
    by: str
    moment: Moment


@dataclass(frozen=True, slots=True)
class Change:
    """Something that may have made results worthless: what it was called and the blocks it touched."""

    line: int
    kind: ChangeKind
    number: int
    blocks: tuple[str, ...]
    words: str
    moment: Moment
    by: str
    firmware: bool = False
    repair: bool = False  # fit for use, but not as drawn
    changed_steps: tuple[str, ...] | None = None  # a new revision whose author marked what changed; None: all


@dataclass(frozen=True, slots=True)
class PowerChange:
    """What was told of one supply, and at which line."""

    line: int
    supply: str
    told: Told
    moment: Moment
    volts: str = ""
    current_limit: str = ""


@dataclass(frozen=True, slots=True)
class SoakLook:
    """One look at a soaking unit, the start being the first; `good` is False where serial or supply was wrong."""

    line: int
    moment: Moment
    measured: Measured
    volts: str
    amps: str
    continuity: str | None
    ambient: str | None
    good: bool = True
    cycles: int = 0
    lost: str = ""


@dataclass(frozen=True, slots=True)
class SoakLeg:
    """A soak from a start to an end at power; `ended_line` is None while it goes on."""

    step: str
    supply: str
    line: int
    unattended: tuple[str, ...]
    looks: tuple[SoakLook, ...]
    cycled: tuple[int, ...] = ()  # lines at which power was told off and on again
    ended_line: int | None = None
    ended: str = ""


@dataclass(frozen=True, slots=True)
class Fitted:
    """Something changed for a test and not yet put back; a shorting lead forbids power.

    Where `cleared_by` isn't empty, only a rework on all of `parts` with one of these actions takes it off the list.
    """

    change: str
    words: str
    line: int
    forbids_power: bool = False
    parts: tuple[str, ...] = ()
    cleared_by: tuple[Action, ...] = ()


@dataclass(frozen=True, slots=True)
class PutBack:
    """Something fitted or set for a test that was taken off or set back: what it was, how, by whom, when."""

    words: str
    how: str
    by: str
    moment: Moment


@dataclass(frozen=True, slots=True)
class Acknowledged:
    """A hazard message that was answered."""

    line: int
    by: str
    moment: Moment
    facts: CautionAcknowledged


@dataclass(frozen=True, slots=True)
class Jotting:
    """A loose reading, kept and never counted."""

    point: str
    value: str
    meter: str
    by: str
    moment: Moment


@dataclass(frozen=True, slots=True)
class Proposal:
    """Work that the owner is asked to agree to, a line a thing; the latest replaces those before it on papers."""

    lines: tuple[str, ...]
    by: str
    moment: Moment
    line: int


@dataclass(frozen=True, slots=True)
class Agreement:
    """What the owner agreed to, who agreed or took the word, who entered it, and when."""

    scope: str
    who: str
    by: str
    moment: Moment
    line: int = 0


@dataclass(frozen=True, slots=True)
class Job:
    """Everything that is known of one visit of one unit."""

    facts: JobOpened
    sequence: Sequence
    sequence_digest: str
    opened: Moment
    opened_by: str
    last: Moment
    lines: int
    measured: Measured
    holder: str  # who has the job in hand: the opener until a hand-over
    symptoms: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    runs: tuple[Run, ...] = ()
    attempts: tuple[Attempt, ...] = ()
    timing: Timing | None = None  # the taps that were begun last
    broken_off: tuple[Timing, ...] = ()
    references: tuple[Reference, ...] = ()
    notes: tuple[Note, ...] = ()
    changes: tuple[Change, ...] = ()
    reworks: tuple[ReworkLogged, ...] = ()
    open_incidents: tuple[int, ...] = ()
    acknowledged: tuple[Acknowledged, ...] = ()
    alerts: tuple[int, ...] = ()  # lines after which a caution asks for its fact again
    power: tuple[PowerChange, ...] = ()
    told: tuple[PowerChange, ...] = ()  # of these, the latest of each supply
    made_safe_line: int | None = None  # last time every point was proved dead
    fitted: tuple[Fitted, ...] = ()
    put_back: tuple[PutBack, ...] = ()
    jottings: tuple[Jotting, ...] = ()
    proposed: tuple[Proposal, ...] = ()
    agreed: tuple[Agreement, ...] = ()
    soaks: tuple[SoakLeg, ...] = ()
    refused: tuple[str, ...] = ()
    ended: Ending | None = None
    ended_by: str | None = None
    left: Left | None = None  # the facts of the end
    unrecognised: tuple[Unrecognised, ...] = field(default=())

    @property
    def id(self) -> str:
        """The job's number, such as A31-0417."""
        return self.facts.job

    @property
    def serial(self) -> str:
        """The unit's serial number as given on arrival."""
        return self.facts.serial

    @property
    def open_run(self) -> Run | None:
        """The run that is under way."""
        return self.runs[-1] if self.runs and self.runs[-1].outcome is None else None

    @property
    def open_soak(self) -> SoakLeg | None:
        """The soak that goes on."""
        return self.soaks[-1] if self.soaks and self.soaks[-1].ended_line is None else None

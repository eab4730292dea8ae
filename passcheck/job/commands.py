"""What can be asked of a job: verbs with their facts.

`decide` answers each with events or with a `Refusal` that gives its reason. Every command says who asks.
"""

from dataclasses import dataclass
from typing import Literal

from passcheck.job.answers import Answer, HowStamped, TapPair, TapRow
from passcheck.job.events import Action, LeftOld, PointProof, Purpose, ReferencePair


@dataclass(frozen=True, slots=True)
class MapComplaint:
    """Match the owner's words to symptoms of the sequence."""

    by: str
    symptoms: tuple[str, ...]
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StartRun:
    """Begin a pass through the steps of a purpose; `instruments` pairs each role with an instrument of the bench."""

    by: str
    purpose: Purpose
    serial: str
    instruments: tuple[tuple[str, str], ...] = ()
    ambient_c: str | None = None
    second: str | None = None
    again: bool = False  # a retest of the symptom that failed and nothing else


@dataclass(frozen=True, slots=True)
class CloseRun:
    """End the open run."""

    by: str


@dataclass(frozen=True, slots=True)
class Acknowledge:
    """Answer a hazard message; `fact` is what the bench's display shows, where one is asked."""

    by: str
    caution: str
    fact: str | None = None


@dataclass(frozen=True, slots=True)
class Energise:
    """Tell that a supply is on for the step at hand, with the volts and the current limit its display shows."""

    by: str
    step: str
    volts: str
    current_limit: str


@dataclass(frozen=True, slots=True)
class ReadSupply:
    """Give a supply's display after an absence."""

    by: str
    supply: str
    volts: str
    amps: str
    limit_light: bool


@dataclass(frozen=True, slots=True)
class TellPower:
    """Tell that all supplies were switched off, or off and on again within the step, or are still as they were told."""

    by: str
    told: Literal["off", "cycled", "on"]
    why: str = ""


@dataclass(frozen=True, slots=True)
class CallMakeSafe:
    """The make-safe key was pressed; from here power is unknown until the points are measured."""

    by: str


@dataclass(frozen=True, slots=True)
class ProveDead:
    """Give the measurements that show the unit discharged; `at_supply` where little energy lets one reading do."""

    by: str
    tester: str
    points: tuple[PointProof, ...] = ()
    at_supply: str | None = None
    shorting_lead: bool = False


@dataclass(frozen=True, slots=True)
class Attempt:
    """Try a step; `again` is the same answer given a second time, asked for when the first lies outside its limits."""

    by: str
    step: str
    answer: Answer
    again: Answer | None = None
    note: str = ""
    photos: tuple[str, ...] = ()
    instrument: str | None = None  # absent: the one the run took up for the step's role
    second: str | None = None
    second_pin: str = ""
    measured_at: str | None = None
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class VoidAttempt:
    """Withdraw an attempt."""

    by: str
    attempt: int
    reason: str
    bench_cause: str | None = None
    shown_gone: str | None = None


@dataclass(frozen=True, slots=True)
class BeginTiming:
    """Say that the taps of a step begin now."""

    by: str
    step: str


@dataclass(frozen=True, slots=True)
class InterruptTiming:
    """Say that the taps of a step were broken off, with what was tapped."""

    by: str
    step: str
    why: str
    pairs: tuple[TapPair, ...] = ()
    rows: tuple[TapRow, ...] = ()


@dataclass(frozen=True, slots=True)
class TapReference:
    """Give a block of reference trials, or an earlier one of the day (`walked`) with the trials that check it."""

    by: str
    middle_s: str
    trials: tuple[ReferencePair, ...]
    how: HowStamped
    walked: str | None = None
    checked: tuple[ReferencePair, ...] = ()


@dataclass(frozen=True, slots=True)
class AddNote:
    """Add words and photo paths."""

    by: str
    text: str
    step: str | None = None
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ReportIncident:
    """Say that something went wrong at the bench."""

    by: str
    blocks: tuple[str, ...]
    what: str


@dataclass(frozen=True, slots=True)
class LogRework:
    """Enter what was done to the unit."""

    by: str
    blocks: tuple[str, ...]
    parts: tuple[str, ...]
    action: Action
    reason: str
    part_number: str = ""
    repair: bool = False
    left_old: tuple[LeftOld, ...] = ()
    photos: tuple[str, ...] = ()
    incident: int | None = None
    donor: str = ""


@dataclass(frozen=True, slots=True)
class OpenCase:
    """Say that the case was opened without touching anything inside."""

    by: str
    why: str


@dataclass(frozen=True, slots=True)
class UndoChange:
    """Say that something fitted or set for a test was put back."""

    by: str
    change: str
    how: str


@dataclass(frozen=True, slots=True)
class StartSoak:
    """Begin a soak: the supply as its display shows it, and what shows that power stays on.

    `unattended` is empty, or names the fuse, the place it stands in, the thermal cut-out and who can be reached.
    """

    by: str
    step: str
    volts: str
    amps: str
    limit_light: bool
    witness: str | None = None
    ambient: str | None = None
    unattended: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Seen:
    """What a look at a soaking unit shows, before any of its steps; `continuity` is None where nothing shows it."""

    serial: str
    volts: str
    amps: str
    limit_light: bool
    continuity: str | None = None
    ambient: str | None = None


@dataclass(frozen=True, slots=True)
class CheckSoak:
    """Look at a soaking unit; `again` is the same, given once more where the first was not as it should be."""

    by: str
    step: str
    seen: Seen
    again: Seen | None = None
    cycles: int = 0
    lost: str = ""


@dataclass(frozen=True, slots=True)
class BreakSoak:
    """Say that a soak ended early."""

    by: str
    step: str
    why: str


@dataclass(frozen=True, slots=True)
class FinishSoak:
    """Say that a soak is walked to its end; refused while it is short."""

    by: str
    step: str


@dataclass(frozen=True, slots=True)
class HandOver:
    """Pass the job to another person."""

    by: str
    to: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Propose:
    """Write down what the owner is asked to agree to, a line a thing."""

    by: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AgreeOwner:
    """Note what the owner agreed to."""

    by: str
    scope: str
    who: str


@dataclass(frozen=True, slots=True)
class Jot:
    """Keep a loose reading."""

    by: str
    point: str
    value: str
    meter: str = ""


@dataclass(frozen=True, slots=True)
class ReviseSequence:
    """Go on under today's sequence file."""

    by: str
    sequence_text: str
    sequence_digest: str
    why: str


@dataclass(frozen=True, slots=True)
class SignOff:
    """Release the unit: its serial read off the unit once more, and the signer's PIN where one is kept."""

    by: str
    serial: str
    pin: str = ""
    second: str | None = None
    second_pin: str = ""


@dataclass(frozen=True, slots=True)
class ReturnUnrepaired:
    """Let the unit leave without passing."""

    by: str
    reason: str
    pin: str = ""


@dataclass(frozen=True, slots=True)
class ReturnInPart:
    """Let the unit leave with open points, by its owner's choice."""

    by: str
    agreed: str
    pin: str = ""


Command = (
    MapComplaint
    | StartRun
    | CloseRun
    | Acknowledge
    | Energise
    | ReadSupply
    | TellPower
    | CallMakeSafe
    | ProveDead
    | Attempt
    | VoidAttempt
    | BeginTiming
    | InterruptTiming
    | TapReference
    | AddNote
    | ReportIncident
    | LogRework
    | OpenCase
    | UndoChange
    | StartSoak
    | CheckSoak
    | BreakSoak
    | FinishSoak
    | HandOver
    | Propose
    | AgreeOwner
    | Jot
    | ReviseSequence
    | SignOff
    | ReturnUnrepaired
    | ReturnInPart
)


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a command was not carried out, and what lifts the refusal.

    Attributes:
        code: what a screen may act on; never shown.
        sentence: the reason, as the technician reads it.
        lift: the act that would change the answer.
    """

    code: Literal[
        "ended",
        "no run",
        "order",
        "power",
        "caution",
        "fact",
        "needs",
        "instrument",
        "person",
        "entry",
        "type again",
        "reference",
        "soak",
        "unit",
        "blocked",
        "records",
    ]
    sentence: str
    lift: str = ""

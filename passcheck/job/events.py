"""What can happen to a job: every event there is, in the past tense.

State is a fold of these and nothing else. Each has one tag in `tags.py`; a journal line that can't be read into one of
them is a loud error; a tag that this version doesn't know becomes `Unrecognised`, is kept, shown, and blocks sign-off.
Quantities are the text that was typed; numbers of a judgement are decimal strings, never computed again on replay.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from passcheck.job.answers import AnswerByShape, HowStamped, TapPair, TapRow
from passcheck.judge.judgement import Judgement

Purpose = Literal["as-found", "retest", "acceptance", "burn-in", "good-unit"]
Action = Literal[
    "replaced",
    "reflowed",
    "cleaned",
    "adjusted",
    "jumper",
    "firmware",
    "inspected",
    "leg lifted",
    "swapped in",
    "put back",
]


@dataclass(frozen=True, slots=True)
class JobOpened:
    """A unit arrived: who it is, the owner's words, and the whole text of the sequence it will be tested by."""

    job: str
    serial: str
    complaint: str
    condition: str
    sequence_text: str
    sequence_digest: str
    variants: tuple[str, ...]
    bench: str
    tool: str
    boot_id: str
    offset_min: int
    ledger_bytes: int
    ledger_digest: str
    practice: bool = False
    format: int = 1
    needs: tuple[str, ...] = ()
    arrived_with: str = ""  # the first job of the same arrival, where several units came in together


@dataclass(frozen=True, slots=True)
class ComplaintMapped:
    """The owner's words were matched to symptoms of the sequence, and to the conditions to try them under."""

    symptoms: tuple[str, ...]
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class InstrumentInUse:
    """One instrument as it stood when it was taken up: role, accuracy and due date are those it was used with."""

    role: str
    instrument: str
    title: str
    accuracy: str
    due: str


@dataclass(frozen=True, slots=True)
class RunStarted:
    """One pass through the steps of a purpose began, with the unit's serial read off the unit again."""

    run: int
    purpose: Purpose
    revision: int
    sequence_digest: str
    serial_scanned: str
    instruments: tuple[InstrumentInUse, ...]
    ambient_c: str | None = None
    second: str | None = None  # the person within call
    again: bool = False  # a retest of the symptom alone, with what comes before its power


@dataclass(frozen=True, slots=True)
class CautionAcknowledged:
    """A hazard message was answered, with the fact that the bench's display gave where one was asked."""

    caution: str
    text_hash: str
    run: int
    asked: str | None = None
    given: str | None = None


@dataclass(frozen=True, slots=True)
class Energised:
    """The technician told that a supply is on, as set on its own display."""

    supply: str
    volts: str
    current_limit: str
    step: str


@dataclass(frozen=True, slots=True)
class SupplyRead:
    """A supply's display was read after an absence; plausible readings restore what was told."""

    supply: str
    volts: str
    amps: str
    limit_light: bool
    restored: bool


@dataclass(frozen=True, slots=True)
class PowerTold:
    """Something else was told of the supplies: off (not yet proved dead), unknown, off and on again, still on."""

    told: Literal["off", "unknown", "cycled", "on"]
    supplies: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True)
class PointProof:
    """One point measured dead: tester tried on a known source, both polarities, a wait, again, tester tried again."""

    at: str
    source_before: str
    forward: str
    reverse: str
    waited_s: int
    again: str
    source_after: str
    ac: str | None = None


@dataclass(frozen=True, slots=True)
class MadeSafe:
    """The supplies are off and every named point was measured discharged."""

    tester: str
    points: tuple[PointProof, ...]
    at_supply: str | None = None  # little energy: one reading at the supply stands for the points
    shorting_lead: bool = False


@dataclass(frozen=True, slots=True)
class AttemptJudged:
    """One try at a step: what was observed, with what, and what it amounts to."""

    attempt: int
    run: int
    step: str
    answer: AnswerByShape
    judgement: Judgement
    instrument: InstrumentInUse | None = None
    note: str = ""
    photos: tuple[str, ...] = ()
    second: str | None = None
    measured_at: str | None = None  # a late entry: when it was measured, UTC
    typed_twice: bool = False
    latency_s: str | None = None  # of the bench, where taps were judged with it
    latency_u_s: str | None = None
    reference: int | None = None  # the block of reference trials that stood beside them
    conditions: tuple[str, ...] = ()  # what the unit was put to meanwhile, such as warm or vibration


@dataclass(frozen=True, slots=True)
class AttemptVoided:
    """An attempt was withdrawn, with the reason; a fail stays unless a bench cause was named and shown gone."""

    attempt: int
    reason: str
    bench_cause: str | None = None
    shown_gone: str | None = None


@dataclass(frozen=True, slots=True)
class TimingBegun:
    """The taps of a step began; without an attempt after it they were broken off and are void."""

    run: int
    step: str


@dataclass(frozen=True, slots=True)
class TimingInterrupted:
    """The taps of a step were broken off: all of them are void, and kept as they were."""

    step: str
    why: str
    pairs: tuple[TapPair, ...] = ()
    rows: tuple[TapRow, ...] = ()


@dataclass(frozen=True, slots=True)
class ReferencePair:
    """One reference trial, raw, in seconds of the clock.

    The programmed delay; the press of the stand-in key and the tap beside it; when the light was drawn; the tap at the
    light; why it is void.
    """

    programmed: str
    pressed: str
    start: str
    drawn: str | None
    stop: str | None
    void: str = ""


@dataclass(frozen=True, slots=True)
class ReferenceTapped:
    """A person tapped a block of reference trials, or five that show that the day's block still holds.

    `trials` are those of the block; `walked` says when it was tapped, where that was before this run, and `checked` are
    then the trials of the check.
    """

    block: int
    run: int
    middle_s: str
    trials: tuple[ReferencePair, ...]
    how: HowStamped
    terminal: str
    walked: str | None = None
    checked: tuple[ReferencePair, ...] = ()


@dataclass(frozen=True, slots=True)
class NoteAdded:
    """Words and photo paths, on a step or on the job."""

    text: str
    step: str | None = None
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class IncidentReported:
    """Smoke, a slipped probe, a tripped limit: as far as results go it counts as a rework."""

    incident: int
    blocks: tuple[str, ...]
    what: str


@dataclass(frozen=True, slots=True)
class LeftOld:
    """A part of a group renewed together that was left, and why."""

    part: str
    reason: str


@dataclass(frozen=True, slots=True)
class ReworkLogged:
    """Something was done to the unit."""

    rework: int
    blocks: tuple[str, ...]
    parts: tuple[str, ...]
    action: Action
    reason: str
    part_number: str = ""
    repair: bool = False  # made fit for use but not as drawn
    left_old: tuple[LeftOld, ...] = ()
    photos: tuple[str, ...] = ()
    incident: int | None = None  # the incident it answers
    donor: str = ""  # serial of the unit that a part was swapped in from


@dataclass(frozen=True, slots=True)
class CaseOpened:
    """The case was opened and nothing inside was touched."""

    why: str


@dataclass(frozen=True, slots=True)
class ChangeUndone:
    """Something fitted or set for a test was put back."""

    change: str
    how: str


@dataclass(frozen=True, slots=True)
class SoakStarted:
    """A soak began: the step, the supply as read, and for an unattended one the facts that allow it."""

    step: str
    supply: str
    volts: str
    amps: str
    witness: str | None = None  # what shows that power stays on, as it stands now
    unattended: tuple[str, ...] = ()  # fuse, place, cut-out, a reachable person
    ambient: str | None = None


@dataclass(frozen=True, slots=True)
class SoakChecked:
    """A soaking unit was looked at: serial and supply read, and the sign that power had stayed on.

    `continuity` is None where nothing shows it, and `lost` then says why, if anybody knows. `good` is False where the
    serial or the supply was wrong; the soak is then interrupted.
    """

    step: str
    serial_scanned: str
    volts: str
    amps: str
    continuity: str | None
    good: bool
    ambient: str | None = None
    cycles: int = 0  # planned times off and on since the look before, by a switch or a timer
    lost: str = ""


@dataclass(frozen=True, slots=True)
class SoakInterrupted:
    """A soak ended early."""

    step: str
    why: str


@dataclass(frozen=True, slots=True)
class HandedOver:
    """Another person took the job on."""

    to: str
    note: str


@dataclass(frozen=True, slots=True)
class Resumed:
    """The program opened the job again: after how long (unknown across a restart of the machine) and on what clock."""

    boot_id: str
    offset_min: int
    tool: str
    away_ms: int | None


@dataclass(frozen=True, slots=True)
class RunClosed:
    """A run ended; an as-found run ends in an outcome, never in a sign-off."""

    run: int
    outcome: str


@dataclass(frozen=True, slots=True)
class SignOffRefused:
    """A sign-off was asked for and these sentences stood against it."""

    blockers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SignedOff:
    """A named person released the unit; the journal is sealed."""

    serial_scanned: str
    meaning: str
    second: str | None = None


@dataclass(frozen=True, slots=True)
class ReturnedUnrepaired:
    """The unit left without passing; not a release. The journal is sealed."""

    reason: str


@dataclass(frozen=True, slots=True)
class ReturnedInPart:
    """The unit left with open points by its owner's choice; not a release. The journal is sealed."""

    points: tuple[str, ...]
    agreed: str


@dataclass(frozen=True, slots=True)
class WorkProposed:
    """The owner was, or is to be, asked to agree to this work: one line a thing, so that he can agree to some of them.

    Papers show the latest proposal; those before it stay in the record.
    """

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class OwnerAgreed:
    """The owner agreed to something: what, and who took the word."""

    scope: str
    who: str


@dataclass(frozen=True, slots=True)
class Jotted:
    """A loose reading while fault-finding: kept, never counted."""

    point: str
    value: str
    meter: str


@dataclass(frozen=True, slots=True)
class SequenceRevised:
    """The job goes on under a newer revision of its sequence."""

    sequence_text: str
    sequence_digest: str
    why: str


@dataclass(frozen=True, slots=True)
class Mended:
    """The records found bytes that were no whole line and closed them off; nothing was cut away."""

    first_byte: int
    bytes: int
    digest: str


@dataclass(frozen=True, slots=True)
class Moved:
    """The records went on in a new file after the disk refused to keep the old one."""

    digest: str
    why: str


@dataclass(frozen=True, slots=True)
class Unrecognised:
    """A line written by a later version: kept as it is."""

    tag: str
    data: Mapping[str, object]


Event = (
    JobOpened
    | ComplaintMapped
    | RunStarted
    | CautionAcknowledged
    | Energised
    | SupplyRead
    | PowerTold
    | MadeSafe
    | AttemptJudged
    | AttemptVoided
    | TimingBegun
    | TimingInterrupted
    | ReferenceTapped
    | NoteAdded
    | IncidentReported
    | ReworkLogged
    | CaseOpened
    | ChangeUndone
    | SoakStarted
    | SoakChecked
    | SoakInterrupted
    | HandedOver
    | Resumed
    | RunClosed
    | SignOffRefused
    | SignedOff
    | ReturnedUnrepaired
    | ReturnedInPart
    | WorkProposed
    | OwnerAgreed
    | Jotted
    | SequenceRevised
    | Mended
    | Moved
    | Unrecognised
)

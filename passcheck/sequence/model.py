"""What is a sequence: the hazards, blocks, symptoms and steps of one board type?

Frozen pydantic models, one class for each kind of step. Only shapes live here; what a single field can't show (a step
that is needed but absent, a limit its meter can't decide) is the business of `rules.py`.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints

from passcheck.sequence.quantities import AccuracyText, LimitsText, QuantityText


class Part(BaseModel):
    """The root of every model here: frozen, and an entry it doesn't know is a fault."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, populate_by_name=True, defer_build=True)


def _one_or_many(written: object) -> object:
    """A list may be written as its only member; members become a tuple, so that the model stays frozen."""
    if isinstance(written, str):
        return (written,)
    return tuple(written) if isinstance(written, list) else written


def _listed(written: object) -> object:
    return tuple(written) if isinstance(written, list) else written


def _entry_or_list(written: object) -> object:
    return (written,) if isinstance(written, dict) else _listed(written)


def _exact(written: object) -> object:
    """A plain number of the file as an exact decimal."""
    return Decimal(str(written)) if isinstance(written, int | float) and not isinstance(written, bool) else written


Text = Annotated[str, StringConstraints(min_length=1, max_length=4000, strip_whitespace=True)]
StepId = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{0,39}$")]
Name = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.+-]{0,39}$")]
Texts = Annotated[tuple[Text, ...], BeforeValidator(_one_or_many, json_schema_input_type=Text | tuple[Text, ...])]
StepIds = Annotated[
    tuple[StepId, ...], BeforeValidator(_one_or_many, json_schema_input_type=StepId | tuple[StepId, ...])
]
Names = Annotated[tuple[Name, ...], BeforeValidator(_one_or_many, json_schema_input_type=Name | tuple[Name, ...])]

_PlainMinutes = Annotated[float, Field(gt=0, le=600)]
Minutes = Annotated[Decimal, Field(gt=0, le=600), BeforeValidator(_exact, json_schema_input_type=_PlainMinutes)]

Signal = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
Colour = Literal["red", "amber", "yellow", "green", "blue", "white"]
Role = Literal["arrival", "before-power", "first-power", "final"]
StepClass = Literal["functional", "codes", "memory", "bus"]
Grade = Literal["A", "B", "C", "D", "E"]
HowOften = Literal["always", "usually", "sometimes", "rarely", "never"]
Kind = Literal[
    "reading",
    "power-up",
    "response",
    "presses",
    "lamps",
    "sweep",
    "marks",
    "codes",
    "grade",
    "look",
    "count",
    "table",
    "soak",
]

NO_SUPPLY = "none"
ALL_BLOCKS = "all"


class Confirm(Part):
    """A fact that the bench's own display shows: what to ask, and the limits a truthful answer lies in."""

    ask: Text
    limits: LimitsText


class Caution(Part):
    """One hazard message: what it is, what it does, what to do, when to stop (ANSI Z535.6 order)."""

    signal: Signal
    hazard: Text
    harm: Text
    avoid: Texts
    stop_if: Text
    confirm: Annotated[
        tuple[Confirm, ...], BeforeValidator(_entry_or_list, json_schema_input_type=Confirm | tuple[Confirm, ...])
    ] = ()


class Supply(Part):
    """One way of powering the unit on the bench, as the technician sets it up."""

    nominal: QuantityText
    range: LimitsText
    current_limit: QuantityText
    supply_class: Literal["extra-low", "hazardous-live"] = Field(alias="class")
    connect: Text
    cautions: Names = ()
    working_current: QuantityText | None = None  # the most a unit takes in any step; absent: the top at power-up


class StoredEnergy(Part):
    """A place that stays charged after the supply is off: where, how much, and when it counts as discharged."""

    at: Text
    capacitance: QuantityText
    discharged_below: QuantityText
    wait: QuantityText
    voltage: QuantityText | None = None  # the most it can hold; absent: the top of the highest supply range
    ac: bool = False  # to be proved dead on AC as well
    discharge: Text | None = None  # the tool, such as a 100 Ω lead
    cautions: Names = ()


class InstrumentNeed(Part):
    """The least instrument that will do for the steps that name this role."""

    accuracy: AccuracyText


class Block(Part):
    """A circuit area: its parts, the blocks it feeds, and the groups whose parts age alike."""

    title: Text
    parts: Names = ()
    feeds: Names = ()
    renew_together: Annotated[tuple[Names, ...], BeforeValidator(_listed)] = ()


class Symptom(Part):
    """What a complaint looks like on the bench: the steps that show it and the conditions to try."""

    says: Text
    steps: StepIds
    conditions: Texts = Field(default=(), alias="try")


class BaseStep(Part):
    """What every step has, whatever its kind."""

    id: StepId
    title: Text
    power: Name = NO_SUPPLY
    proves: Names = ()
    needs: StepIds = ()
    cautions: Names = ()
    do: Texts = ()
    role: Role | None = None
    step_class: StepClass = Field(default="functional", alias="class")
    method: Literal["taps", "instrument", "either"] = "either"
    instrument: Name | None = None
    restore: Text | None = None  # what this step changes and must be put back before the unit leaves
    witness: bool = False  # a second person sees the observation
    photo: bool = False
    note: bool = False  # a note is required
    minutes: Minutes = Decimal(1)
    depends_on: StepIds = ()
    rule: Literal["guarded", "simple"] = "guarded"
    variant: Name | None = None  # walked only where this variant was chosen on arrival
    touches: bool = True  # hands or probes reach the unit's circuits
    unplugged: Names = ()  # supplies that must be physically out
    changed_in: int | None = None  # the revision that changed this step
    heading: Text | None = None  # opens a group of rows on the traveller
    fails_when: Mapping[Name, HowOften] = {}  # how often a fault in that block shows here; absent: as `proves` tells


class Derive(Part):
    """A value worked out from two readings of this run, never typed."""

    form: Literal["product", "ratio", "drop"]
    of: Annotated[tuple[StepId, StepId], BeforeValidator(_listed)]
    same_meter: bool = False


class Component(Part):
    """A part measured in its circuit: parallel paths can only lower what the meter shows."""

    nominal: QuantityText
    tolerance: QuantityText
    parallel: QuantityText | None = None
    parallel_tolerance: QuantityText | None = None
    expected: LimitsText | None = None  # what this node reads on a good board


class Node(Part):
    """A node measured to 0 V: at a stated polarity, after a stated time."""

    polarity: Text
    settle: QuantityText
    known_good: QuantityText | None = None


class ReadingStep(BaseStep):
    """A quantity read from an instrument, or derived from two such readings."""

    kind: Literal["reading"]
    at: Text | None = None
    limits: LimitsText | None = None  # absent only for a component, whose nominal and tolerance give them
    seen: LimitsText | None = None  # the band in which any real reading lies; outside it nothing was touched
    leads: LimitsText | None = None  # what the shorted leads must read first
    typical: QuantityText | None = None
    readings: int = Field(default=1, ge=1, le=10)
    derive: Derive | None = None
    component: Component | None = None
    node: Node | None = None


class PowerUpStep(BaseStep):
    """The first power after work: current-limited, idle current and limit light watched."""

    kind: Literal["power-up"]
    limits: LimitsText
    after: QuantityText
    set: QuantityText | None = None  # absent: the supply's nominal


class ResponseStep(BaseStep):
    """How long after a press the unit answers."""

    kind: Literal["response"]
    press: Text
    watch: Text
    limits: LimitsText


class PressesStep(BaseStep):
    """So many presses, so many counts, and where `limits` says so all in time."""

    kind: Literal["presses"]
    press: Texts
    watch: Text
    times: int = Field(default=10, ge=2, le=200)
    limits: LimitsText | None = None


class Lamp(Part):
    """One indicator."""

    ref: Name
    colour: Colour
    shows: Text | None = None


class LampsStep(BaseStep):
    """Indicators: state and colour, each alone, or a blink rate."""

    kind: Literal["lamps"]
    lamps: Annotated[tuple[Lamp, ...], BeforeValidator(_listed)]
    check: Literal["state", "alone", "rate"] = "state"
    on_within: LimitsText | None = None
    off_after: LimitsText | None = None
    limits: LimitsText | None = None  # the rate, in Hz


class SweepStep(BaseStep):
    """A pointer over its whole arc: time up, time down, hesitation."""

    kind: Literal["sweep"]
    gauge: Text
    up: LimitsText
    down: LimitsText
    marks: int = Field(default=4, ge=2, le=20)
    angle: QuantityText | None = None


class Mark(Part):
    """One cardinal mark: what is fed and where the pointer must stand."""

    feed: Text
    mark: Text
    value: QuantityText


class MarksStep(BaseStep):
    """A pointer at its cardinal marks, rising and (where `both_ways`) falling."""

    kind: Literal["marks"]
    gauge: Text
    marks: Annotated[tuple[Mark, ...], BeforeValidator(_listed)]
    tolerance: QuantityText
    readability: QuantityText
    both_ways: bool = True


class Provoke(Part):
    """A fault made on purpose and the code it must raise."""

    do: Text
    code: Name
    within: LimitsText | None = None


class CodesStep(BaseStep):
    """Fault codes as a set: expected on this bench, must be absent, provoked, cleared and staying clear."""

    kind: Literal["codes"]
    expected: Names
    absent: Names
    provoke: Annotated[tuple[Provoke, ...], BeforeValidator(_listed)]
    clear: Text | None = None


class GradeStep(BaseStep):
    """The functional status class after a disturbance (ISO 16750-1, A best, E worst)."""

    kind: Literal["grade"]
    disturbance: Text
    worst: Grade
    limits: LimitsText | None = None  # time to recover


class LookStep(BaseStep):
    """An inspection list."""

    kind: Literal["look"]
    points: Texts


class CountStep(BaseStep):
    """So many of something: beeps, starts."""

    kind: Literal["count"]
    of: Text
    wanted: int = Field(ge=0, le=10_000)


class Row(Part):
    """One input and the output it must give."""

    put: Text
    limits: LimitsText


class TableStep(BaseStep):
    """Inputs fed one by one, outputs read."""

    kind: Literal["table"]
    rows: Annotated[tuple[Row, ...], BeforeValidator(_listed)]


class SoakStep(BaseStep):
    """Hours at power with checks: it brings out early failures, it proves no life."""

    kind: Literal["soak"]
    hours: QuantityText
    check: StepIds
    every: QuantityText
    cycles: int = Field(default=0, ge=0, le=10_000)
    warm_up: QuantityText | None = None
    ambient: LimitsText | None = None
    continuous: bool = True
    continuity: Text | None = None  # what shows that power stayed on between two checks
    unattended: bool = False
    enclosed: bool = False
    off: QuantityText | None = None  # how long power is off in a planned cycle; absent: one minute is not counted
    again_after_opening: bool = False  # an opened case with nothing touched asks for the soak again


Step = (
    ReadingStep
    | PowerUpStep
    | ResponseStep
    | PressesStep
    | LampsStep
    | SweepStep
    | MarksStep
    | CodesStep
    | GradeStep
    | LookStep
    | CountStep
    | TableStep
    | SoakStep
)
AnyStep = Annotated[Step, Field(discriminator="kind")]


class Sequence(Part):
    """One board type's file, whole."""

    sequence: Name
    revision: int = Field(ge=1)
    title: Text
    serial: Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9?._/+-]{1,40}$")] | None = (
        None  # mask: A letter, 9 digit
    )
    bench: Texts = ()  # what has to stand ready
    arrival: Texts = ()  # what to note when the unit comes in
    supplies: Mapping[Name, Supply]
    instruments: Mapping[Name, InstrumentNeed] = {}
    stored_energy: Annotated[tuple[StoredEnergy, ...], BeforeValidator(_listed)] = ()
    make_safe: Texts = ()
    cautions: Mapping[Name, Caution] = {}
    variants: Mapping[Name, Text] = {}
    blocks: Mapping[Name, Block]
    symptoms: Mapping[Name, Symptom] = {}
    short_round: StepIds = ()  # walked again after the case was opened; absent: what the soak checks
    results_last: QuantityText | None = None  # how long results as left stay good; absent: no end
    steps: Annotated[tuple[AnyStep, ...], BeforeValidator(_listed)]

    def step(self, step_id: str) -> Step:
        """The step of that id.

        Raises:
            KeyError: no step has it.
        """
        for step in self.steps:
            if step.id == step_id:
                return step
        raise KeyError(step_id)

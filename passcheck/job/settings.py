"""What does this bench have: which people, which instruments, until when are they in date?

The model of bench.yaml. It is read by the bench and handed to the core as a value; secrets (PIN hashes) and what the
program itself measured are kept apart from what people edit.
"""

from collections.abc import Mapping
from datetime import date
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from passcheck.job.kept_latency import KeptLatency
from passcheck.sequence.quantities import AccuracyText, LimitsText

PersonId = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9]{0,11}$")]
InstrumentId = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9-]{0,19}$")]
Label = Annotated[str, StringConstraints(min_length=1, max_length=120, strip_whitespace=True)]


class Entry(BaseModel):
    """The root of the settings' models: frozen, and an entry it doesn't know is a fault."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, defer_build=True)


class Person(Entry):
    """Somebody who works at this bench; the id is what the records show (initials or a staff number)."""

    name: Label
    role: Literal["technician", "lead", "second"] = "technician"
    hazardous_live: bool = False  # the shop's own authorisation for work on hazardous-live parts


class BenchInstrument(Entry):
    """One instrument: its accuracy for each role it fills, and the day its calibration falls due."""

    title: Label
    serial: Label | None = None
    due: date
    fills: Mapping[Label, AccuracyText]  # role of the sequences (voltmeter, ohmmeter, …) to accuracy
    withdrawn: bool = False
    doubtful_since: date | None = None  # found out of tolerance: readings from this day on are under review


class KnownSource(Entry):
    """What the tester is tried on before and after proving dead."""

    title: Label
    limits: LimitsText


class BenchSettings(Entry):
    """bench.yaml, whole, with what bench.json keeps: PIN hashes, the latency that was filmed, the tap key."""

    letter: Annotated[str, StringConstraints(pattern=r"^[A-Z]$")] = "A"
    shop: Label = "The shop"
    place: Label | None = None  # where the shop is, for the papers
    paper: Literal["a4", "letter"] = "a4"
    warranty_months: Annotated[int, Field(ge=1, le=240)] | None = None  # what the shop gives on a release
    shared_archive: Label | None = None  # a PostgreSQL address, where several benches share one archive
    people: Mapping[PersonId, Person]
    instruments: Mapping[InstrumentId, BenchInstrument]
    known_source: KnownSource
    tones: bool = True
    keys: Mapping[Label, Label] = {}  # binding id to key, where a user wants another
    pin_hashes: Mapping[PersonId, str] = Field(default={}, exclude=True)
    latency: KeptLatency | None = Field(default=None, exclude=True)
    tap_key: str | None = Field(default=None, exclude=True)

    def doubtful(self) -> Mapping[str, date]:
        """The instruments that were found out of tolerance, each with the day of its last good check."""
        days = {key: it.doubtful_since for key, it in self.instruments.items()}
        return {key: day for key, day in days.items() if day is not None}

    def filling(self, role: str, day: date) -> tuple[str, ...]:
        """Ids of the instruments that fill a role, those in date on that day first, withdrawn ones left out."""
        able = [key for key, it in self.instruments.items() if role in it.fills and not it.withdrawn]
        return tuple(sorted(able, key=lambda key: (self.instruments[key].due < day, list(self.instruments).index(key))))

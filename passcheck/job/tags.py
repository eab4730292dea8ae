"""Which word in a journal stands for which event, and how is one turned into the other?

The table is explicit: records outlive class names. Reading is strict about what an event needs and indifferent to
members that a later version added; a tag that isn't in the table becomes `Unrecognised`.
"""

from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from passcheck.errors import FileFault
from passcheck.job import events as happened
from passcheck.job.events import Event, Unrecognised

TAGS: Mapping[str, type[Any]] = {
    "job opened": happened.JobOpened,
    "complaint mapped": happened.ComplaintMapped,
    "run started": happened.RunStarted,
    "caution acknowledged": happened.CautionAcknowledged,
    "energised": happened.Energised,
    "supply read": happened.SupplyRead,
    "power told": happened.PowerTold,
    "made safe": happened.MadeSafe,
    "attempt judged": happened.AttemptJudged,
    "attempt voided": happened.AttemptVoided,
    "timing begun": happened.TimingBegun,
    "timing interrupted": happened.TimingInterrupted,
    "reference tapped": happened.ReferenceTapped,
    "note added": happened.NoteAdded,
    "incident reported": happened.IncidentReported,
    "rework logged": happened.ReworkLogged,
    "case opened": happened.CaseOpened,
    "change undone": happened.ChangeUndone,
    "soak started": happened.SoakStarted,
    "soak checked": happened.SoakChecked,
    "soak interrupted": happened.SoakInterrupted,
    "handed over": happened.HandedOver,
    "resumed": happened.Resumed,
    "run closed": happened.RunClosed,
    "sign-off refused": happened.SignOffRefused,
    "signed off": happened.SignedOff,
    "returned unrepaired": happened.ReturnedUnrepaired,
    "returned repaired in part": happened.ReturnedInPart,
    "work proposed": happened.WorkProposed,
    "owner agreed": happened.OwnerAgreed,
    "jotted": happened.Jotted,
    "sequence revised": happened.SequenceRevised,
    "mended": happened.Mended,
    "moved": happened.Moved,
}
_TAG_OF = {kind: tag for tag, kind in TAGS.items()}


_READERS: dict[str, Callable[[Mapping[str, object]], Any]] = {}


def _reader(tag: str) -> Callable[[Mapping[str, object]], Any]:
    """Reads one tag's facts; made when it is first needed, because making all of them costs a start-up."""
    if tag not in _READERS:
        _READERS[tag] = TypeAdapter(TAGS[tag]).validator.validate_python
    return _READERS[tag]


def encode(event: Event) -> tuple[str, Mapping[str, object]]:
    """The event's tag and its facts as JSON values."""
    if isinstance(event, Unrecognised):
        return event.tag, event.data
    return _TAG_OF[type(event)], _plain(event)


def decode(tag: str, data: Mapping[str, object]) -> Event:
    """The event that a journal line holds.

    Raises:
        FileFault: the tag is known and its facts are not what the event needs.
    """
    if tag not in TAGS:
        return Unrecognised(tag, data)
    try:
        event: Event = _reader(tag)(data)
    except ValidationError as error:
        where = ", ".join(".".join(map(str, fault["loc"])) for fault in error.errors()[:3])
        raise FileFault(f"'{tag}' can't be read: {where or 'its facts'} is not as this version needs it") from error
    return event


def _plain(value: Any) -> Any:
    """Facts by name and tuples as lists, so that what goes into a file and what comes out of it are the same values."""
    if isinstance(value, str | int) or value is None:
        return value
    if isinstance(value, tuple | list):
        return [_plain(member) for member in value]
    if isinstance(value, dict):
        return {key: _plain(member) for key, member in value.items()}
    if is_dataclass(value) and not isinstance(value, type):
        return {name: _plain(getattr(value, name)) for name in _names(type(value))}
    return value


@cache
def _names(kind: type[Any]) -> tuple[str, ...]:
    """What the facts of one kind are called; there are as many kinds as this package has classes."""
    return tuple(one.name for one in fields(kind))

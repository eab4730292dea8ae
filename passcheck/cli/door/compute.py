"""What does one computation of the door need, and what does it answer?

One table serves the help, the README and the answers: a module of this package lists its computations as
`COMPUTES: Mapping[str, Compute]`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from passcheck.cli.door.kinds import Kind

Fields = Mapping[str, Any]
"""Fields of one object, each checked and made into what its kind promises; an optional one that isn't given is None."""

Answer = dict[str, Any]
"""Values that JSON can say. None becomes null; a number that is infinite or none becomes null as well."""


@dataclass(frozen=True, slots=True)
class Field:
    """One field: its name with the unit in it where that isn't obvious, what it may hold, and a word on it."""

    name: str
    kind: Kind
    says: str
    required: bool = True

    @property
    def mark(self) -> str:
        """The name as lists show it: a question mark stands behind an optional one."""
        return self.name if self.required else f"{self.name}?"


@dataclass(frozen=True, slots=True)
class Compute:
    """Fields in, answers out. `answer` raises ValueError with a sentence where the fields can't be computed.

    `says` is one sentence for the help; `answers` are the names that the answer holds besides `compute`, one that
    isn't always there with a question mark.
    """

    says: str
    fields: tuple[Field, ...]
    answers: tuple[str, ...]
    answer: Callable[[Fields], Answer]


def optional(name: str, kind: Kind, says: str) -> Field:
    """A field that may be left out, or null."""
    return Field(name, kind, says, required=False)

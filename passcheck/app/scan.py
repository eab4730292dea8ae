"""Is a burst of keys a hand or a scanner?

A scanner types its code with less than a millisecond between keys and ends it with Enter; a hand needs at least 30 ms.
Where no entry has the focus, a printable key is held for a moment so that a scanned `q` never acts as a command.
"""

from dataclasses import dataclass, field
from itertools import pairwise

from textual.events import Key

APART_S = 0.020
HOLD_S = 0.025
SHORTEST = 4
_ENDS = ("enter", "ctrl+j")  # some scanners end with a line feed


@dataclass(slots=True)
class ScanGuard:
    """Holds printable keys until it is plain who typed them."""

    held: list[Key] = field(default_factory=list)

    def is_held(self, event: Key) -> bool:
        """True when the key is kept back; ask `settled` again after `HOLD_S`.

        A blank is held only inside a burst, where it is part of a code, such as a label's.
        """
        if not (event.is_printable and event.character) or (event.character == " " and not self.follows(event)):
            return False
        self.held.append(event)
        return True

    def follows(self, event: Key) -> bool:
        """Did this key come too fast after the held ones for a hand?"""
        return bool(self.held) and event.time - self.held[-1].time < APART_S

    def code_ended_by(self, event: Key) -> str | None:
        """The scanned code, where this key ends one."""
        if event.key not in _ENDS or not self.follows(event) or len(self.held) < SHORTEST:
            return None
        code = "".join(key.character or "" for key in self.held)
        self.held.clear()
        return code

    def given_back(self) -> tuple[Key, ...]:
        """The held keys, to act as a hand typed them; a burst too long for a hand is dropped."""
        keys, self.held = tuple(self.held), []
        return () if len(keys) >= SHORTEST and _fast(keys) else keys


def _fast(keys: tuple[Key, ...]) -> bool:
    return all(later.time - earlier.time < APART_S for earlier, later in pairwise(keys))

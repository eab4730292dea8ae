"""Which lifted legs and parts of other units does the watcher still see on this one?"""

from dataclasses import dataclass

from monitor_facts import rule

from passcheck.job import events as happened

ENOUGH = {"leg lifted": {"put back", "replaced", "reflowed"}, "swapped in": {"put back", "replaced"}}


@dataclass(frozen=True)
class Borrowed:
    """By rework: its action and its parts. A leg is soldered back, a borrowed part goes back or becomes the unit's."""

    held: tuple[tuple[str, str, frozenset[str]], ...] = ()

    def worked_on(self, event: happened.ReworkLogged, serial: str) -> "Borrowed":
        """The same after a rework, which clears what it names all parts of."""
        rule(bool(event.donor) == (event.action == "swapped in"), "a donor without a part from it, or the reverse")
        rule(event.donor != serial, "a part borrowed from the unit itself")
        named = set(event.parts)
        left = tuple(
            (name, action, parts)
            for name, action, parts in self.held
            if event.action not in ENOUGH[action] or not parts <= named
        )
        if event.action in ENOUGH:
            left = (*left, (f"rework {event.rework}", event.action, frozenset(event.parts)))
        return Borrowed(left)

    def put_back(self, change: str) -> None:
        """A word alone clears none of these."""
        rule(all(name != change for name, _, _ in self.held), "a lifted leg or borrowed part put back by word alone")

    @property
    def key(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """What makes two of these alike for what may follow."""
        return tuple(sorted((action, tuple(sorted(parts))) for _, action, parts in self.held))

"""What does every key of this screen do?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import ActiveBinding, Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import Screen

from passcheck.app.laid_over import LaidOver
from passcheck.app.plain import Words, joined

Row = tuple[str, str, str]


class KeysHelp(LaidOver[None]):
    """A list of keys with their act in words; the ids are the names that `keys:` in bench.yaml takes."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="help.leave", tooltip="Back to where you were.")
    ]

    def __init__(self, asked_from: Screen[object]) -> None:
        """Take the screen whose keys are asked for."""
        super().__init__()
        self._rows = rows_of(asked_from)

    def compose(self) -> ComposeResult:
        """One line a key."""
        with Vertical(classes="slip -tall"):
            yield Words("KEYS ON THIS SCREEN", classes="slip-title")
            with VerticalScroll():
                for keys, act, ident in self._rows:
                    yield Words(joined((f"{keys:<11}", "bold"), (f"{ident:<21}", "dim"), act))
                yield Words(
                    "Another key: in bench.yaml, under keys, write the name of the second column and the key.",
                    classes="ask",
                )

    def action_leave(self) -> None:
        """Back."""
        self.dismiss(None)


def rows_of(screen: Screen[object]) -> tuple[Row, ...]:
    """The keys that work on a screen now: keys, act, id; one row an act."""
    found: dict[tuple[str, str], list[str]] = {}
    ids: dict[tuple[str, str], str] = {}
    for active in (*screen.active_bindings.values(), *_through_sheets(screen)):
        binding = active.binding
        if not binding.description or not binding.id:
            continue
        words = binding.description + (f": {active.tooltip or binding.tooltip}" if binding.tooltip else "")
        found.setdefault((binding.action, words), []).append(screen.app.get_key_display(binding))
        ids.setdefault((binding.action, words), binding.id)
    return tuple((", ".join(dict.fromkeys(keys)), act[1], ids[act]) for act, keys in found.items())


def _through_sheets(screen: Screen[object]) -> tuple[ActiveBinding, ...]:
    """What works over any sheet too; a sheet's own list names its own keys alone."""
    if not screen.is_modal:
        return ()
    lowest = screen.app.screen_stack[0].active_bindings.values()
    return tuple(one for one in lowest if one.node is screen.app and one.binding.priority)

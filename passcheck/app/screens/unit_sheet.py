"""How does the practice unit look large, over whatever is open?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical

from passcheck.app.desk import Desk
from passcheck.app.laid_over import LaidOver
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.unit_in_hand import UnitInHand
from passcheck.app.widgets.unit_panel import UnitPanel


class UnitSheet(LaidOver[None]):
    """The unit alone, as large as the window; its buttons can be pressed here too."""

    AUTO_FOCUS = "UnitPanel"
    CSS_PATH = "unit_sheet.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="practice-unit.leave", tooltip="Back to where you were."),
    ]

    def __init__(self, unit: UnitInHand) -> None:
        """Args: unit: what is to be seen."""
        super().__init__()
        self._unit = unit

    def compose(self) -> ComposeResult:
        """One panel."""
        with Vertical(id="unit-sheet"):
            yield UnitPanel(with_facts=True)

    def on_mount(self) -> None:
        """Draw it."""
        self.query_one(UnitPanel).show_unit(self._unit)

    def action_leave(self) -> None:
        """Back."""
        self.dismiss(None)


def turn_unit_sheet(desk: Desk) -> None:
    """Lay the sheet over what is open, or take it away again."""
    screen = desk.screen
    if isinstance(screen, UnitSheet):
        screen.dismiss(None)
        return
    unit = unit_on_bench(desk)
    if unit is not None:
        desk.push_screen(UnitSheet(unit))


def unit_on_bench(desk: Desk) -> UnitInHand | None:
    """The unit in hand with the step that lies on the bench, as far as a bench is open."""
    if desk.practice is None or desk.bench is None:
        return None
    for screen in reversed(desk.screen_stack):
        if isinstance(screen, MakeSafeScreen):  # no step is walked now, and the hand has switched off
            return UnitInHand(desk.practice, desk.bench, desk.started_with(), switched_off=True)
        if isinstance(screen, BenchScreen):
            return screen.unit_in_hand()
    return UnitInHand(desk.practice, desk.bench, desk.started_with())

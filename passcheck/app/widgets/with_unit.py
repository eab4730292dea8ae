"""How do the hands go between the ticket and the practice unit beside it?"""

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.widget import Widget

from passcheck.app.widgets.unit_panel import UnitPanel


class WithUnit(Horizontal):
    """Ticket and unit side by side; Tab goes from the entry to the unit and back to where it came from."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "tab,shift+tab",
            "turn",
            "To the unit",
            show=False,
            id="practice-unit.turn",
            tooltip="From the entry to the practice unit, and back.",
        ),
    ]
    _came_from: Widget | None = None

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Only where the unit is drawn."""
        return bool(self._unit.display) if action == "turn" else super().check_action(action, parameters)

    @property
    def _unit(self) -> UnitPanel:
        return self.query_one(UnitPanel)

    def action_turn(self) -> None:
        """To the unit, or back; to the first that takes keys where what it came from is gone."""
        here = self.screen.focused
        if here is not self._unit:
            self._came_from = here
            self._unit.focus()
        elif self._came_from is not None and self._came_from.is_attached and self._came_from.focusable:
            self._came_from.focus()
        else:
            self.screen.focus_next()

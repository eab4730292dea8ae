"""Where does a person type, so that what is pasted there is kept exactly and still can't act on the terminal?

The value stays as it came. Only what is drawn is changed, one sign for one: a control byte becomes its picture, an
invisible or direction-changing code point becomes a middle dot.
"""

from rich.segment import Segment
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Input

from passcheck.sequence.show_text import show_text

TEXT = "-text"
"""The class of widgets of several lines that take text; they are loaded with the first screen that has one."""


class Slot(Input):
    """One line of text or figures."""

    DEFAULT_CSS = """
    Slot, Slot:focus { border: none; height: 1; padding: 0 1; background: $card-row; color: $ink; }
    Slot:focus { text-style: bold; }
    Slot > .input--placeholder, Slot:focus > .input--placeholder { color: $ink-soft; text-style: none; }
    Slot > .input--cursor { background: $ink; color: $card-row; text-style: none; }
    """

    def render_line(self, y: int) -> Strip:
        """As the ordinary entry draws it, made harmless."""
        return harmless(super().render_line(y))


def takes_text(widget: Widget | None) -> bool:
    """Does typing into this widget make text?"""
    return isinstance(widget, Input) or (widget is not None and widget.has_class(TEXT))


def harmless(strip: Strip) -> Strip:
    """The strip with every sign that is more than a printable character replaced, as wide as it was."""
    if all(segment.control is None and (segment.text.isascii() and segment.text.isprintable()) for segment in strip):
        return strip
    segments = [Segment("".join(map(_sign, one.text)), one.style) for one in strip if one.control is None]
    return Strip(segments).adjust_cell_length(strip.cell_length)


def _sign(character: str) -> str:
    shown = show_text(character)
    return shown if len(shown) == 1 else "·"

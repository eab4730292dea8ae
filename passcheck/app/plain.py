"""How does text from a file or a person get onto the screen without acting there?

Textual reads markup in plain strings and lets control bytes through; everything here takes text as text. A test forbids
the ordinary widgets in `passcheck/app` where they would be given a `str` that isn't written in the code.
"""

from typing import Any, Literal

from textual.app import App
from textual.content import Content
from textual.widgets import Button, OptionList, Static
from textual.widgets.option_list import Option

from passcheck.sequence.show_text import show_text

Severity = Literal["information", "warning", "error"]


def plain(text: str, style: str = "", limit: int = 2000) -> Content:
    """One line of text as it is, in one style; nothing in it acts."""
    return Content.styled(show_text(text, limit), style) if style else Content(show_text(text, limit))


def lines(text: str, limit: int = 20_000) -> Content:
    """Text of several lines, each shown as it is."""
    return Content("\n".join(show_text(line) for line in text[:limit].splitlines()))


def joined(*parts: str | Content | tuple[str, str]) -> Content:
    """Pieces put together on one line: plain text, text with a style, or content that was made plain before."""
    cleaned = [
        part
        if isinstance(part, Content)
        else (show_text(part[0]), part[1])
        if isinstance(part, tuple)
        else show_text(part)
        for part in parts
    ]
    return Content.assemble(*cleaned)


class Words(Static):
    """Text on the screen: a `str` is shown as it is."""

    def __init__(self, text: str | Content = "", **named: Any) -> None:
        """Take text, or content that was made plain; `named` goes to Static."""
        super().__init__(_content(text), markup=False, **named)

    def say(self, text: str | Content) -> None:
        """Show something else."""
        self.update(_content(text))


class Lines(OptionList):
    """A list to choose from; its lines are shown as they are."""

    DEFAULT_CSS = """
    Lines, Lines:focus { min-width: 20; border: none; padding: 0; background: transparent; background-tint: transparent;
                         color: $foreground; height: auto; scrollbar-size-vertical: 1; }
    Lines > .option-list--option-highlighted { background: $panel; color: $foreground; }
    Lines:focus > .option-list--option-highlighted { background: $card; color: $ink; text-style: bold; }
    Lines > .option-list--option-disabled { color: $foreground; }
    """

    def __init__(self, *named_lines: Option, **named: Any) -> None:
        """Take options made by `line`; `named` goes to OptionList."""
        super().__init__(*named_lines, markup=False, **named)


def line(text: str | Content, key: str | None = None, *, disabled: bool = False) -> Option:
    """One line of a list."""
    return Option(_content(text), id=key, disabled=disabled)


def button(text: str, **named: Any) -> Button:
    """A button whose label is text."""
    return Button(plain(text), **named)


def tell(app: App[Any], text: str, severity: Severity = "information") -> None:
    """Say something in passing."""
    app.notify(show_text(text), severity=severity, markup=False)


def _content(text: str | Content) -> Content:
    return text if isinstance(text, Content) else lines(text)

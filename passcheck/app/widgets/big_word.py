"""Which one word does the bench want read from a metre away?"""

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from passcheck.app.widgets.letters import big, big_width


class BigWord(Widget):
    """One word, three rows high; where it would not fit it stays a plain word between two bars."""

    DEFAULT_CSS = """
    BigWord { height: 3; width: auto; text-style: bold; }
    """

    word: reactive[str] = reactive("", layout=True)

    def __init__(self, word: str = "", *, id: str | None = None, classes: str | None = None) -> None:  # noqa: A002
        """Args: word: what to show first; id and classes as for any widget."""
        super().__init__(id=id, classes=classes)
        self.word = word

    def get_content_width(self, container: object, viewport: object) -> int:  # noqa: ARG002 - as Widget asks
        """As wide as the word is drawn."""
        return big_width(self.word) if self.word else 0

    def render(self) -> Content:
        """The word, drawn in half blocks."""
        if not self.word:
            return Content("")
        if self.size.width < big_width(self.word):
            return Content(f"\n| {self.word} |")
        return Content("\n".join(big(self.word)))

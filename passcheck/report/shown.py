"""How is text of several lines cleaned for a paper?"""

from passcheck.sequence.show_text import show_text

LONGEST = 20_000


def shown(text: str) -> str:
    """The text, cleaned line by line."""
    return "\n".join(show_text(line, LONGEST) for line in text.split("\n"))

"""How is a note laid out so that a person, a plain terminal and a script read the same commands in it?

ASCII only. A line that begins with four blanks is a command for `sh` or what it prints; the line between says which.
"""

import textwrap

from passcheck.sequence.show_text import show_text

MUST_PRINT = "must print"
MUST_BEGIN = "must print a line that begins with"
PRINTS = "prints, which tells this copy from others and shows nothing more"

_WIDTH = 78


def ascii_line(text: str) -> str:
    """One line of ASCII that shows all that a text holds, so that it acts on no terminal and in no alphabet."""
    return show_text(text, 4000).encode("ascii", "backslashreplace").decode("ascii")


def say(text: str, *, indent: str = "") -> list[str]:
    """A paragraph; what it quotes can't begin a line with four blanks and pass for a command."""
    words = " ".join(ascii_line(text).split())
    later = indent + ("  " if words.startswith("- ") else "")
    return textwrap.wrap(words, _WIDTH, initial_indent=indent, subsequent_indent=later, break_on_hyphens=False)


def title(text: str) -> list[str]:
    """The head of a section."""
    return ["", text, "-" * len(text)]


def run(command: str, *printed: str, how: str = MUST_PRINT) -> list[str]:
    """A command, and under it what it prints."""
    shown = ["", how, "", *(f"    {line}" for line in printed)] if printed else []
    return ["", f"    {command}", *shown, ""]


def lines_with(data: bytes, pattern: str) -> int:
    """What `grep -c` counts for a pattern of plain text."""
    return sum(pattern.encode() in line for line in data.split(b"\n"))

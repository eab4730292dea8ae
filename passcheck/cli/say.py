"""How does a command speak, so that nothing in a file or a name acts on the terminal?"""

import io
import json
import sys
from collections.abc import Mapping, Sequence

from passcheck.sequence.faults import cells
from passcheck.sequence.show_text import show_text

JSON_FORMAT = 1


def steady_output() -> None:
    """A character that the terminal's encoding lacks is written as its number instead of ending the program."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def say(text: str = "", indent: int = 0) -> None:
    """Print text on the standard output, line by line, cleaned."""
    for line in text.split("\n"):
        print(f"{' ' * indent}{show_text(line, 20_000)}".rstrip())


def complain(text: str) -> None:
    """Print a message on the standard error, line by line, cleaned."""
    for line in text.split("\n"):
        print(show_text(line), file=sys.stderr)


def say_practice() -> None:
    """Head a listing of practice, so that nobody who finds the paper takes it for a unit's."""
    say("PRACTICE: nothing here is evidence of a real unit.")


def say_json(command: str, items: Sequence[object], **beside: object) -> None:
    """Print a listing for other programs: one object, ASCII only, so that no byte of it can act on a terminal.

    `beside` are members that stand beside the list.
    """
    print(json_text({command: list(items), **beside}))


def json_text(members: Mapping[str, object]) -> str:
    """What is printed for other programs, behind the number of its form, without the last line feed."""
    text = json.dumps({"format": JSON_FORMAT, **members}, ensure_ascii=True, indent=2)
    return text.replace("\x7f", "\\u007f")


def practice_mark(practice: bool) -> dict[str, bool]:
    """The member that a job of practice has and no other."""
    return {"practice": True} if practice else {}


def quantity(value: str | None, unit: str) -> dict[str, str] | None:
    """A number of the records with its unit, for other programs; the number stays the decimal string it is."""
    return None if value is None else {"value": value, "unit": unit}


def say_table(heads: Sequence[str], rows: Sequence[Sequence[str]], indent: int = 0) -> None:
    """Print columns under their heads, each as wide as its widest cell."""
    cleaned = [[show_text(cell, 200) for cell in row] for row in (heads, *rows)]
    widths = [max(cells(row[column]) for row in cleaned) for column in range(len(heads))]
    for row in cleaned:
        padded = (cell + " " * (width - cells(cell)) for cell, width in zip(row, widths, strict=True))
        print(" " * indent + "  ".join(padded).rstrip())

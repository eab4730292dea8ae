"""What is complained about, and which entry of the file is it about?"""

from dataclasses import dataclass

from passcheck.sequence.faults import Severity

Loc = tuple[str | int, ...]  # the path to an entry: ("steps", 3, "limits")
Place = tuple[int, int]  # line and column, both from 1


@dataclass(frozen=True, slots=True)
class Finding:
    """A complaint with the path of its entry; `of_key` points at the entry's name instead of its value."""

    loc: Loc
    sentence: str
    severity: Severity = "error"
    of_key: bool = False


def error(sentence: str, *loc: str | int) -> Finding:
    """A finding that keeps the file from being used."""
    return Finding(loc, sentence)


def warning(sentence: str, *loc: str | int) -> Finding:
    """A finding that the author should weigh."""
    return Finding(loc, sentence, "warning")

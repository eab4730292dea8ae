"""What stands where on a paper: its sections, their tables and what is said in them.

section(paper, "Runs")             # the parts under that heading, sub-headings too
row(paper, "Results", "5 V rail")  # the first row of the section's tables that begins with this text
"""

from collections.abc import Sequence

from passcheck.report.document import Cell, Facts, Heading, NumberLine, Outcome, Paper, Part, Plot, Table, texts

Box = Cell | NumberLine | str


def section(paper: Paper, title: str) -> tuple[Part, ...]:
    """The parts under a section's heading, up to the next section."""
    begins = paper.parts.index(Heading(title)) + 1
    later = enumerate(paper.parts[begins:], begins)
    ends = next((place for place, it in later if isinstance(it, Heading) and it.level == 1), None)
    return paper.parts[begins:ends]


def said(paper: Paper, title: str = "") -> str:
    """Everything that is said on the paper, or in one of its sections, line by line."""
    return "\n".join(texts(section(paper, title) if title else paper.parts))


def rows(parts: Sequence[Part]) -> list[tuple[Box, ...]]:
    """The rows of all tables among these parts, group names left out."""
    tables = (it for it in parts if isinstance(it, Table))
    return [row for table in tables for row in table.rows if not isinstance(row, str)]


def row(paper: Paper, title: str, first: str) -> tuple[Box, ...]:
    """The first row of a section that begins with this text."""
    return next(it for it in rows(section(paper, title)) if text(it[0]) == first)


def column(paper: Paper, title: str, place: int = 0) -> list[str]:
    """A column of a section's tables as texts."""
    return [text(it[place]) for it in rows(section(paper, title))]


def text(box: Box) -> str:
    """What somebody reads in a box."""
    return box if isinstance(box, str) else box.text if isinstance(box, Cell) else box.words


def facts(paper: Paper, title: str) -> dict[str, str]:
    """Names and values of a section, the first of each name."""
    found: dict[str, str] = {}
    for part in section(paper, title):
        for name, value in part.rows if isinstance(part, Facts) else ():
            found.setdefault(name, value)
    return found


def plots(paper: Paper, title: str) -> list[Plot]:
    """The plots of a section."""
    return [it for it in section(paper, title) if isinstance(it, Plot)]


def outcome(paper: Paper) -> Outcome:
    """What the paper says in one word."""
    return next(it for it in paper.parts if isinstance(it, Outcome))

"""Lines for tests of the records, as short to write as the test that needs them."""

from collections.abc import Callable, Sequence
from pathlib import Path

from passcheck.job.journal_line import Line
from passcheck.records.journal import Journal
from passcheck.records.stamp import Stamp

AT = "2031-04-02T09:14:03.512Z"


def stamp() -> Stamp:
    """The one moment of these tests."""
    return Stamp(AT, 1_575_552)


def a_line(number: int, event: str = "note added", **data: object) -> Line:
    """A line by technician t7."""
    return Line(number, AT, "t7", 1_575_552 + number, event, data or {"text": f"note {number}"})


def opening(job: str = "A31-0001", position: tuple[int, str] = (0, "")) -> Line:
    """A job's first line, with as much of it as the records look at."""
    facts = {"job": job, "ledger_bytes": position[0], "ledger_digest": position[1], "sequence_text": "steps: []\n"}
    return a_line(0, "job opened", **facts)


def a_fail(number: int) -> Line:
    """A reading outside its limits."""
    return a_line(number, "attempt judged", step="ripple-5v", judgement={"verdict": "fail", "value": "0.142"})


def sign_off(number: int) -> Line:
    """The unit leaves."""
    return a_line(number, "signed off", by="t7")


def a_walk(path: Path, count: int = 4, *, create: Callable[..., Journal] = Journal.create) -> Sequence[Line]:
    """A closed journal of an opening and some notes; gives its lines."""
    lines = [opening(), *(a_line(number) for number in range(1, count))]
    journal = create(path, lines, stamp=stamp)
    journal.close()
    return lines

"""What does the archive of a shop with tens of thousands of units look like, without a journal behind it?

Rows are put straight in, as an archive that is made anew puts them. Every word is drawn from short lists and every
number from the same seed, so that the same archive comes out each time.
"""

from collections.abc import Iterator
from pathlib import Path
from random import Random  # noqa: TID251 - the same seed gives the same rows

from passcheck.records.archive_build import fill
from passcheck.records.archive_intake import TakenIn
from passcheck.records.archive_journals import Looks
from passcheck.records.archive_marks import LedgerMark

BOARDS = ("EK-8", "OV-24P", "PM-7", "QM-48", "TH-12")
BLOCKS = ("PWR", "MCU", "LAMP", "GAUGE", "DRIVE", "KEY")
VERDICTS = ("pass",) * 17 + ("fail", "fail", "in doubt")
WORDS = (
    "needle drops when warm", "connector corroded", "relay chatters", "display dim", "läuft nach zwei Stunden heiß",
    "fuse holder tarnished", "capacitor bulged", "cold joint", "key sticks", "intermittent under vibration",
    "owner asks for a call", "smell of burning", "code came back", "lens cracked", "bearing noise", "worse in the rain",
)  # fmt: skip
HANDFUL = 200


def serial_of(unit: int) -> str:
    """The serial of a unit, counted from 0."""
    return f"7Q{unit:06d}"


def make(path: Path, units: int, visits: int, steps: int) -> int:
    """Make it, and give the number of its attempts."""
    fill(path, _handfuls(units, visits, steps), LedgerMark(0, "", ""))
    return units * visits * steps


def _handfuls(units: int, visits: int, steps: int) -> Iterator[list[TakenIn]]:
    draw = Random(1)  # noqa: S311 - no secret
    handful: list[TakenIn] = []
    for count in range(units * visits):
        handful.append(_job(draw, count, units, steps))
        if len(handful) == HANDFUL:
            yield handful
            handful = []
    yield handful


def _job(draw: Random, count: int, units: int, steps: int) -> TakenIn:
    """The visits of a unit lie years apart, so the rows of one unit lie far from each other."""
    unit, visit = count % units, count // units
    job, board, serial = f"A{31 + visit}-{unit + 1:04d}", BOARDS[unit % len(BOARDS)], serial_of(unit)
    day = f"{2031 + visit}-{1 + unit % 12:02d}-{1 + unit % 28:02d}"
    by, block = f"t{1 + unit % 6}", draw.choice(BLOCKS)
    complaint, note = draw.choice(WORDS), f"{draw.choice(WORDS)}, {draw.choice(WORDS)}"
    whole = (
        job, "A", serial, board, 3, f"Controller {board}", complaint, "seal broken", "dark", f"{day}T08:00:00Z", by,
        f"{day}T16:00:00Z", "complaint reproduced", "signed off", f"{day}T16:00:00Z", by, unit % 2, "", 0,
        f"{count:064x}",
    )  # fmt: skip
    attempts = [_attempt(draw, job, board, step, day, by) for step in range(1, steps + 1)]
    touched = [
        (job, board, 60, "rework", 1, block, f"{day}T12:00:00Z", by, "replaced", note, unit % 2, f"a{unit % steps:02d}")
    ]
    parts = [(job, board, 1, f"C{unit % 30}", "105 °C", f"{day}T12:00:00Z")]
    said = [
        (job, 0, "complaint", f"{day}T08:00:00Z", by, "", complaint, serial),
        (job, 1, "note", f"{day}T12:00:00Z", by, "", note, serial),
    ]
    rows = (("job", [whole]), ("attempt", attempts), ("touched", touched), ("part", parts), ("said", said))
    return TakenIn(job, Looks(20_000, count), f"{count:064x}", "sealed", rows=rows)


def _attempt(draw: Random, job: str, board: str, step: int, day: str, by: str) -> tuple[object, ...]:
    value, verdict = round(5 + draw.gauss(0, 0.05), 4), draw.choice(VERDICTS)
    sentence = (
        f"{value:.2f} V is inside 4.85 V .. 5.15 V, {abs(5.15 - value):.2f} V from the limit; instrument ± 0.03 V."
    )
    at = f"{day}T{9 + step // 10:02d}:{step % 60:02d}:00Z"
    return (
        job, step, 1, "acceptance", board, f"a{step:02d}", "reading", f"Rail {step}", at, by,
        f"M{1 + step % 4}", verdict, sentence, value, 0.0173, "V", 4.85, 5.15, f"{value:.2f} V",
        round((0.15 - abs(value - 5)) / 0.15, 6), int(step % 3 == 0), 1, "", "", 0, 60 + step,
    )  # fmt: skip

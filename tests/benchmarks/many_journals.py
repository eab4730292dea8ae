"""How are thousands of journals made in a minute, each as a bench would have written it, with a ledger that knows them?

A robot technician walks some visits over the program's own bench. Each is told again and again as another job of
another unit: number, serial and place in the ledger are others, and with them every hash. The ledger gets what it would
have got: each opening, each fail and each seal.
"""

import hashlib
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from itertools import islice
from pathlib import Path

from passcheck.cli.folders import Folders
from passcheck.cli.practice_auto import KeptWorkshop, workshop_on
from passcheck.job.ending import is_failure, is_seal
from passcheck.job.journal_line import Line
from passcheck.practice.auto import visits
from passcheck.records.agreement import FAILED, OPENED, SEALED, Entry
from passcheck.records.journal_file import read_journal
from passcheck.records.ledger import LEDGER, first_line
from passcheck.records.line_codec import HASH_END, HASH_MEMBER, TAIL, Digest, encode_line, new_digest
from passcheck.records.stamp import RECORDS, Stamp

LETTER, YEAR = "A", 2031
AT = Stamp("2031-01-01T08:00:00.000Z", 1_000_000)
VISITS_A_UNIT = 3


@dataclass(frozen=True, slots=True)
class Visit:
    """One visit to be told again.

    Attributes:
        opening: its first line.
        bodies: the bytes of the others, each up to its hash.
        told: what the ledger gets after each line of all, "" for nothing.
        serial: what stands in it wherever the unit is named.
        attempts: how many tries it has.
    """

    opening: Line
    bodies: tuple[bytes, ...]
    told: tuple[str, ...]
    serial: str
    attempts: int


def robot_visits(boards: Path, count: int, only: str | None = None) -> list[Visit]:
    """So many visits of units of a folder's boards in turn, or of one of them."""
    with tempfile.TemporaryDirectory() as name:
        folders = Folders(Path(name), boards)
        usual = workshop_on(folders, only)
        workshop = KeptWorkshop(usual.boards, usual.faults, usual.settings, folders)
        list(visits(workshop, 1, range(1, count + 1), 1))
        return [_visit(path) for path in sorted((Path(name) / "practice" / "jobs").rglob("*.jsonl"))]


def _visit(path: Path) -> Visit:
    lines = read_journal(path).lines
    taken = path.read_bytes().split(b"\n")[1:-1]
    told = (SEALED if is_seal(line) else FAILED if is_failure(line) else "" for line in lines[1:])
    attempts = sum(line.event == "attempt judged" for line in lines)
    serial = str(lines[0].data["serial"])
    return Visit(lines[0], tuple(one[:-TAIL] for one in taken), (OPENED, *told), serial, attempts)


@dataclass
class ToldShop:
    """A bench's folder that fills with jobs."""

    root: Path
    jobs: int = 0
    size: int = 0
    events: int = 0
    attempts: int = 0
    _ledger: bytearray = field(default_factory=bytearray)
    _running: Digest = field(default_factory=new_digest)
    _lines: int = 0

    def __post_init__(self) -> None:
        (self.root / "jobs" / str(YEAR)).mkdir(parents=True)
        self._enter(first_line(LETTER, AT))

    def fill(self, told: list[Visit], jobs: int) -> None:
        """Tell visits in turn until there are so many jobs; the ledger is written at the end."""
        while self.jobs < jobs:
            self._tell(told[self.jobs % len(told)])
        (self.root / LEDGER).write_bytes(self._ledger)

    def _tell(self, visit: Visit) -> None:
        self.jobs += 1
        job = f"{LETTER}{YEAR % 100}-{self.jobs:04d}"
        data = b"".join(self._lines_of(visit, job))
        self.path(job).write_bytes(data)
        self.size += len(data)
        self.events += len(visit.told)
        self.attempts += visit.attempts

    def begin(self, visit: Visit, lines: int) -> Callable[[int], None]:
        """Tell so many lines of a visit, whose job stays open; what is given back tells so many more of them."""
        self.jobs += 1
        job = f"{LETTER}{YEAR % 100}-{self.jobs:04d}"
        rest = self._lines_of(visit, job)

        def tell(more: int) -> None:
            with self.path(job).open("ab") as file:
                file.writelines(islice(rest, more))
            (self.root / LEDGER).write_bytes(self._ledger)

        tell(lines)
        return tell

    def path(self, job: str) -> Path:
        """A job's journal."""
        return self.root / "jobs" / str(YEAR) / f"{job}.jsonl"

    def _lines_of(self, visit: Visit, job: str) -> Iterator[bytes]:
        unit = self.jobs // VISITS_A_UNIT
        serial = f"{visit.serial[:1]}{unit:0{len(visit.serial) - 1}d}"
        position = {"ledger_bytes": len(self._ledger), "ledger_digest": self._running.hexdigest()}
        facts = {**visit.opening.data, "job": job, "serial": serial, "bench": LETTER, "practice": False, **position}
        opening = encode_line(replace(visit.opening, data=facts), new_digest())
        running, size = hashlib.sha256(opening), len(opening)
        self._note(OPENED, job, size, running.hexdigest())
        yield opening
        old, new = f'"{visit.serial}"'.encode(), f'"{serial}"'.encode()
        for body, told in zip(visit.bodies, visit.told[1:], strict=True):
            another = body.replace(old, new)
            running.update(another)
            rest = HASH_MEMBER + running.hexdigest().encode() + HASH_END + b"\n"
            running.update(rest)
            size += len(another) + len(rest)
            if told:
                self._note(told, job, size, running.hexdigest())
            yield another + rest

    def _note(self, event: str, job: str, size: int, digest: str) -> None:
        facts = Entry(event, job, size, digest).facts(late=False)
        self._enter(Line(self._lines, AT.at, RECORDS, AT.clock, event, facts))

    def _enter(self, line: Line) -> None:
        taken = encode_line(line, self._running)
        self._running.update(taken)
        self._ledger += taken
        self._lines += 1

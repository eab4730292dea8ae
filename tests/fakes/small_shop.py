"""A small shop to be cheated in: two technicians who sign, six jobs on a ledger, and what the bench can't reach.

shop = open_shop(folder)                 # real records, made once
copy = shop.copied(other_folder)         # a dozen small files

The bench's folder holds records and sequences. Outside it lie the lead's list of signers and each technician's own key,
and the neighbouring bench has noted the head of the ledger. Copies of the records from two earlier moments lie there
too: whoever sits at a bench can make such copies.
"""

import hashlib
import shutil
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from ssh_keys import key_pair

from passcheck.job import events as happened
from passcheck.job.answers import ReadingAnswer
from passcheck.job.events import Purpose
from passcheck.job.journal_line import Line
from passcheck.job.tags import encode
from passcheck.judge.judgement import Judgement, Verdict
from passcheck.records.job_journal import JobJournal
from passcheck.records.shop import LogFolder
from passcheck.records.signed import signature_path
from passcheck.records.ssh_key import read_private_key
from passcheck.records.ssh_signature import file_digest, signed_by, write_signature
from passcheck.records.stamp import Stamp

BOARD = Path(__file__).parents[1] / "samples" / "lamp-box.yaml"
REPAIRED, COLLEAGUES, GIVEN_BACK, FAILED_FIRST, NEWEST_SEALED, STILL_OPEN = (
    f"A31-{count:04d}" for count in range(1, 7)
)
"""Of t1, failed and repaired; of t2, the same; of t1, returned unrepaired; of t1, failed and repaired; of t2, passed at
once; of t1, failed and not yet repaired."""
PASSPHRASE = {"t1": "", "t2": "three tin lamps"}
FUSE, INPUT = "fuse", "input"
"""Steps of the board."""
REVISION = 2
"""The board's."""


class BenchClock:
    """The bench's clock, which anybody may set, and that of the machine, which nobody does."""

    def __init__(self, at: datetime = datetime(2031, 4, 1, 8, 0, tzinfo=UTC), boottime_ms: int = 3_600_000) -> None:
        """Args: at: what it shows; boottime_ms: since the machine was started."""
        self.at, self.boottime_ms = at, boottime_ms

    def stamp(self) -> Stamp:
        """This moment, as a line has it."""
        return Stamp(f"{self.at:%Y-%m-%dT%H:%M:%S}.{self.at.microsecond // 1000:03d}Z", self.boottime_ms)

    def passes(self, **time: float) -> None:
        """Time goes by."""
        self.at += timedelta(**time)
        self.boottime_ms += round(timedelta(**time).total_seconds() * 1000)

    def is_set(self, **by: float) -> None:
        """Somebody sets it; no time goes by."""
        self.at += timedelta(**by)

    def copied(self) -> "BenchClock":
        """One that goes on from here by itself."""
        return BenchClock(self.at, self.boottime_ms)


@dataclass(frozen=True)
class SmallShop:
    """A bench's folder and what lies outside it."""

    bench: Path
    outside: Path
    clock: BenchClock
    noted_head: str = ""
    """The ledger's bytes and code as a paper bears them, noted when all six jobs stood as they do."""

    @property
    def logs(self) -> Path:
        """The records."""
        return self.bench / "logs"

    @property
    def boards(self) -> Path:
        """The sequences."""
        return self.bench / "sequences"

    @property
    def board(self) -> Path:
        """The one sequence."""
        return self.boards / BOARD.name

    @property
    def ledger(self) -> Path:
        """The ledger's file."""
        return self.logs / "ledger.jsonl"

    @property
    def signers(self) -> Path:
        """The list of who may sign, which the lead keeps."""
        return self.outside / "lead" / "allowed_signers"

    @property
    def yesterday(self) -> Path:
        """The records as they were when `GIVEN_BACK` had been given back."""
        return self.outside / "copies" / "yesterday"

    @property
    def before_the_fail(self) -> Path:
        """The records as they were when `FAILED_FIRST` had just been taken in."""
        return self.outside / "copies" / "before-the-fail"

    def journal(self, job: str) -> Path:
        """A job's journal."""
        return self.logs / "jobs" / "2031" / f"{job}.jsonl"

    def folder(self, root: Path | None = None) -> LogFolder:
        """The records as passcheck opens them, or another folder of records by the same clock."""
        return LogFolder(root or self.logs, "A", stamp=self.clock.stamp)

    def copied(self, to: Path) -> "SmallShop":
        """The same bench in another folder; what lies outside stays what it is."""
        shutil.copytree(self.bench, to)
        return replace(self, bench=to, clock=self.clock.copied())

    def take_in(self, by: str, serial: str, *, text: str | None = None, root: Path | None = None) -> "JobInHand":
        """Begin a job, by the sequence as it lies there now or by another text."""
        walked_by = self.board.read_text(encoding="utf-8") if text is None else text

        def first(job: str, position: tuple[int, str]) -> Line:
            return self.line(0, by, _opening(job, serial, walked_by, position))

        self.clock.passes(minutes=9)
        return JobInHand(self, by, self.folder(root).new_job(first)[1]).starts("as-found")

    def take_up(self, by: str, job: str, *, root: Path | None = None) -> "JobInHand":
        """Go on with a job, here or in another folder of records."""
        self.clock.passes(minutes=9)
        return JobInHand(self, by, self.folder(root).open_job(job)[0])

    def line(self, number: int, by: str, event: happened.Event) -> Line:
        """An event that happens now."""
        now = self.clock.stamp()
        return Line(number, now.at, by, now.clock, *encode(event))

    def sign(self, job: str, by: str, *, root: Path | None = None) -> None:
        """Put a person's signature beside a journal, which takes their key and their passphrase."""
        journal = self.folder(root).journal_path(job)
        key = read_private_key((self.outside / "homes" / by / "id_ed25519").read_bytes())
        signature = signed_by(key, file_digest(journal), PASSPHRASE[by] or None)
        signature_path(journal).write_bytes(write_signature(signature))


class JobInHand:
    """A job that somebody walks."""

    def __init__(self, shop: SmallShop, by: str, journal: JobJournal) -> None:
        """Use `SmallShop.take_in` or `take_up`."""
        self.job = journal.job_id
        self._shop, self._by, self._journal = shop, by, journal

    def starts(self, purpose: Purpose) -> "JobInHand":
        """A run through the steps of a purpose began."""
        opened, run = self._opened(), 1 + self._count("run started")
        self._write(
            happened.RunStarted(run, purpose, REVISION, str(opened["sequence_digest"]), str(opened["serial"]), ())
        )
        return self

    def reads(self, step: str, value: str, verdict: Verdict) -> "JobInHand":
        """A reading was judged."""
        attempt, run = 1 + self._count("attempt judged"), self._count("run started")
        self._write(
            happened.AttemptJudged(attempt, run, step, ReadingAnswer((f"{value} Ω",)), judgement(value, verdict)),
            fail=verdict == "fail",
        )
        return self

    def repairs(self, part: str) -> "JobInHand":
        """A part was replaced, and the run that shows it good begins."""
        self._write(happened.RunClosed(self._count("run started"), "confirmed"))
        self._write(happened.ReworkLogged(1, ("PWR",), (part,), "replaced", "measured open"))
        return self.starts("acceptance")

    def signs_off(self) -> "JobInHand":
        """The unit leaves, passed."""
        self._write(happened.SignedOff(str(self._opened()["serial"]), "every step passed"), seal=True)
        return self

    def gives_back(self) -> "JobInHand":
        """The unit leaves, not repaired."""
        self._write(happened.ReturnedUnrepaired("no part to be had"), seal=True)
        return self

    def let_go(self) -> str:
        """The journal is closed; gives the job's number."""
        self._journal.close()
        return self.job

    def _opened(self) -> Mapping[str, object]:
        return self._journal.lines[0].data

    def _count(self, event: str) -> int:
        return sum(line.event == event for line in self._journal.lines)

    def _write(self, event: happened.Event, *, fail: bool = False, seal: bool = False) -> None:
        self._shop.clock.passes(minutes=4)
        line = self._shop.line(self._journal.next_number, self._by, event)
        self._journal.append([line], fail=fail, seal=seal)


def judgement(value: str, verdict: Verdict) -> Judgement:
    """What a reading of some ohms amounts to."""
    said = f"{value} Ω, so {verdict}"
    return Judgement(verdict, said, value, "Ω", "0.01", None, None, "reading", outside=verdict != "pass")


def open_shop(folder: Path) -> SmallShop:
    """Three days of the shop, written by the records themselves."""
    shop = SmallShop(folder / "bench", folder / "outside", BenchClock())
    shop.boards.mkdir(parents=True)
    shutil.copy(BOARD, shop.boards)
    _give_keys(shop)
    _repair(shop, "t1", "7Q22051", "F1")
    shop.clock.passes(hours=2)
    _repair(shop, "t2", "7Q22064", "F1")
    shop.clock.passes(hours=20)
    given_back = shop.take_in("t1", "7Q21987").reads(FUSE, "0.20", "pass").reads(INPUT, "0.0", "fail").gives_back()
    shop.sign(given_back.let_go(), "t1")
    shutil.copytree(shop.logs, shop.yesterday)
    shop.clock.passes(hours=25)
    _repair(shop, "t1", "7Q22103", "D1", copy_to=shop.before_the_fail)
    passed = shop.take_in("t2", "7Q22110").reads(FUSE, "0.21", "pass").reads(INPUT, "4700", "pass").signs_off()
    shop.sign(passed.let_go(), "t2")
    shop.take_in("t1", "7Q22118").reads(FUSE, "12.5", "fail").let_go()
    size, digest = shop.folder().ledger.position()
    return replace(shop, noted_head=f"{size}:{digest[:8]}")


def _repair(shop: SmallShop, by: str, serial: str, part: str, copy_to: Path | None = None) -> None:
    """A unit that failed its fuse, was repaired and passed."""
    hand = shop.take_in(by, serial)
    if copy_to is not None:
        shutil.copytree(shop.logs, copy_to)
    hand.reads(FUSE, "8.4", "fail").repairs(part).reads(FUSE, "0.20", "pass").reads(INPUT, "4690", "pass").signs_off()
    shop.sign(hand.let_go(), by)


def _give_keys(shop: SmallShop) -> None:
    lines = []
    for person, passphrase in PASSPHRASE.items():
        home = shop.outside / "homes" / person
        home.mkdir(parents=True)
        lines.append(f"{person} {key_pair(home, passphrase=passphrase).public}\n")
    shop.signers.parent.mkdir()
    shop.signers.write_text("".join(lines), encoding="utf-8")


def _opening(job: str, serial: str, text: str, position: tuple[int, str]) -> happened.JobOpened:
    return happened.JobOpened(
        job=job,
        serial=serial,
        complaint="Lamp stays dark",
        condition="lens whole",
        sequence_text=text,
        sequence_digest=hashlib.sha256(text.encode()).hexdigest(),
        variants=(),
        bench="A",
        tool="passcheck",
        boot_id="b0071",
        offset_min=120,
        ledger_bytes=position[0],
        ledger_digest=position[1],
    )

"""A small shop to be cheated in: two technicians who sign, six jobs on a ledger, and what the bench can't reach.

shop = open_shop(folder)                 # real records of whole walks, made once
copy = shop.copied(other_folder)         # a dozen small files

The bench's folder holds records and sequences. Outside it lie the lead's list of signers and each technician's own key,
and the neighbouring bench has noted the head of the ledger. Copies of the records from two earlier moments lie there
too: whoever sits at a bench can make such copies.
"""

import asyncio
import copy
import shutil
from collections.abc import Coroutine
from dataclasses import dataclass, replace
from pathlib import Path

from rig import RigClock
from sample_rig import FiledRig
from ssh_keys import key_pair
from telling import Telling

from passcheck.bench.bench import Bench
from passcheck.job import events as happened
from passcheck.job.answers import ReadingAnswer
from passcheck.job.arrival import Arrive
from passcheck.job.commands import LogRework, ReturnUnrepaired
from passcheck.job.journal_line import Line
from passcheck.job.replay import stamp
from passcheck.job.tags import encode
from passcheck.judge.judgement import Judgement, Verdict
from passcheck.records.shop import LogFolder
from passcheck.records.signed import signature_path
from passcheck.records.ssh_key import read_private_key
from passcheck.records.ssh_signature import file_digest, signed_by, write_signature
from passcheck.records.stamp import Stamp

BOARD = Path(__file__).parents[1] / "samples" / "lamp-box.yaml"
NAME = "LB-1"
REPAIRED, COLLEAGUES, GIVEN_BACK, FAILED_FIRST, NEWEST_SEALED, STILL_OPEN = (
    f"A31-{count:04d}" for count in range(1, 7)
)
"""Of t1, failed and repaired; of t2, the same; of t1, returned unrepaired; of t1, failed and repaired; of t2, passed at
once; of t1, failed and not yet repaired."""
PASSPHRASE = {"t1": "", "t2": "three tin lamps"}
FUSE, INPUT = "fuse", "input"
"""Steps of the board that are read."""
LOOK = "look-in"
"""The step that comes first."""


class ShopRig(FiledRig):
    """The bench over a folder of records, by the shop's own clock and by one text of the board."""

    def __init__(self, folder: Path, clock: RigClock, text: str) -> None:
        """Take the clock as it goes; whoever sets it sets it for this bench too."""
        super().__init__(folder, text)
        self.clock = clock
        self.shop = self._new_shop()


@dataclass(frozen=True)
class SmallShop:
    """A bench's folder and what lies outside it."""

    bench: Path
    outside: Path
    clock: RigClock
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
        return LogFolder(root or self.logs, "A", stamp=self.stamp)

    def stamp(self) -> Stamp:
        """This moment, as a line has it."""
        now = self.clock()
        return Stamp(stamp(now), now.boottime_ms)

    def copied(self, to: Path) -> "SmallShop":
        """The same bench in another folder, whose clock goes on by itself; what lies outside stays what it is."""
        shutil.copytree(self.bench, to)
        return replace(self, bench=to, clock=copy.copy(self.clock))

    def take_in(self, by: str, serial: str) -> "JobInHand":
        """Begin a job, by the sequence as it lies there now, and look at the unit as it came."""
        self.clock.pass_time(minutes=9)
        rig, runner = self._rig(None), asyncio.Runner()
        bench = runner.run(rig.shop.arrive(Arrive(by, NAME, serial, "Lamp stays dark", "lens whole")))
        assert isinstance(bench, Bench), bench
        return JobInHand(Telling(rig, bench, by), runner).looked_at()

    def take_up(self, by: str, job: str, *, root: Path | None = None) -> "JobInHand":
        """Go on with a job, here or in another folder of records."""
        self.clock.pass_time(minutes=9)
        rig, runner = self._rig(root), asyncio.Runner()
        return JobInHand(Telling(rig, runner.run(rig.shop.open(job, by)), by), runner)

    def line(self, number: int, by: str, event: happened.Event) -> Line:
        """An event that happens now."""
        now = self.stamp()
        return Line(number, now.at, by, now.clock, *encode(event))

    def sign(self, job: str, by: str, *, root: Path | None = None) -> None:
        """Put a person's signature beside a journal, which takes their key and their passphrase."""
        journal = self.folder(root).journal_path(job)
        key = read_private_key((self.outside / "homes" / by / "id_ed25519").read_bytes())
        signature = signed_by(key, file_digest(journal), PASSPHRASE[by] or None)
        signature_path(journal).write_bytes(write_signature(signature))

    def _rig(self, root: Path | None) -> ShopRig:
        return ShopRig(root or self.logs, self.clock, self.board.read_text(encoding="utf-8"))


class JobInHand:
    """A job that somebody walks, command by command through the bench itself."""

    def __init__(self, told: Telling, runner: asyncio.Runner) -> None:
        """Use `SmallShop.take_in` or `take_up`; `let_go` ends both the job's program and the runner."""
        self._told, self._runner = told, runner

    def looked_at(self) -> "JobInHand":
        """The unit's fault is looked for, from the first look on."""
        return self._does(self._told.begin("as-found"), self._told.tried(LOOK))

    def reads(self, step: str, ohm: str) -> "JobInHand":
        """A resistance is read; the bench says what it amounts to."""
        shown = ReadingAnswer((f"{ohm} Ω",), leads="0.1 Ω" if step == FUSE else None)
        self._told.rig.clock.pass_time(minutes=3)
        return self._does(self._told.tried(step, shown))

    def repairs(self, part: str) -> "JobInHand":
        """A part is replaced, and the run that shows the unit good begins."""
        rework = LogRework(self._told.by, ("PWR",), (part,), "replaced", "measured open")
        return self._does(self._told.end(), self._told.do(rework), self._told.begin("acceptance"))

    def accepts(self) -> "JobInHand":
        """Nothing was found; the run that shows the unit good begins."""
        return self._does(self._told.end(), self._told.begin("acceptance"))

    def signs_off(self) -> "JobInHand":
        """What is left of the sequence is walked, and the unit leaves, passed."""
        return self._does(self._told.walk(), self._told.end(), self._told.out_of_the_door())

    def gives_back(self) -> "JobInHand":
        """The unit leaves, not repaired."""
        back = ReturnUnrepaired(self._told.by, "no part to be had")
        return self._does(self._told.end(), self._told.do(back))

    def let_go(self) -> str:
        """The journal is closed; gives the job's number."""
        self._does(self._told.rig.shop.close())
        self._runner.close()
        return self._told.job.id

    def _does(self, *acts: Coroutine[object, object, object]) -> "JobInHand":
        async def one_after_another() -> None:
            for act in acts:
                await act

        self._runner.run(one_after_another())
        return self


def judgement(value: str, verdict: Verdict) -> Judgement:
    """What a reading of some ohms amounts to, for who asks no bench."""
    said = f"{value} Ω, so {verdict}"
    return Judgement(verdict, said, value, "Ω", "0.01", None, None, "reading", outside=verdict != "pass")


def open_shop(folder: Path) -> SmallShop:
    """Three days of the shop, walked through the bench itself."""
    shop = SmallShop(folder / "bench", folder / "outside", RigClock())
    shop.boards.mkdir(parents=True)
    shutil.copy(BOARD, shop.boards)
    _give_keys(shop)
    _repair(shop, "t1", "7Q22051", "F1")
    shop.clock.pass_time(hours=2)
    _repair(shop, "t2", "7Q22064", "F1")
    shop.clock.pass_time(hours=20)
    given_back = shop.take_in("t1", "7Q21987").reads(FUSE, "0.20").reads(INPUT, "0.0").gives_back()
    shop.sign(given_back.let_go(), "t1")
    shutil.copytree(shop.logs, shop.yesterday)
    shop.clock.pass_time(hours=25)
    _repair(shop, "t1", "7Q22103", "D1", copy_to=shop.before_the_fail)
    passed = shop.take_in("t2", "7Q22110").accepts().reads(FUSE, "0.21").reads(INPUT, "4700").signs_off()
    shop.sign(passed.let_go(), "t2")
    shop.take_in("t1", "7Q22118").reads(FUSE, "12.5").let_go()
    size, digest = shop.folder().ledger.position()
    return replace(shop, noted_head=f"{size}:{digest[:8]}")


def _repair(shop: SmallShop, by: str, serial: str, part: str, copy_to: Path | None = None) -> None:
    """A unit that failed its fuse, was repaired and passed."""
    hand = shop.take_in(by, serial)
    if copy_to is not None:
        shutil.copytree(shop.logs, copy_to)
    hand.reads(FUSE, "8.4").repairs(part).reads(FUSE, "0.20").reads(INPUT, "4690").signs_off()
    shop.sign(hand.let_go(), by)


def _give_keys(shop: SmallShop) -> None:
    lines = []
    for person, passphrase in PASSPHRASE.items():
        home = shop.outside / "homes" / person
        home.mkdir(parents=True)
        lines.append(f"{person} {key_pair(home, passphrase=passphrase).public}\n")
    shop.signers.parent.mkdir()
    shop.signers.write_text("".join(lines), encoding="utf-8")

"""A bench on real files whose clocks, chance and failures are a test's own: the same story leaves the same bytes.

rig = FiledRig(folder, LAMP_BOX)
bench = await rig.job()
await rig.do(bench, ...)           # journal and ledger lie in the folder as a real shop leaves them
await rig.leave()                  # the program ends; `rig.shop` is the next one
"""

import errno
from pathlib import Path

from failing_disk import FailingDisk
from rig import TERMINAL, Rig, settings

from passcheck.bench.bench import Bench
from passcheck.bench.shop import Shop
from passcheck.errors import BenchFailed
from passcheck.job.commands import Command
from passcheck.job.kept_latency import KeptLatency
from passcheck.job.replay import stamp
from passcheck.practice.memory import MemoryShelf
from passcheck.records.shop import LogFolder
from passcheck.records.stamp import Stamp

TOOL = "passcheck, sample journals"
FILMED = KeptLatency("0.05", "0.002", ("12",) * 5, "240", "2031-04-01", TERMINAL)


class FiledRig(Rig):
    """A bench whose journals and ledger lie in a folder, on a disk that may refuse."""

    def __init__(self, folder: Path, *boards: str, practice: bool = False, letter: str = "A") -> None:
        """Boards are YAML texts; practice has a folder below and the letter P, as the program has it."""
        self.folder = folder
        self.disk = FailingDisk()
        self.practice = practice
        self.letter = "P" if practice else letter
        super().__init__(*boards, settings_now=settings(letter=self.letter).model_copy(update={"latency": FILMED}))

    async def leave(self) -> Shop:
        """The program ends without another word and is started again over the same files."""
        await self.shop.close()
        self.shop = self._new_shop()
        return self.shop

    async def dies(self, bench: Bench, command: Command, *, call: str, nth: int = 0, bytes_taken: int = 0) -> None:
        """Ask for something while the disk refuses the n-th call of that kind, having taken so many bytes of it."""
        self.disk.fail_at(nth, error=errno.EIO, only=call, bytes_taken=bytes_taken)
        try:
            await bench.do(command)
        except BenchFailed:
            return
        finally:
            self.disk.heal()
        raise AssertionError(f"the disk was to refuse {call}")

    def logs(self) -> LogFolder:
        """The folder, as a process finds it."""
        return LogFolder(self.folder, self.letter, disk=self.disk, practice=self.practice, stamp=self._stamp)

    def _new_shop(self) -> Shop:
        shelf, chance = MemoryShelf(self.files), self.chance
        return Shop(
            self.logs(), shelf, self.boards, self.settings, self.clock, lambda: TOOL, TERMINAL, chance,
            practice=self.practice,
        )  # fmt: skip

    def _stamp(self) -> Stamp:
        moment = self.clock()
        return Stamp(stamp(moment), moment.boottime_ms)

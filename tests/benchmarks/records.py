"""What do trustworthy records cost, beside what the disk and SHA-256 cost anyway?

    .venv/bin/python tests/benchmarks/records.py [--appends 2500] [--events 100000] [--rounds 7] [--folder FOLDER]

Floor and product take turns, so that whatever else the machine does falls on both. The floor of an append is one write
and one sync of the same bytes to another file of the same folder; that of verifying is SHA-256 of the journal's bytes
in memory; that of resuming is reading the file and SHA-256 once. Times are of the clock on the wall; where a demand is
one of seconds, the processor's own time stands beside it, and a machine that is busy otherwise shows in the difference.

Printed: medians, 99th percentiles of appends, ratios of the medians, and each demand. The exit status is 1 when one of
them is missed. The folder has to lie on a disk: in memory a sync costs nothing.
"""

import argparse
import asyncio
import hashlib
import importlib.util
import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import Any

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY), str(REPOSITORY / "tests" / "fakes")]

from journal_lines import a_line  # noqa: E402 - the paths come first
from long_journal import VISITS_ONLY, WEEKS_OF_SOAK, Mix, encoded, long_journal, workshop  # noqa: E402

from passcheck.cli.folders import Folders, demo_boards  # noqa: E402
from passcheck.cli.wire import bench_files, log_folder, open_shop  # noqa: E402
from passcheck.job.fold import fold  # noqa: E402
from passcheck.job.journal_line import Line  # noqa: E402
from passcheck.job.replay import recorded  # noqa: E402
from passcheck.practice.clock import SteppedClock  # noqa: E402
from passcheck.practice.visit import START  # noqa: E402
from passcheck.records.journal import Journal  # noqa: E402
from passcheck.records.journal_file import examine  # noqa: E402
from passcheck.records.shop import LogFolder  # noqa: E402

BY = "t1"
APPEND_AT_MOST, VERIFY_AT_MOST, RESUME_AT_MOST_S = 1.25, 5.0, 2.0
SHORT_TEXT = "Fan runs, shield warm, lamp lit"
"""Makes a line of some 220 bytes."""
VERIFIED_EVENTS = 0.77
"""Of the events of the long journal: these are some 20 MB."""


@dataclass(slots=True)
class Taken:
    """Seconds that two things took by turns; the processor's own beside the second."""

    floor: list[float] = field(default_factory=list)
    ours: list[float] = field(default_factory=list)
    processor: list[float] = field(default_factory=list)

    def ratio(self) -> float:
        """Of the medians."""
        return statistics.median(self.ours) / statistics.median(self.floor)


class Demands:
    """What was asked for, said as it is found."""

    def __init__(self) -> None:
        self.missed: list[str] = []

    def ratio(self, what: str, taken: Taken, at_most: float) -> None:
        """A demand on how much more than the floor it may be."""
        self._say(what, f"{taken.ratio():.2f} times the floor", taken.ratio() <= at_most, f"{at_most:g} times")

    def seconds(self, what: str, taken: Taken, at_most: float) -> None:
        """A demand on how long it may take."""
        took = statistics.median(taken.ours)
        self._say(what, f"{took:.2f} s", took < at_most, f"{at_most:g} s")

    def _say(self, what: str, found: str, kept: bool, at_most: str) -> None:
        print(f"    {'kept' if kept else 'MISSED'}: {found}, asked for at most {at_most}")
        if not kept:
            self.missed.append(what)


def by_turns(floor: Callable[[], object], ours: Callable[[], object], rounds: int) -> Taken:
    """Take the time of both, each first in every other round."""
    taken = Taken()

    def time_floor() -> None:
        began = time.perf_counter()
        floor()
        taken.floor.append(time.perf_counter() - began)

    def time_ours() -> None:
        began, worked = time.perf_counter(), time.process_time()
        ours()
        taken.ours.append(time.perf_counter() - began)
        taken.processor.append(time.process_time() - worked)

    for count in range(rounds):
        for each in (time_floor, time_ours) if count % 2 else (time_ours, time_floor):
            each()
    return taken


class Shelf:
    """A shop's folder, and the jobs that are put there."""

    def __init__(self, root: Path) -> None:
        self.folders = Folders(root / "logs", demo_boards())
        self.clock = SteppedClock(START)
        self.settings = bench_files(self.folders, self.clock)
        self.settings.make()

    def logs(self) -> LogFolder:
        """As a program sees it that was just started."""
        return log_folder(self.folders, self.settings.read().letter, self.clock)

    def put(self, events: int, mix: Mix, *, sealed: bool = False) -> tuple[str, Path]:
        """Write a long journal and let the ledger know of it; the lines are not synced one by one."""
        logs, lines = self.logs(), list[Line]()

        def first(job: str, ledger: tuple[int, str]) -> Line:
            lines.extend(long_journal(events, mix, sealed=sealed, job=job, ledger=ledger))
            return lines[0]

        job, writer = logs.new_job(first)
        writer.close()
        with writer.path.open("ab") as file:
            file.writelines(islice(encoded(lines), 1, None))
        logs.open_job(job)[0].close()
        return job, writer.path


def appended(shelf: Shelf, title: str, lines: Sequence[Line], demands: Demands) -> None:
    """One line a sync, into a journal and into a plain file."""
    logs = shelf.logs()
    job, writer = logs.new_job(lambda *_given: lines[0])
    first, *rest = encoded(lines)
    plain = os.open(writer.path.with_name(f"{job}.plain"), os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o666)
    os.write(plain, first)
    os.fsync(plain)
    raw, ours = iter(rest), iter(lines[1:])

    def write_and_sync() -> None:
        os.write(plain, next(raw))
        os.fsync(plain)

    taken = by_turns(write_and_sync, lambda: writer.append([next(ours)]), len(rest))
    os.close(plain)
    writer.close()
    print(f"\nAppend with sync, {len(rest)} {title}, {statistics.mean(map(len, rest)):.0f} bytes each")
    for name, times in (("write and sync", taken.floor), ("journal", taken.ours)):
        print(f"    {name:18}median {_us(times, 0.5)} us   p99 {_us(times, 0.99)} us")
    demands.ratio(f"append of {title}", taken, APPEND_AT_MOST)


def verified(shelf: Shelf, job: str, path: Path, rounds: int, demands: Demands) -> None:
    """One sealed job, by a program that was just started."""
    data = path.read_bytes()
    print(f"\nVerify a sealed journal of {len(data) / 1e6:.1f} MB")
    if importlib.util.find_spec("passcheck.records.verified") is None:
        print("    not built")
        return
    module: Any = importlib.import_module("passcheck.records.verified")
    found = module.verify_job(shelf.logs(), job)
    if found.standing.value != "sealed" or found.faults:
        raise SystemExit(f"{job} is {found.standing.value}: {found.faults}")
    taken = by_turns(lambda: hashlib.sha256(data).hexdigest(), lambda: module.verify_job(shelf.logs(), job), rounds)
    print(f"    SHA-256 of it     median {_ms(taken.floor)} ms")
    print(f"    verify_job        median {_ms(taken.ours)} ms")
    demands.ratio("verify", taken, VERIFY_AT_MOST)


def resumed(shelf: Shelf, job: str, path: Path, rounds: int) -> Taken:
    """From the shelf to a bench that takes commands, and the parts of that."""
    read = workshop().boards.read
    fold(recorded(examine(path.read_bytes()).lines[:2000]), read)  # what the first job of a program loads

    def read_and_hash() -> None:
        hashlib.sha256(path.read_bytes()).hexdigest()

    def open_job() -> None:
        shop = open_shop(shelf.folders, shelf.clock)
        bench = asyncio.run(_opened_and_closed(shop.open, job, shop.close))
        assert bench.job.lines > 1

    def in_parts() -> None:
        journal = Journal.open(path)
        fold(recorded(journal.lines), read)
        journal.close()

    parts = by_turns(read_and_hash, in_parts, rounds)
    lines = examine(path.read_bytes()).lines
    walk = by_turns(read_and_hash, lambda: examine(path.read_bytes()), rounds)
    folding = by_turns(read_and_hash, lambda: fold(recorded(lines), read), rounds)
    whole = by_turns(read_and_hash, open_job, rounds)
    print(f"\nResume a job of {len(lines)} events, {path.stat().st_size / 1e6:.1f} MB")
    for name, taken in (
        ("every line read", walk),
        ("events folded", folding),
        ("open and fold", parts),
        ("Shop.open", whole),
    ):
        took, worked = statistics.median(taken.ours), statistics.median(taken.processor)
        print(f"    {name:18}median {took:6.3f} s   processor {worked:6.3f} s   best {min(taken.ours):6.3f} s")
    print(f"    {'read and SHA-256':18}median {statistics.median(whole.floor):6.3f} s")
    return whole


async def _opened_and_closed(opened: Callable[..., Any], job: str, close: Callable[[], Any]) -> Any:
    bench = await opened(job, BY)
    await close()
    return bench


def _us(times: Sequence[float], share: float) -> str:
    return f"{sorted(times)[int(len(times) * share)] * 1e6:6.0f}"


def _ms(times: Sequence[float]) -> str:
    return f"{statistics.median(times) * 1e3:7.1f}"


def file_system(folder: Path) -> str:
    """What kind of file system a folder lies on, where the machine tells."""
    try:
        mounts = [line.split()[1:3] for line in Path("/proc/self/mounts").read_text().splitlines()]
    except OSError:
        return "a file system that this machine doesn't name"
    above = [(place, kind) for place, kind in mounts if folder.resolve().is_relative_to(place)]
    return max(above, key=lambda one: len(one[0]), default=("", "an unknown file system"))[1]


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--appends", type=int, default=2500)
    asked.add_argument("--events", type=int, default=100_000)
    asked.add_argument("--rounds", type=int, default=7)
    asked.add_argument("--folder", type=Path, help="where to write; the system's temporary folder unless given")
    given = asked.parse_args()
    demands = Demands()
    with tempfile.TemporaryDirectory(dir=given.folder) as name:
        kind = file_system(Path(name))
        if kind in ("tmpfs", "ramfs"):
            raise SystemExit(f"{name} lies in memory ({kind}). Give a --folder on a disk.")
        load = f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown"
        print(f"On {kind}, {os.cpu_count()} processors, load {load}, Python {sys.version.split()[0]}")
        shelf = Shelf(Path(name))
        opening = next(long_journal(1, VISITS_ONLY))
        notes = [opening, *(a_line(number, text=SHORT_TEXT) for number in range(1, given.appends + 1))]
        appended(shelf, "short notes", notes, demands)
        appended(shelf, "events of a walk", list(long_journal(given.appends + 1, VISITS_ONLY)), demands)
        verified(
            shelf, *shelf.put(int(given.events * VERIFIED_EVENTS), WEEKS_OF_SOAK, sealed=True), given.rounds, demands
        )
        taken = resumed(shelf, *shelf.put(given.events, WEEKS_OF_SOAK), given.rounds)
        demands.seconds("resume", taken, RESUME_AT_MOST_S)
        heaviest = resumed(shelf, *shelf.put(given.events, VISITS_ONLY), given.rounds)
        print(f"    the heaviest events there are, nothing else: {heaviest.ratio():.0f} times the floor, no demand")
    if demands.missed:
        print(f"\nMissed: {', '.join(demands.missed)}.")
        raise SystemExit(1)
    print("\nEvery demand is kept.")


if __name__ == "__main__":
    main()

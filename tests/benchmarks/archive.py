"""What does the archive cost beside reading the journals and SHA-256, and how quickly does it answer?

    .venv/bin/python tests/benchmarks/archive.py [--journals 4000] [--mix visit] [--rounds 3]
        [--units 28000] [--visits 3] [--steps 30] [--counted 130000] [--folder FOLDER]

Journals are a robot's, told again with other numbers. `visit`: of a board with twenty steps, some forty tries in forty
kB, which is what a rebuild is asked to be quick for; `short`: every fifth of them a demo board with its faults; `own`:
all demo boards, a hundred tries each. The
floor is reading every journal and SHA-256 of it, by one core. Of a rebuild the processors' time of all processes stands
beside the clock's: whatever else the machine does falls on the clock's. At the end the figures are counted over four
million tries, as `figures.py` does it alone. With --units 0 the large archive is left out, with --journals 0 the
journals are, with --counted 0 the figures.
"""

import argparse
import gc
import hashlib
import os
import shutil
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import cycle, islice
from pathlib import Path
from random import Random  # noqa: TID251 - the same seed asks for the same units
from typing import Any

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY)]

import big_archive  # noqa: E402 - the path comes first
import figures  # noqa: E402
from many_journals import LETTER, ToldShop, Visit, robot_visits  # noqa: E402

from passcheck.cli.folders import demo_boards  # noqa: E402
from passcheck.records import json_values  # noqa: E402
from passcheck.records.archive import ARCHIVE, SqliteArchive  # noqa: E402
from passcheck.records.archive_file import opened  # noqa: E402
from passcheck.records.archive_visits import search, visits  # noqa: E402
from passcheck.records.ask_sql import ask_sqlite  # noqa: E402
from passcheck.records.board_folder import BoardFolder  # noqa: E402
from passcheck.records.journal_file import examine  # noqa: E402
from passcheck.records.shop import LogFolder  # noqa: E402
from passcheck.records.verified import verify_all  # noqa: E402

SHORT_BOARD = REPOSITORY / "tests" / "samples" / "twenty-steps.yaml"
MIXES = ("visit", "short", "own")
WALKED = 20
"""So many visits the robot walks of each kind."""
REBUILD_AT_MOST_S, HISTORY_AT_MOST_S = 5.0, 0.005
ASKED = 2000
"""Units that are asked for, and words that are looked for a tenth as often."""
EXAMINED = 200


@dataclass(frozen=True, slots=True)
class Took:
    """Seconds by the clock, and of all processors."""

    clock: float
    processors: float


def took(act: Callable[[], Any]) -> Took:
    """Do it once."""
    before, began = os.times(), time.perf_counter()
    act()
    clock, after = time.perf_counter() - began, os.times()
    return Took(clock, sum(after[:4]) - sum(before[:4]))


def told_visits(mix: str) -> list[Visit]:
    """The visits of a mix, in the order in which they are told again."""
    if mix == "own":
        return robot_visits(demo_boards(), 2 * WALKED)
    with tempfile.TemporaryDirectory() as name:
        shutil.copy(SHORT_BOARD, name)
        short = robot_visits(Path(name), WALKED)
    if mix == "visit":
        return short
    long, many = robot_visits(demo_boards(), WALKED), cycle(short)
    return [one for other in long for one in (*islice(many, 4), other)]


def floor(shop: ToldShop) -> None:
    """What any program has to do that wants to believe the journals."""
    for path in sorted((shop.root / "jobs").rglob("*.jsonl")):
        hashlib.sha256(path.read_bytes()).hexdigest()


def archive_of(root: Path) -> SqliteArchive:
    """As a program finds it that was just started."""
    return SqliteArchive(LogFolder(root, LETTER), BoardFolder.read)


def of_journals(root: Path, journals: int, mix: str, rounds: int) -> bool:
    """Rebuild, catch up and check; says whether a rebuild is as quick as it was asked to be."""
    shop, told = ToldShop(root), told_visits(mix)
    shop.fill(told, journals)
    print(
        f"\n{journals} journals ({mix}): {shop.size / journals / 1000:.0f} kB, {shop.events / journals:.0f} events and "
        f"{shop.attempts / journals:.0f} tries each, {shop.size / 1e6:.0f} MB"
    )
    floors, rebuilt = [], []
    for _ in range(rounds):
        floors.append(took(lambda: floor(shop)))
        rebuilt.append(took(lambda: archive_of(root).rebuild()))
    best = min(rebuilt, key=lambda one: one.clock)
    by_clock, read = statistics.median(one.clock for one in rebuilt), statistics.median(one.clock for one in floors)
    _say("read and SHA-256, one core", f"{read:6.2f} s")
    rest = f"best {best.clock:.2f} s, processors {best.processors:.2f} s   {by_clock / read:.1f} times the floor"
    _say("rebuild", f"{by_clock:6.2f} s   {rest}")
    tell = shop.begin(told[-1], 20)
    archive_of(root).catch_up()
    _say("nothing has changed", f"{took(lambda: archive_of(root).catch_up()).clock * 1000:6.1f} ms")
    caught = []
    for _ in range(7):
        tell(3)
        caught.append(took(lambda: archive_of(root).catch_up()).clock)
    _say("catch up with one job", f"{statistics.median(caught) * 1000:6.1f} ms by a program that was just started")
    running = archive_of(root)
    running.catch_up()
    caught = []
    for _ in range(7):
        tell(3)
        caught.append(took(running.catch_up).clock)
    _say("", f"{statistics.median(caught) * 1000:6.1f} ms by one that runs")
    checked = took(lambda: archive_of(root).check())
    _say("check", f"{checked.clock:6.2f} s   processors {checked.processors:.2f} s")
    size = (root / ARCHIVE).stat().st_size
    _say("size", f"{size / 1e6:6.1f} MB   {size / journals / 1000:.1f} kB a job")
    _of_readers(shop, root)
    return mix != MIXES[0] or _demand("rebuild", best.clock, REBUILD_AT_MOST_S, "s")


def _of_readers(shop: ToldShop, root: Path) -> None:
    """What the extra `fast` gains where every line is read, and where a whole shop is verified."""
    every = [path.read_bytes() for path in sorted((shop.root / "jobs").rglob("*.jsonl"))[:EXAMINED]]
    readers = {"orjson": json_values.values_with_orjson, "without it": json_values.values_without_extra}
    walked: dict[str, list[float]] = {name: [] for name in readers}
    verified: dict[str, list[float]] = {name: [] for name in readers}
    gc.disable()
    for _ in range(5):
        for name, reader in readers.items():
            json_values._reader = lambda reader=reader: reader  # type: ignore[assignment]  # in place of the choice
            walked[name].append(worked(lambda: [examine(data) for data in every]))
            verified[name].append(worked(lambda: verify_all(LogFolder(root, LETTER))))
    gc.enable()
    for name in readers:
        _say(f"lines read, {name}", f"{min(walked[name]) / len(every) * 1000:6.2f} ms a journal, of one processor")
        _say(f"verify all, {name}", f"{min(verified[name]):6.2f} s of one processor")


def worked(act: Callable[[], Any]) -> float:
    """Seconds of this process."""
    began = time.process_time()
    act()
    return time.process_time() - began


def of_units(path: Path, units: int, visits_each: int, steps: int) -> bool:
    """Ask a large archive; says whether it answers as quickly as it was asked to."""
    made = took(lambda: big_archive.make(path, units, visits_each, steps))
    print(f"\n{units} units × {visits_each} visits × {steps} steps = {units * visits_each * steps:,} tries")
    _say("rows put in, with indexes", f"{made.clock:6.1f} s   {path.stat().st_size / 1e6:.0f} MB")
    draw = Random(7)  # noqa: S311 - no secret
    serials = [big_archive.serial_of(draw.randrange(units)) for _ in range(ASKED)]
    with opened(path) as connection:
        asked = [took(lambda serial=serial: visits(ask_sqlite(connection), serial)).clock for serial in serials]  # type: ignore[misc]
        words = [draw.choice(big_archive.WORDS) for _ in range(ASKED // 10)]
        found = [took(lambda text=text: search(connection, text)).clock for text in words]  # type: ignore[misc]
    _say("history by serial", f"median {_ms(asked, 0.5)} ms   p99 {_ms(asked, 0.99)} ms")
    _say("words of a note", f"median {_ms(found, 0.5)} ms   p99 {_ms(found, 0.99)} ms")
    with opened(path) as connection:
        fresh = took(lambda: visits(ask_sqlite(connection), serials[0])).clock
    _say("history, file just opened", f"{fresh * 1000:6.2f} ms")
    median = statistics.median(asked)
    return _demand("history", median * 1000, HISTORY_AT_MOST_S * 1000, "ms")


def _demand(what: str, found: float, at_most: float, unit: str) -> bool:
    kept = found < at_most
    print(f"    {'kept' if kept else 'MISSED'}: {what} in {found:.2f} {unit}, asked for under {at_most:g} {unit}")
    return kept


def _say(what: str, found: str) -> None:
    print(f"    {what:28}{found}")


def _ms(times: Sequence[float], share: float) -> str:
    return f"{sorted(times)[int(len(times) * share)] * 1000:.2f}"


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--journals", type=int, default=4000)
    asked.add_argument("--mix", choices=MIXES, default=MIXES[0])
    asked.add_argument("--rounds", type=int, default=3)
    asked.add_argument("--units", type=int, default=28_000)
    asked.add_argument("--visits", type=int, default=3)
    asked.add_argument("--steps", type=int, default=30)
    asked.add_argument("--counted", type=int, default=130_000, help="jobs to count figures over")
    asked.add_argument("--folder", type=Path, help="where to write; the system's temporary folder unless given")
    given = asked.parse_args()
    load = f"{os.getloadavg()[0]:.1f}" if hasattr(os, "getloadavg") else "unknown"
    print(f"{os.cpu_count()} processors, load {load}, Python {sys.version.split()[0]}")
    kept = True
    with tempfile.TemporaryDirectory(dir=given.folder) as name:
        if given.journals:
            kept &= of_journals(Path(name) / "logs", given.journals, given.mix, given.rounds)
        if given.units:
            kept &= of_units(Path(name) / ARCHIVE, given.units, given.visits, given.steps)
            (Path(name) / ARCHIVE).unlink()
        if given.counted:
            print(f"\nfigures over {given.counted:,} jobs")
            kept &= figures.measure(Path(name), given.counted, given.rounds)
    raise SystemExit(not kept)


if __name__ == "__main__":
    main()

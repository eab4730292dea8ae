"""Is anything lost that was acknowledged, however often the program is killed?

    .venv/bin/python tests/benchmarks/kills.py [--tui 2000] [--headless 2000] [--seed 1] [--workers 2]

Each kill at the screens starts the real program in a terminal of 80x24, walks on in the job that the last one left, and
ends the program by SIGKILL, SIGTERM or by closing its terminal: at a random moment, as soon as a frame is drawn, or as
soon as a file of the records grows. Each kill without a screen does the same to a process that only writes. After each
the files must hold what was read in them before and what the screen had acknowledged, and the screen must show nothing
that they don't hold.

First a program is killed that acknowledges before it keeps: its losses have to be found, or the count means nothing.
Ctrl-C ends it after the kills that are under way and prints what was found so far. The exit status is 1 where anything
was lost, altered or shown too early, where the harness got stuck, or where the control found nothing.
"""

import argparse
import multiprocessing
import queue
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.synchronize import Event as StopSign
from pathlib import Path
from typing import Final

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY), *(str(REPOSITORY / "tests" / name) for name in ("fakes", "faults"))]

from kill_tally import Tally  # noqa: E402 - the paths come first
from screen_kills import ScreenKills  # noqa: E402
from struck_terminal import Strike  # noqa: E402
from walk_kills import WalkKills  # noqa: E402

FORGETFUL: Final = REPOSITORY / "tests" / "faults" / "forgetful.py"
CONTROLS: Final = 3
STUCK_MOST: Final = 3
"""A worker that got stuck so often in a row gives up."""
SCREEN, WALK, CONTROL = "at the screens", "without a screen", "control"


@dataclass(frozen=True, slots=True)
class Share:
    """What one worker does."""

    folder: Path
    bytecode: Path
    seed: int
    screens: int
    walks: int
    controls: int


@dataclass(slots=True)
class Found:
    """What all workers found of one kind of kill, and how long they took for it in all."""

    tally: Tally = field(default_factory=Tally)
    spent_s: float = 0.0


Report = tuple[str, Tally, float]
"""The kind of kill, what one of them found, its seconds."""


def work(share: Share, reports: "multiprocessing.Queue[Report]", stop: StopSign) -> None:
    """One worker: each kill is reported at once."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the parent says when it is over, so that no program is left behind
    for nth in range(share.controls):
        forgetful = (sys.executable, str(FORGETFUL))
        bench = ScreenKills(share.folder / f"control-{nth}", share.seed + nth, share.bytecode, forgetful)
        repeat(CONTROL, 1, lambda bench=bench: bench.strike(Strike("KILL", after=2)), reports, stop)  # type: ignore[misc]
    bench = ScreenKills(share.folder / "screens", share.seed, share.bytecode)
    repeat(SCREEN, share.screens, bench.strike, reports, stop, bench.close_the_books)
    walks = WalkKills(share.folder / "walks", share.seed)
    repeat(WALK, share.walks, walks.kill, reports, stop, walks.close_the_books)


def repeat(
    kind: str,
    times: int,
    kill: Callable[[], Tally],
    reports: "multiprocessing.Queue[Report]",
    stop: StopSign,
    at_the_end: Callable[[], Tally] | None = None,
) -> None:
    """Kill so many times, or until it is enough."""
    stuck = 0
    for _ in range(times):
        if stop.is_set() or stuck >= STUCK_MOST:
            break
        tally = report(kind, kill, reports)
        stuck = stuck + 1 if tally.stuck else 0
    if times and at_the_end is not None:
        report(kind, at_the_end, reports)


def report(kind: str, act: Callable[[], Tally], reports: "multiprocessing.Queue[Report]") -> Tally:
    """Do it, and hand in what it found; a fault of the harness is a finding, too."""
    begun_s = time.monotonic()
    try:
        tally = act()
    except Exception:
        tally = Tally(stuck=[traceback.format_exc()])
    reports.put((kind, tally, time.monotonic() - begun_s))
    return tally


def shares(asked: argparse.Namespace, folder: Path) -> list[Share]:
    """The kills spread evenly over the workers."""

    count: int = asked.workers

    def of(total: int, worker: int) -> int:
        return total // count + (worker < total % count)

    return [
        Share(
            folder / str(worker),
            folder / "bytecode",
            asked.seed * 1000 + worker,
            of(asked.tui, worker),
            of(asked.headless, worker),
            CONTROLS if worker == 0 and asked.tui else 0,
        )
        for worker in range(count)
    ]


def collect(
    workers: list[multiprocessing.Process], reports: "multiprocessing.Queue[Report]", into: dict[str, Found]
) -> None:
    """Count in what the workers hand in until they are done."""
    while True:
        alive = any(worker.is_alive() for worker in workers)
        try:
            kind, tally, spent_s = reports.get(timeout=0.5)
        except queue.Empty:
            if not alive:
                return
            continue
        into[kind].tally.add(tally)
        into[kind].spent_s += spent_s
        for wrong in tally.wrongs() if kind != CONTROL else [f"control: {one}" for one in tally.stuck]:
            print(f"  {wrong}", flush=True)


def run(asked: argparse.Namespace, folder: Path) -> tuple[dict[str, Found], bool]:
    """All kills, and whether they were broken off; no child is left behind."""
    context = multiprocessing.get_context("spawn")
    reports: multiprocessing.Queue[Report] = context.Queue()
    stop = context.Event()
    found = {kind: Found() for kind in (CONTROL, SCREEN, WALK)}
    workers = [context.Process(target=work, args=(share, reports, stop)) for share in shares(asked, folder)]
    for worker in workers:
        worker.start()
    broken_off = False
    try:
        while True:
            try:
                collect(workers, reports, found)  # type: ignore[arg-type]
                break
            except KeyboardInterrupt:
                if broken_off:
                    raise
                broken_off = True
                stop.set()
                print("broken off; the kills that are under way are waited for (Ctrl-C again: not even that)")
    finally:
        for worker in workers:
            if worker.is_alive():
                worker.terminate()  # its terminals close with it, which ends their programs
            worker.join()
    return found, broken_off


def told(found: dict[str, Found], wall_s: float) -> bool:
    """Print the figures; True when all is well."""
    control = found[CONTROL].tally
    if control.kills.total():
        counts = f"{len(control.lost)} lost events found in {control.kills.total()} kills"
        print(f"control, a program that acknowledges before it keeps: {counts} (at least one a kill)")
    for kind in (SCREEN, WALK):
        tally, count = found[kind].tally, found[kind].tally.kills.total()
        if count:
            print(f"\n{kind}")
            print("\n".join(f"  {line}" for line in tally.lines()))
            print(f"  seconds a kill, in one worker{found[kind].spent_s / count:6.2f}")
    print(f"\n{wall_s:.0f} s in all")
    is_caught = len(control.lost) >= control.kills.total() and not control.stuck
    return is_caught and all(found[kind].tally.is_good for kind in (SCREEN, WALK))


def main() -> int:
    """Kill, count, print."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--tui", type=int, default=2000, help="kills at the screens")
    asked.add_argument("--headless", type=int, default=2000, help="kills of a walk without a screen")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--workers", type=int, default=2, help="processes side by side")
    given = asked.parse_args()
    begun_s = time.monotonic()
    with tempfile.TemporaryDirectory(prefix="passcheck-kills-") as name:
        found, _ = run(given, Path(name))
    return 0 if told(found, time.monotonic() - begun_s) else 1


if __name__ == "__main__":
    sys.exit(main())

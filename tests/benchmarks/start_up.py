"""How long from the command to a shelf of 500 jobs, beside a bare Textual app with the same widgets?

    .venv/bin/python tests/benchmarks/start_up.py [--jobs 500] [--rounds 15]

Each round starts both programs in a terminal of 100x30, one after the other, and takes the time from the start of
the process until units stand on the screen. Printed: minimum and median of each, and the ratio of the medians.
"""

import argparse
import asyncio
import fcntl
import os
import pty
import select
import statistics
import struct
import subprocess
import sys
import tempfile
import termios
import time
from pathlib import Path

REPOSITORY = Path(__file__).parents[2]
ONE_ROW = b"7Q00002"
sys.path[:0] = [str(REPOSITORY), str(REPOSITORY / "tests" / "fakes")]

from lamp_box import lamp_box_job  # noqa: E402 - the paths come first

from passcheck.bench.bench import Bench  # noqa: E402
from passcheck.bench.shop import Shop  # noqa: E402
from passcheck.job.arrival import Arrive  # noqa: E402

BARE = """
from textual.app import App, ComposeResult
from textual.widgets import Footer, Input, OptionList, Static
from textual.widgets.option_list import Option

class Bare(App[None]):
    BINDINGS = [("f5", "refresh", "Look again")]
    def compose(self) -> ComposeResult:
        yield Static("UNIT")
        yield Input(placeholder="scan or type a serial")
        yield OptionList(*[Option(f"A31-{n:04d}  7Q{n:05d}  LB-1  Lamp stays dark", id=str(n)) for n in range(COUNT)])
        yield Footer()

Bare().run()
"""


def first_screen_s(command: list[str], words: bytes, env: dict[str, str]) -> float:
    """Seconds from starting a command until the words were written to its terminal."""
    master, slave = pty.openpty()
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 30, 100, 0, 0))
    start = time.perf_counter()
    process = subprocess.Popen(
        command, stdin=slave, stdout=slave, stderr=slave, start_new_session=True, env={**os.environ, **env}
    )
    seen = b""
    try:
        while words not in seen:
            ready, _, _ = select.select([master], [], [], 30)
            if not ready:
                raise SystemExit(f"{command[0]} never showed {words!r}")
            seen += os.read(master, 65536)
        return time.perf_counter() - start
    finally:
        process.kill()
        process.wait()
        os.close(master)
        os.close(slave)


def stocked_shop(root: Path, jobs: int) -> tuple[Path, Path]:
    """Folders with that many units taken in, one of them half tested, and the shelf's summary made once."""
    shop, folders = lamp_box_job(root)
    asyncio.run(_arrivals(shop, jobs - 1))
    shop.shelf()
    return folders.logs, folders.sequences


async def _arrivals(shop: Shop, units: int) -> None:
    for count in range(units):
        bench = await shop.arrive(Arrive("t1", "LB-1", f"7Q{count:05d}", f"Lamp stays dark, unit {count}"))
        if not isinstance(bench, Bench):
            raise SystemExit(f"no unit was taken in: {bench}")
    await shop.close()


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--jobs", type=int, default=500)
    asked.add_argument("--rounds", type=int, default=15)
    given = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        logs, boards = stocked_shop(Path(name), given.jobs)
        ours = [str(Path(sys.executable).with_name("passcheck")), "--logs", str(logs), "--sequences", str(boards)]
        bare_file = Path(name) / "bare.py"
        bare_file.write_text(BARE.replace("COUNT", str(given.jobs)))
        env = {"TERM": "xterm-256color", "PYTHONPATH": str(REPOSITORY)}
        took: dict[str, list[float]] = {"bare": [], "passcheck": []}
        for _ in range(given.rounds):
            took["bare"].append(first_screen_s([sys.executable, str(bare_file)], ONE_ROW, env))
            took["passcheck"].append(first_screen_s(ours, ONE_ROW, env))
    for what, times in took.items():
        print(f"{what:10} min {min(times):.3f} s   median {statistics.median(times):.3f} s   of {len(times)}")
    print(f"ratio of the medians {statistics.median(took['passcheck']) / statistics.median(took['bare']):.2f}")


if __name__ == "__main__":
    main()

"""How well is the time between two taps known, beside the best that this machine can do?

    .venv/bin/python tests/benchmarks/tap_accuracy.py [--taps 200] [--seed 1] [--load repaint]

Types at `passcheck bench tap-check` in a terminal, at random moments 80 to 300 ms apart, and the same at a bare reader
in a second terminal (the floor). Prints the error of the intervals in ms: that of the time at which the byte was read
(event), that of the time at which the screen handled it (handler), and the floor, with the ratio of event to floor at
the 95th percentile, and how many taps were lost or doubled. Loads: none, 16 widgets repainted 30 times a second, a
handler that blocks for 200 ms at a time, one and all cores burnt. Run it on a machine that has nothing else to do.
"""

import argparse
import fcntl
import json
import os
import pty
import random  # noqa: TID251 - moments drawn from a seed
import signal
import struct
import subprocess
import sys
import tempfile
import termios
import threading
import time
import tty
from collections.abc import Sequence
from pathlib import Path

LOADS = ("idle", "repaint", "blocked", "one core burnt", "all cores burnt")
BARE = """
import os, sys, time
while True:
    read = os.read(0, 64)
    stamp = time.monotonic()
    if not read or b"q" in read:
        break
    print(*[stamp] * len(read), sep="\\n", flush=True)
"""


def run_loaded(load: str, file: str) -> None:
    """Be the program under test: the check of the tap key, with a load inside it where that is asked."""
    from textual.containers import Grid

    from passcheck.app.plain import Words
    from passcheck.app.start import exact_keys
    from passcheck.app.tap_check import TapCheckApp

    class Loaded(TapCheckApp):
        def on_mount(self) -> None:
            super().on_mount()
            if load == "repaint":
                self.mount(Grid(*(Words(id=f"busy{place}") for place in range(16))))
                self.set_interval(1 / 30, self.repaint)
            elif load == "blocked":
                self.set_interval(0.4, self.block)

        def repaint(self) -> None:
            for words in self.query(Grid).first().query(Words):
                words.say(f"{time.monotonic():.6f} " * 8)

        def block(self) -> None:
            end = time.monotonic() + 0.2
            while time.monotonic() < end:
                pass

    with Path(file).open("w", encoding="utf-8") as write:
        app = Loaded(write, Path(f"{file}.ready").touch)
        exact_keys(app)
        app.run()


class Typed:
    """A program in a terminal that is typed at."""

    def __init__(self, command: Sequence[str], output: int | None = None) -> None:
        self._master, slave = pty.openpty()
        tty.setraw(slave)
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        out = slave if output is None else output
        env = {**os.environ, "TERM": "xterm-256color"}
        self.process = subprocess.Popen(command, stdin=slave, stdout=out, stderr=out, start_new_session=True, env=env)
        os.close(slave)
        threading.Thread(target=self._drain, daemon=True).start()

    def type(self, text: bytes) -> None:
        os.write(self._master, text)

    def _drain(self) -> None:
        try:
            while os.read(self._master, 1 << 16):
                pass
        except OSError:  # the program has ended
            pass


def measured(load: str, taps: int, draw: random.Random, folder: Path) -> str:
    """Type so many taps under one load and return the line of the table."""
    file, floor_file = folder / "taps", folder / "floor"
    ready = folder / "taps.ready"
    ready.unlink(missing_ok=True)
    inside = load if load in ("repaint", "blocked") else "idle"
    cores = {"one core burnt": 1, "all cores burnt": os.cpu_count() or 1}.get(load, 0)
    program = Typed([sys.executable, __file__, "--inside", inside, "--file", str(file)])
    with floor_file.open("wb") as output:
        floor = Typed([sys.executable, "-I", "-S", "-c", BARE], output.fileno())
    while not ready.exists():
        time.sleep(0.01)
    burning = [subprocess.Popen([sys.executable, "-c", "while True: pass"]) for _ in range(cores)]
    sent = []
    for _ in range(taps):
        time.sleep(draw.uniform(0.08, 0.3))
        sent.append(time.monotonic())
        program.type(b" ")
        floor.type(b" ")
    time.sleep(1)
    for typed in (program, floor):
        typed.type(b"q")
        typed.process.wait(timeout=20)
    for burner in burning:
        burner.send_signal(signal.SIGKILL)
        burner.wait()
    rows = [json.loads(line) for line in file.read_text("utf-8").splitlines()]
    bare = [float(line) for line in floor_file.read_text("utf-8").split()]
    if len(rows) != taps or len(bare) != taps:
        return f"{load:16}  {len(rows) - taps:+d} taps, floor {len(bare) - taps:+d}: no intervals to compare"
    event, handler = ([row[name] for row in rows] for name in ("event", "handler"))
    told = {name: errors_ms(times, sent) for name, times in (("event", event), ("handler", handler), ("floor", bare))}
    shares = "  ".join(f"{name} {words(errors)}" for name, errors in told.items())
    ratio = at(told["event"], 0.95) / max(at(told["floor"], 0.95), 1e-3)
    return f"{load:16}  {shares}  event:floor {ratio:.1f}  lost or doubled 0"


def errors_ms(times_s: Sequence[float], sent_s: Sequence[float]) -> list[float]:
    """Absolute errors of the intervals, the smallest first, in ms."""
    found = zip(times_s, times_s[1:], sent_s, sent_s[1:], strict=False)
    return sorted(1000 * abs((b - a) - (d - c)) for a, b, c, d in found)


def at(errors: Sequence[float], share: float) -> float:
    """The error that so large a share doesn't exceed."""
    return errors[min(len(errors) - 1, int(share * len(errors)))]


def words(errors: Sequence[float]) -> str:
    """The table's four figures."""
    return " / ".join(f"{at(errors, share):.2f}" for share in (0.5, 0.95, 0.99, 1.0))


def main() -> None:
    parser = argparse.ArgumentParser(description="Errors of tapped intervals under load, beside a bare reader's.")
    parser.add_argument("--taps", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--load", choices=LOADS, action="append", help="only this one; may be given again")
    parser.add_argument("--inside", help=argparse.SUPPRESS)
    parser.add_argument("--file", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.inside is not None:
        run_loaded(asked.inside, asked.file)
        return
    draw = random.Random(asked.seed)  # noqa: S311 - moments to tap at
    print(f"{asked.taps} taps a load, seed {asked.seed}; errors of intervals in ms: median / 95 % / 99 % / largest")
    with tempfile.TemporaryDirectory() as folder:
        for load in asked.load or LOADS:
            print(measured(load, asked.taps, draw, Path(folder)), flush=True)


if __name__ == "__main__":
    main()

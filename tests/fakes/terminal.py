"""The real program in a real terminal, typed at by a test: no sleeps, every wait is for words on the screen."""

import fcntl
import os
import pty
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Mapping, Sequence
from pathlib import Path

import pyte

PATIENCE_S = 30.0
QUIET_S = 0.3  # shorter than the blink of an entry's cursor
KEYS = {"enter": b"\r", "escape": b"\x1b", "tab": b"\t", "f8": b"\x1b[19~", "f4": b"\x1bOS", "f6": b"\x1b[17~"}


class Terminal:
    """A terminal of 80 columns and 24 rows with passcheck in it."""

    def __init__(
        self, logs: Path, sequences: Path, env: Mapping[str, str] | None = None, command: Sequence[str] = ()
    ) -> None:
        """Start the program with a command, none for the shelf; nothing is waited for yet."""
        self.raw = b""
        self._screen = pyte.Screen(80, 24)
        self._stream = pyte.ByteStream(self._screen)
        self._master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        self.before = termios.tcgetattr(slave)
        self._slave = slave
        self.process = subprocess.Popen(
            [sys.executable, "-m", "passcheck", "--logs", str(logs), "--sequences", str(sequences), *command],
            stdin=slave,
            stdout=slave,
            stderr=slave,
            start_new_session=True,
            # the terminal's own hang-up reaches the program only when it is the controlling one
            preexec_fn=lambda: fcntl.ioctl(slave, termios.TIOCSCTTY, 0),  # noqa: PLW1509 - no thread runs here yet
            env={**os.environ, "TERM": "xterm-256color", **(env or {})},
        )

    def type(self, *pieces: str) -> None:
        """Type text, or a key by its name in `KEYS`."""
        for piece in pieces:
            os.write(self._master, KEYS.get(piece, piece.encode()))

    def wait_for(self, words: str) -> None:
        """Return when the words stand on the screen.

        Raises:
            AssertionError: they didn't come in time; shows what stands there instead.
        """
        end = time.monotonic() + PATIENCE_S
        while not any(words in row for row in self.rows):
            if not self._read(end - time.monotonic()):
                raise AssertionError("\n".join((f"{words!r} never came; the screen shows:", *self.rows)))

    def gone(self, words: str) -> None:
        """Return when the words stand on the screen no more."""
        end = time.monotonic() + PATIENCE_S
        while any(words in row for row in self.rows):
            if not self._read(end - time.monotonic()):
                raise AssertionError("\n".join((f"{words!r} stayed; the screen shows:", *self.rows)))

    def type_at(self, moment_s: float, piece: str) -> None:
        """Type a key at a moment of the monotonic clock, as a hand does; what comes meanwhile is read."""
        while (left := moment_s - time.monotonic()) > 0:
            self._read(left)
        self.type(piece)

    def settle(self) -> None:
        """Return when the program has written nothing for a while: it has taken the last key and waits for the next."""
        while self._read(QUIET_S):
            pass

    @property
    def rows(self) -> list[str]:
        """The screen as it stands, row by row."""
        return self._screen.display

    def end_by(self, number: signal.Signals) -> int:
        """Send a signal and return the exit status (negative: killed by that signal)."""
        self.process.send_signal(number)
        return self.ended()

    def ended(self) -> int:
        """The exit status, once the program has ended."""
        end = time.monotonic() + PATIENCE_S
        while self.process.poll() is None and time.monotonic() < end:
            self._read(0.05)
        return self.process.wait(timeout=1)

    def close(self) -> None:
        """Take the terminal away, and the program with it if it still runs."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        for descriptor in (self._master, self._slave):
            os.close(descriptor)

    def hang_up(self) -> int:
        """Close the terminal under the program and return its exit status."""
        os.close(self._slave)
        os.close(self._master)
        status = self.process.wait(timeout=PATIENCE_S)
        self._master, self._slave = os.open(os.devnull, os.O_RDONLY), os.open(os.devnull, os.O_RDONLY)
        return status

    def settings_now(self) -> list[object]:
        """The terminal's modes, to compare with `before`."""
        return termios.tcgetattr(self._slave)

    def _read(self, wait_s: float) -> bool:
        ready, _, _ = select.select([self._master], [], [], max(0.0, wait_s))
        if not ready:
            return False
        try:
            read = os.read(self._master, 65536)
        except OSError:  # the other side is gone
            return False
        self.raw += read
        self._stream.feed(read)
        return True

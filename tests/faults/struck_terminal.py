"""How is a program in a terminal ended at a chosen moment, and what did its screen say last?

What stands on the screen is what the last whole frame drew: the program is told that it may mark where a frame begins
and ends, so that half a number on its way to the terminal is never taken for another one.
"""

import fcntl
import os
import pty
import re
import select
import signal
import struct
import subprocess
import termios
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

import pyte
from terminal import KEYS, PATIENCE_S

ASKS_FOR_FRAMES: Final = b"\x1b[?2026$p"
FRAMES_ARE_TAKEN: Final = b"\x1b[?2026;2$y"
FRAME_BEGINS: Final = b"\x1b[?2026h"
FRAME_ENDS: Final = b"\x1b[?2026l"
LEAVES_THE_SCREEN: Final = (b"\x1b[<u", b"\x1b[?1049l")
"""What is written once nothing more is drawn; the screen in memory knows neither."""
CONTROLS: Final = re.compile(r"\x1b\[[0-9;:?<>=]*[A-Za-z]")
LAST_WORDS: Final = 2000
GLANCE_S: Final = 0.0002  # between two looks at the size of a file

Way = Literal["KILL", "TERM", "closed terminal"]
Aim = Literal["a moment", "a frame", "a write"]
ENDS_WITH: Final[Mapping[Way, int]] = {
    "KILL": -signal.SIGKILL,
    "TERM": 128 + signal.SIGTERM,
    "closed terminal": 128 + signal.SIGHUP,
}
"""The exit status after each; all but the first are orderly ends."""


@dataclass(frozen=True, slots=True)
class Strike:
    """When and how the program is ended: after so many acknowledgements on its screen, and then

    - *a moment* later, `delay_s`;
    - or when it has drawn *a frame*, the `nth`, before anybody looked at it;
    - or when a file of the records has grown by *a write*, the `nth`.
    """

    way: Way
    after: int = 1
    aim: Aim = "a moment"
    delay_s: float = 0.0
    nth: int = 1


class Struck(Exception):
    """The program was ended as the strike says."""


class Stuck(Exception):
    """The screen never showed what the technician waits for."""


class StruckTerminal:
    """A terminal of 80 columns and 24 rows whose program is ended in the middle of what its technician does."""

    def __init__(
        self, command: Sequence[str], env: Mapping[str, str], records: Callable[[], Sequence[Path]], strike: Strike
    ) -> None:
        """Start the program; nothing is waited for yet.

        Args:
            command: the program and its arguments.
            env: its environment.
            records: gives the files that grow by a write.
            strike: how it ends.
        """
        self.strike = strike
        self.seen: dict[Path, bytes] = {}
        """The files of the records as they were read just before the end."""
        self.sizes: dict[Path, int] = {}
        """Bytes that were seen in them later than that, before the end."""
        self._records = records
        self._armed = False
        self._due_s = 0.0
        self._counted = 0
        self.status: int | None = None
        """With which exit status the strike ended it; None before, and when nothing but a kill does."""
        self.said_last = b""
        """The last bytes that came: a program that dies of a fault of its own says of which."""
        self._held = b""  # of a frame that is not whole
        self._left = False
        self._screen = pyte.Screen(80, 24)
        self._stream = pyte.ByteStream(self._screen)
        self._master, self._slave = pty.openpty()
        fcntl.ioctl(self._slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        slave = self._slave
        self.process = subprocess.Popen(
            command,
            stdin=slave,
            stdout=slave,
            stderr=slave,
            start_new_session=True,
            # the terminal's own hang-up reaches the program only when it is the controlling one
            preexec_fn=lambda: fcntl.ioctl(slave, termios.TIOCSCTTY, 0),  # noqa: PLW1509 - no thread runs here
            env={**env, "TERM": "xterm-256color"},
        )

    # What a hand and an eye do

    @property
    def rows(self) -> list[str]:
        """The screen as it stands, row by row."""
        return list(self._screen.display)

    def type(self, *pieces: str) -> None:
        """Type text, or a key by its name in `KEYS`."""
        os.write(self._master, b"".join(KEYS.get(piece, piece.encode()) for piece in pieces))

    def until(self, true: Callable[[list[str]], object], what: str) -> list[str]:
        """Return the screen once this is true of it.

        Raises:
            Stuck: it never was.
            Struck: the program was ended meanwhile.
        """
        end = time.monotonic() + PATIENCE_S
        while not true(rows := self.rows):
            if not self._read(end):
                raise Stuck("\n".join((f"waited for {what} in vain; the screen shows:", *rows)))
        return rows

    def wait(self, *words: str) -> str:
        """Return the first of these that stands on the screen."""
        rows = self.until(lambda rows: any(one in row for row in rows for one in words), " or ".join(map(repr, words)))
        return next(one for one in words if any(one in row for row in rows))

    def gone(self, words: str) -> None:
        """Return when the words stand on the screen no more."""
        self.until(lambda rows: not any(words in row for row in rows), f"the end of {words!r}")

    # How it ends

    def acknowledged(self, so_many: int) -> None:
        """Something more was acknowledged on the screen: the strike may be due."""
        if so_many >= self.strike.after and not self._armed:
            self._armed = True
            self._due_s = time.monotonic() + self.strike.delay_s
            self.sizes = self._sizes_now()

    def end(self, way: Way) -> int | None:
        """End the program now and return its exit status; what it has drawn until then is on `rows`.

        None when it didn't end, however long one waited.
        """
        self._armed = False
        self.seen = {path: path.read_bytes() for path in self._records() if path.exists()}
        if way == "closed terminal":
            self._close_both()
            with suppress(subprocess.TimeoutExpired):
                self.process.wait(timeout=PATIENCE_S)
            return self.process.returncode
        self.process.send_signal(signal.SIGKILL if way == "KILL" else signal.SIGTERM)
        end = time.monotonic() + PATIENCE_S
        while self.process.poll() is None and time.monotonic() < end:
            self._take(self._ready(0.02))
        while self._take(self._ready(0.0)):
            pass
        return self.process.returncode

    def close(self) -> None:
        """Take the terminal away, and the program with it if it still runs."""
        if self.process.poll() is None:
            with suppress(ProcessLookupError):
                os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()
        self._close_both()

    def _close_both(self) -> None:
        for descriptor in (self._slave, self._master):
            if descriptor >= 0:
                os.close(descriptor)
        self._slave = self._master = -1

    @property
    def last_line(self) -> str:
        """The last line that was written, without its colours."""
        text = CONTROLS.sub("", self.said_last.decode(errors="replace"))
        return next((line.strip() for line in reversed(text.splitlines()) if line.strip()), "")

    def _strike(self) -> None:
        self.status = self.end(self.strike.way)
        raise Struck

    def _sizes_now(self) -> dict[Path, int]:
        sizes = {}
        for path in self._records():
            with suppress(FileNotFoundError):
                sizes[path] = path.stat().st_size
        return sizes

    # What comes from the program

    def _read(self, end_s: float) -> bool:
        """Take what comes next; False when nothing did until `end_s`, or the program is gone."""
        while True:
            if self._is_due():
                self._strike()
            if self._take(self._ready(self._patience_s(end_s))):
                return True
            if time.monotonic() >= end_s or self.process.poll() is not None:
                return False

    def _is_due(self) -> bool:
        strike = self.strike
        if not self._armed:
            return False
        if strike.aim == "a write":
            now = self._sizes_now()
            if now != self.sizes:
                self._counted, self.sizes = self._counted + 1, now
        if strike.aim == "a moment":
            return time.monotonic() >= self._due_s
        return self._counted >= strike.nth

    def _patience_s(self, end_s: float) -> float:
        strike, left = self.strike, max(0.0, end_s - time.monotonic())
        if not self._armed or strike.aim == "a frame":
            return left
        return min(left, GLANCE_S if strike.aim == "a write" else max(0.0, self._due_s - time.monotonic()))

    def _ready(self, wait_s: float) -> bytes:
        ready, _, _ = select.select([self._master], [], [], wait_s)
        if not ready:
            return b""
        try:
            return os.read(self._master, 65536)
        except OSError:  # the other side is gone
            return b""

    def _take(self, read: bytes) -> bool:
        if ASKS_FOR_FRAMES in read:
            os.write(self._master, FRAMES_ARE_TAKEN)
        if self._armed and self.strike.aim == "a frame":
            self._counted += read.count(FRAME_ENDS)
            if self._counted >= self.strike.nth:
                self._held += read
                self._strike()
        self._draw(read)
        return bool(read)

    def _draw(self, read: bytes) -> None:
        """Feed whole frames to the screen, and nothing of what is drawn once the program leaves it."""
        self.said_last = (self.said_last + read)[-LAST_WORDS:]
        if self._left:
            return
        self._held += read
        stops = [stop for mark in LEAVES_THE_SCREEN if (stop := self._held.find(mark)) >= 0]
        if stops:
            self._left, self._held = True, self._held[: min(stops)]
        begins = self._held.rfind(FRAME_BEGINS)
        whole = begins if begins > self._held.rfind(FRAME_ENDS) else len(self._held)
        self._stream.feed(self._held[:whole])
        self._held = self._held[whole:]

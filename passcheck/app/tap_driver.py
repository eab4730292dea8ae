"""How do keys come in with the moment at which they were read, whatever the screens are doing?

The stock reader is a thread: its stamps are late by whatever the interpreter does meanwhile. Here a process of its own
reads the terminal (`tap_reader`), and its stamp becomes the event's time. When that process is lost, the stock reader
goes on, so that no key is lost with it, and the application is told by `ReaderLost`.

The one module that touches names of Textual that are not public: `LinuxDriver` with its `run_input_thread`,
`exit_event`, `_key_thread`, `_app` and `_debug`, and `XTermParser`, as they are in the version that pyproject.toml
pins.
"""

import os
import select
import subprocess
import sys
from codecs import getincrementaldecoder
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from threading import Thread, current_thread

from textual._xterm_parser import XTermParser
from textual.drivers.linux_driver import LinuxDriver

from passcheck.app import tap_reader
from passcheck.app.reader_lost import ReaderLost

LOOK_S = 0.1  # how often the end of the program and a lone Escape are looked at; a key wakes at once


class TapDriver(LinuxDriver):
    """The stock driver but for who reads the terminal."""

    _reading_on: Thread | None = None
    """Reads by itself, its process lost, until the end is told."""

    def disable_input(self) -> None:
        """End every thread that reads.

        A terminal that closes sends SIGCONT too, which starts another thread, and the stock driver waits for that one
        alone: who reads on beside it would spin at the terminal's end and keep the program for ever.
        """
        if self._reading_on is not None and self._reading_on is not current_thread():
            self.exit_event.set()
            self._reading_on.join()
            self.exit_event.clear()
        super().disable_input()

    def run_input_thread(self) -> None:
        """Take what the process read; go on alone where there is none or it is lost."""
        try:
            with _reading(self.fileno) as reader:
                # a reader that ended by itself found the terminal at its end: no other would find a key there
                ended = self._take_from(reader) or reader.wait() == 0
        except OSError:  # no process to be had
            ended = False
        if not ended:
            self._app.post_message(ReaderLost())
            self._reading_on = current_thread()
            super().run_input_thread()

    def _take_from(self, reader: "subprocess.Popen[bytes]") -> bool:
        """Turn frames into events until the program ends or another thread reads (True), or no more come (False)."""
        if reader.stdout is None:
            return False
        frames = reader.stdout.fileno()
        parser = XTermParser(self._debug)
        decode = getincrementaldecoder("utf-8")(errors="replace").decode
        waiting = b""
        # SIGCONT starts another thread beside one that still runs, and the end waits for the newest only
        while not self.exit_event.is_set() and self._key_thread is current_thread():
            ready, _, _ = select.select([frames], [], [], LOOK_S)
            if ready:
                read = os.read(frames, 1 << 16)
                if not read:
                    return False
                waiting += read
                for stamp, data in (found := _Frames(waiting)):
                    # an empty text would tell the parser that the input has ended
                    for event in parser.feed(text) if (text := decode(data)) else ():
                        event.time = stamp
                        self.process_message(event)
                waiting = found.rest
            for event in parser.tick():
                self.process_message(event)
        return True


class _Frames:
    """The whole frames of what came so far; `rest` is what is left once they were taken."""

    def __init__(self, data: bytes) -> None:
        self.rest = data

    def __iter__(self) -> Iterator[tuple[float, bytes]]:
        head = tap_reader.FRAME.size
        while len(self.rest) >= head:
            stamp, length = tap_reader.FRAME.unpack_from(self.rest)
            if len(self.rest) < head + length:
                return
            data, self.rest = self.rest[head : head + length], self.rest[head + length :]
            yield stamp, data


@contextmanager
def _reading(terminal: int) -> Iterator["subprocess.Popen[bytes]"]:
    """Have the process read the terminal.

    It is gone when this ends, so that it never takes the shell's next keys. It has a session of its own, because a
    scheduler that groups by session would charge it for what the screens do.
    """
    alive, held = os.pipe()
    try:
        process = subprocess.Popen(
            [sys.executable, "-I", "-S", str(Path(tap_reader.__file__)), str(alive)],
            stdin=terminal,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            bufsize=0,
            pass_fds=(alive,),
            start_new_session=True,
        )
    except OSError:
        os.close(held)
        raise
    finally:
        os.close(alive)
    with process:  # waits for its end
        try:
            yield process
        finally:
            with suppress(ProcessLookupError):
                process.kill()
            os.close(held)

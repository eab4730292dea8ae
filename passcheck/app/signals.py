"""How does the program end when the system, not a key, ends it?

A handler on the loop wakes an idle application and lets it restore the terminal; every result is on disk long before.
A closed terminal takes more: the kernel sends SIGCONT after SIGHUP, the driver takes that for a return to the
foreground and starts a new writer, which dies on the dead terminal with its queue full, and the end would wait for it.
So what is written after a hang-up goes nowhere, before SIGCONT is looked at (Python runs handlers in order of number).
"""

import asyncio
import os
import signal
import sys
from collections.abc import Callable
from contextlib import suppress
from functools import partial

NAMES = ("SIGTERM", "SIGINT")
End = Callable[[int], None]


def end_on_signals(end: End) -> None:
    """Call `end` with the exit status that names the signal (128 + its number), for each that this system has."""
    loop = asyncio.get_running_loop()
    # a loop without signal support (Windows, or a loop outside the main thread) keeps the stock behaviour
    with suppress(NotImplementedError, RuntimeError, ValueError):
        for number in (getattr(signal, name) for name in NAMES):
            loop.add_signal_handler(number, end, 128 + int(number))
        if hasattr(signal, "SIGHUP"):
            signal.signal(signal.SIGHUP, partial(_hung_up, loop, end))


def _hung_up(loop: asyncio.AbstractEventLoop, end: End, number: int, _frame: object) -> None:
    if loop.is_closed():  # the screens are gone: the signal does what it does to any program
        signal.signal(number, signal.SIG_DFL)
        signal.raise_signal(number)
        return
    if not _terminal_is_there():
        _write_nowhere()
    loop.call_soon_threadsafe(end, 128 + number)


def _terminal_is_there() -> bool:
    with suppress(OSError, ValueError, AttributeError):
        return os.isatty(sys.__stderr__.fileno())  # type: ignore[union-attr]
    return False


def _write_nowhere() -> None:
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.__stdout__, sys.__stderr__):
        with suppress(OSError, ValueError, AttributeError):
            os.dup2(nowhere, stream.fileno())  # type: ignore[union-attr]
    os.close(nowhere)

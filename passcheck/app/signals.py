"""How does the program end when the system, not a key, ends it?

A handler on the loop wakes an idle application and lets it restore the terminal; every result is on disk long before.
"""

import asyncio
import signal
from collections.abc import Callable
from contextlib import suppress

NAMES = ("SIGTERM", "SIGHUP", "SIGINT")


def end_on_signals(end: Callable[[int], None]) -> None:
    """Call `end` with the exit status that names the signal (128 + its number), for each that this system has."""
    loop = asyncio.get_running_loop()
    for name in NAMES:
        number = getattr(signal, name, None)
        if number is not None:
            # a loop without signal support (Windows, or a loop outside the main thread) keeps the stock behaviour
            with suppress(NotImplementedError, RuntimeError, ValueError):
                loop.add_signal_handler(number, end, 128 + int(number))

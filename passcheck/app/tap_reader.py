"""When was each byte of the keyboard read? A program of its own, so that nothing the screens do can delay the answer.

Run by file, never imported by the screens: it reads the terminal on its standard input, stamps what it read with the
monotonic clock, and writes frames of (seconds, length, bytes) to its standard output. It ends with the program that
started it: the descriptor named in the first argument is then at its end.
"""

import os
import select
import struct
import sys
import time
from contextlib import suppress

FRAME = struct.Struct("=dH")
"""Before the bytes of each frame: the moment they were read, in seconds of `time.monotonic`, and how many there are."""
MOST_BYTES = 4096
SLICE_NS = 100_000  # the shortest that may be asked
_ATTRIBUTES = struct.Struct("=IIQiIQQQII")  # size, policy, flags, nice, priority, runtime, deadline, period, two clamps
_SCHED_SETATTR = {"x86_64": 314, "aarch64": 274}
_TERMINAL = 0
_ANSWERS = 1


def relay(alive: int) -> None:
    """Read and stamp until the terminal or the reader of the frames is gone.

    A frame is shorter than what a pipe takes in one piece, so it never arrives in parts.
    """
    with suppress(OSError):
        while True:
            ready, _, _ = select.select([_TERMINAL, alive], [], [])
            if alive in ready:
                return
            read = os.read(_TERMINAL, MOST_BYTES - FRAME.size)
            stamp = time.monotonic()
            if not read:
                return
            os.write(_ANSWERS, FRAME.pack(stamp, len(read)) + read)


def want_short_slices() -> bool:
    """Ask Linux to let this process run as soon as a key wakes it, whoever is running; True where it was granted.

    A process that asks for a shorter slice goes before one with the usual one, without any privilege (sched_setattr(2),
    `sched_runtime` of an ordinary process, Linux 6.12 and later). Without it a busy screen on the same core keeps the
    stamp waiting for its own slice of some milliseconds. Elsewhere nothing is asked.
    """
    system = os.uname()
    number = _SCHED_SETATTR.get(system.machine) if system.sysname == "Linux" else None
    if number is None:
        return False
    import ctypes  # no other way to a call that Python doesn't offer

    nice = os.getpriority(os.PRIO_PROCESS, 0)
    asked = _ATTRIBUTES.pack(_ATTRIBUTES.size, 0, 0, nice, 0, SLICE_NS, 0, 0, 0, 0)
    with suppress(OSError, AttributeError):
        return bool(ctypes.CDLL(None).syscall(number, 0, asked, 0) == 0)
    return False


if __name__ == "__main__":
    want_short_slices()
    relay(int(sys.argv[1]))

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


if __name__ == "__main__":
    relay(int(sys.argv[1]))

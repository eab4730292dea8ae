"""What time is it on the clock that stamps keys?"""

import sys
from typing import Final

from textual.events import Key

CLOCK_NAME: Final = "performance counter" if sys.platform == "win32" else "monotonic"
"""As the records name it."""


def key_now_s() -> float:
    """Seconds of the clock of `event.time`: monotonic on Linux and macOS, the performance counter on Windows.

    A fresh event is the only public way to it that is right on every system.
    """
    return Key("x", None).time

"""How is the check of the tap key opened?"""

import sys
from collections.abc import Callable
from typing import IO

from passcheck.app.start import ABNORMAL, WRONG_USE, exact_keys, no_screen_because
from passcheck.app.tap_check import TapCheckApp


class Unwritten(Exception):
    """A tap couldn't be written; says why."""


def run_tap_check(write: IO[str] | None, ready: Callable[[], None]) -> int:
    """Open the screen and return the exit status, as for the shelf.

    Raises:
        Unwritten: a tap couldn't be written; the screen was closed again.
    """
    hindrance = no_screen_because()
    if hindrance:
        print(hindrance, file=sys.stderr)  # noqa: T201 - there is no screen to say it on
        return WRONG_USE
    app = TapCheckApp(write, ready)
    exact_keys(app)
    app.run()
    if app.unwritten is not None:
        raise Unwritten(app.unwritten.strerror or str(app.unwritten))
    return ABNORMAL if app.return_code is None else app.return_code

"""May the screens open on this terminal, and how did they end?"""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING, Any

from textual.app import App

from passcheck.app.app import PasscheckApp

if TYPE_CHECKING:  # the shelf stands before all of it is loaded; there is no cycle
    from passcheck.app.practice_desk import PracticeDesk
    from passcheck.bench.shop import Shop

WRONG_USE = 2
ABNORMAL = 3


def run_app(shop: Shop, practice: PracticeDesk | None = None, person: str = "") -> int:
    """Open the shelf; return the exit status: 0 for an orderly end, 2 where no screen can be drawn, else what ended it.

    `practice` comes with a shop whose units are simulated; `person` is at the bench from the start, "" asks who is.

    Raises:
        FileFault: bench.yaml can't be used.
        BenchFailed: it can't be read.
    """
    hindrance = no_screen_because()
    if hindrance:
        print(hindrance, file=sys.stderr)  # noqa: T201 - there is no screen to say it on
        return WRONG_USE
    app = PasscheckApp(shop, practice=practice)
    app.person = person
    exact_keys(app)
    app.run()
    if app.fault is not None:
        raise app.fault
    return ABNORMAL if app.return_code is None else app.return_code


def exact_keys(app: App[Any]) -> None:
    """Have each key carry the moment its byte was read, where the system lets another process read the terminal."""
    if sys.platform != "win32":
        from passcheck.app.tap_driver import TapDriver

        app.driver_class = TapDriver


def no_screen_because() -> str:
    """Why no screen can be drawn here, in one sentence, or ""."""
    lacking = [
        name
        for name, stream in (("input", sys.stdin), ("output", sys.stdout), ("error output", sys.stderr))
        if stream is None or not stream.isatty()
    ]
    if lacking:
        return (
            f"passcheck: the screens need a terminal, and the {lacking[0]} is none; 'passcheck jobs' lists without one."
        )
    if os.environ.get("TERM", "") == "dumb":
        return "passcheck: this terminal calls itself dumb (TERM=dumb) and can't place text; use another terminal."
    return ""

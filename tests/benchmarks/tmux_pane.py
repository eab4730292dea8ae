"""How is a program in a real terminal watched, typed at, and taken down as a recording?

Needs tmux. A recording is asciicast 2: one JSON line that tells the size, then a line a change with its seconds. Only
rows that changed are written, as they looked between two glances, so it plays anywhere and stays small.
"""

import json
import re
import shutil
import subprocess
import time
from pathlib import Path
from typing import Final

PATIENCE_S: Final = 20.0
POLL_S: Final = 0.05
SERVER: Final = "passcheck"
TMUX: Final = shutil.which("tmux") or ""
LOOSE_END: Final = "Traceback"
COLOURING: Final = re.compile(r"\x1b\[([\d;:]*)m")


class Stuck(Exception):
    """What was waited for never came; the screen is in the words."""


def tmux(*arguments: str) -> str:
    """Ask our own tmux server."""
    return subprocess.run(
        [TMUX, "-L", SERVER, *arguments], check=True, capture_output=True, text=True, timeout=PATIENCE_S
    ).stdout


class Terminal:
    """One tmux pane with a program in it; `keys` is how many were pressed."""

    session = "walk"
    columns, lines = 80, 24

    def __init__(self) -> None:
        """Nothing was pressed and nothing is recorded."""
        self.keys = 0
        self.recording: Recording | None = None

    def open(self, command: list[str]) -> None:
        """Run the command in a new session."""
        size = ["-x", str(self.columns), "-y", str(self.lines)]
        tmux("-f", "/dev/null", "new-session", "-d", "-s", self.session, *size, *command)
        tmux("set-option", "-g", "remain-on-exit", "on")
        tmux("set-option", "-s", "escape-time", "0")

    def rows(self) -> list[str]:
        """The screen."""
        if self.recording is not None:
            self.recording.take(tmux("capture-pane", "-p", "-e", "-N", "-t", self.session).split("\n")[:-1])
        return tmux("capture-pane", "-p", "-t", self.session).split("\n")[:-1]

    def shows(self, *words: str) -> bool:
        """Does any of these stand on the screen?"""
        text = "\n".join(self.rows())
        if LOOSE_END in text:
            raise Stuck(text)
        return any(one in text for one in words)

    def wait(self, *words: str, patience_s: float = PATIENCE_S) -> str:
        """Return the first of these that stands on the screen."""
        end = time.monotonic() + patience_s
        while time.monotonic() < end:
            text = "\n".join(self.rows())
            if LOOSE_END in text:
                raise Stuck(text)
            found = next((one for one in words if one in text), None)
            if found is not None:
                return found
            time.sleep(POLL_S)
        raise Stuck(f"{words} never came:\n" + "\n".join(self.rows()))

    def gone(self, words: str) -> None:
        """Return when the words are gone."""
        end = time.monotonic() + PATIENCE_S
        while self.shows(words):
            if time.monotonic() > end:
                raise Stuck(f"{words!r} stayed:\n" + "\n".join(self.rows()))
            time.sleep(POLL_S)

    def settled(self) -> None:
        """Return when the screen stays as it is for four looks."""
        end, last, same = time.monotonic() + PATIENCE_S, self.rows(), 0
        while same < 4 and time.monotonic() < end:
            time.sleep(POLL_S)
            now = self.rows()
            same = same + 1 if now == last else 0
            last = now

    def key(self, *names: str) -> None:
        """Press keys by tmux's names."""
        self.keys += len(names)
        tmux("send-keys", "-t", self.session, *names)

    def type(self, text: str) -> None:
        """Type text."""
        self.keys += len(text)
        tmux("send-keys", "-t", self.session, "-l", "--", text)

    def pid(self) -> int:
        """The program's process."""
        return int(tmux("display-message", "-p", "-t", self.session, "#{pane_pid}"))

    def end(self) -> None:
        """Take the session away."""
        subprocess.run([TMUX, "-L", SERVER, "kill-session", "-t", self.session], check=False, capture_output=True)


def alone(rows: list[str]) -> list[str]:
    """The rows, each with its own colours: tmux names in a row only what differs from the end of the row before."""
    begun: list[str] = []
    stand_alone = []
    for row in rows:
        stand_alone.append("".join(begun) + row)
        for sign in COLOURING.finditer(row):
            if sign[1].split(";")[0] in ("", "0"):
                begun.clear()
            begun.append(sign[0])
    return stand_alone


class Recording:
    """The screen as it changed."""

    def __init__(self, columns: int, lines: int, title: str) -> None:
        """Begin now."""
        head = {"version": 2, "width": columns, "height": lines, "title": title, "env": {"TERM": "xterm-256color"}}
        self._lines = [json.dumps(head)]
        self._began = time.monotonic()
        self._rows: list[str] = []

    def take(self, rows: list[str]) -> None:
        """Write down the rows that changed since the last look."""
        rows = alone(rows)
        changed = [nth for nth, row in enumerate(rows) if nth >= len(self._rows) or row != self._rows[nth]]
        if not changed:
            return
        drawn = "".join(f"\x1b[{nth + 1};1H\x1b[0m\x1b[2K{rows[nth]}" for nth in changed)
        self._rows = rows
        at_s = round(time.monotonic() - self._began, 3)
        self._lines.append(json.dumps([at_s, "o", drawn], ensure_ascii=False))

    def keep(self, file: Path) -> None:
        """Write it."""
        file.write_text("\n".join(self._lines) + "\n", encoding="utf-8")

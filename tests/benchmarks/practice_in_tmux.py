"""Does a newcomer get a practice unit to its release with keys alone, reading nothing but the screen?

    .venv/bin/python tests/benchmarks/practice_in_tmux.py [--columns 100 --lines 30] [--record FILE] [--show]

Needs tmux. The newcomer knows no code and no journal: what to press is read off the line that says PRACTICE, what to
type off the figure below it or off the unit (F10). It says how many keys that took and how long, and how long a person
would be at it: keys and decisions take the times of the keystroke-level model (Card, Moran and Newell, 1980), words are
read once at 240 a minute. Three persons: one reads the line and the figure below it, one what the line leads to as
well (the sheet that lies there, the step), one every word on the screen. `--record` keeps the screen as an asciicast;
`tmux -L passcheck attach -r` watches it live.
"""

import argparse
import os
import re
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from itertools import pairwise
from pathlib import Path
from typing import Final

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY), str(Path(__file__).parent)]

from practice_reader import ADVICE, Read, led_to, the_line, without_front  # noqa: E402 - the paths come first
from tmux_pane import POLL_S, TMUX, Recording, Stuck, Terminal  # noqa: E402 - the paths come first

FAULT: Final = "tired-capacitors"
LONGEST: Final = 900  # turns; a job takes about two hundred
SAME_AGAIN: Final = 12
ANSWER_S: Final = 3.0  # until a key that was pressed has to show
NEXT_S: Final = 1.0  # until the next display that is asked has to show
WORDS_A_S: Final = 4.0  # 240 a minute, read once
DECISION_S: Final = 1.35  # the model's M: to know what comes next, at every new advice
KEY_S: Final = 0.28  # its K, for somebody who types, but not for a living
SILENT: Final = "This unit doesn't exist. Ctrl+L"
FIGURE: Final = re.compile(r"(?:shows|reads|counted) (.+?)\s*$")
BARE: Final = re.compile(r"(-?[\d.]+) (?:V|A|Ω|kΩ|mVpp|s|°C)")
SERIAL: Final = re.compile(r"label on the unit reads (\S+)")
SUSPECT: Final = re.compile(r"Suspect 1: (\S+)")
LIMIT_LIGHT: Final = {"limit light off": "no", "limit light was on briefly": "brief", "limit light ON": "stays"}
FRAME: Final = "║"
MOVES_S: Final = 8.0  # the slowest sweep, up and down
PRESSES: Final = 10
CLASSES: Final = (
    ("went on working", "A"),
    ("drifted", "B"),
    ("stopped, and came back", "C"),
    ("needed somebody", "D"),
    ("needs repair", "E"),
)
ANSWERS: Final = "●●●"
TURNS: Final = 13  # the most lamps that a panel has, and one to begin


class Newcomer:
    """Somebody who has never seen the program."""

    def __init__(self, pane: Terminal, *, aloud: bool) -> None:
        """Args: pane: the terminal; aloud: True to print each advice as it is followed."""
        self.pane = pane
        self.aloud = aloud
        self.serial = ""
        self.suspect = ""
        self.advised: list[str] = []
        self.every = Read()
        self.led_to = Read()
        self.line = Read()
        self.waited_s = 0.0
        self._last_line = ""

    # What is read

    def screen(self) -> list[str]:
        """The screen once it stands still; what never stood there before is read."""
        self.pane.settled()
        rows = self.pane.rows()
        self.every.take(rows)
        self.led_to.take(led_to(rows))
        self.line.take(the_line(rows))
        return rows

    def advice(self) -> tuple[str, str]:
        """The line that says what to do, and the figure below it."""
        self.pane.wait(f"\n{ADVICE}")
        self.pane.gone(SILENT)  # a sheet is just going away
        rows = self.screen()
        nth = [nth for nth, row in enumerate(rows) if row.startswith(ADVICE)][-1]
        below = rows[nth + 1] if nth + 1 < len(rows) else ""
        if (label := SERIAL.search(below)) is not None:
            self.serial = label[1]
        return rows[nth].removeprefix(ADVICE).strip(), below

    def next_advice(self) -> tuple[str, str]:
        """The advice; the same once more only where it stays, for what was entered may still be on its way to disk."""
        end = time.monotonic() + NEXT_S
        while (told := self.advice())[0] in self.advised[-1:] and time.monotonic() < end:
            time.sleep(POLL_S)
        return told

    def figure(self) -> str:
        """What the display below the advice shows, "" where none is asked for."""
        _, below = self.advice()
        if "limit light is" in below:
            return "yes" if "LIT" in below else "no"
        shown = FIGURE.search(below)
        return shown[1] if shown is not None else ""

    def unit(self) -> list[str]:
        """The unit large, row by row; its sheet lies there until Escape."""
        if not any(FRAME in row for row in self.screen()):
            self.pane.key("F10")
            self.pane.wait(FRAME)
        rows = [row.split(FRAME)[1] for row in self.screen() if row.count(FRAME) == 2]
        return [row.strip() for row in without_front(rows)]

    def back(self) -> None:
        """Away from the unit."""
        self.pane.key("Escape")
        self.pane.gone(FRAME)

    def displays(self) -> list[str]:
        """The figures of the unit's instruments, from the top; what is asked of a caution is not among them."""
        found, rows = [], self.unit()
        for before, row in pairwise(["", *rows]):
            if row.startswith("ASKED BEFORE"):
                break
            name, _, shown = f"{before} {row}".rpartition(": ") if before.endswith(":") else row.rpartition(": ")
            if name and name[0] not in "▀▄█" and not name.startswith(("Enter", "Tab")):
                found.append(shown.strip())
        return found

    # What is typed

    def fill(self, values: list[str]) -> None:
        """Values, an Enter after each; a number without its unit, which stands beside the entry."""
        for value in values:
            if value:
                bare = BARE.fullmatch(value)
                self.seen_to(partial(self.pane.type, value if bare is None else bare[1]))
            self.seen_to(lambda: self.pane.key("Enter"))

    def fill_sheet(self, _words: str) -> None:
        """What the display shows, into the entry that has the cursor."""
        began = time.monotonic()
        self.pane.gone("still falls")
        self.pane.gone("s more.  The tester")
        self.waited_s += time.monotonic() - began
        self.next_display()
        value = self.figure()
        screen = "\n".join(self.pane.rows())
        if not value and "yes or no" in screen:
            value = "no"
        self.fill([value])

    def next_display(self) -> None:
        """Wait a little for another display than the last one; now and then the next shows the same."""
        end = time.monotonic() + NEXT_S
        while (line := self.advice()[1]) == self._last_line and time.monotonic() < end:
            time.sleep(POLL_S)
        self._last_line = line

    def press(self, *keys: str) -> Callable[[str], None]:
        """One who presses these keys."""

        return lambda _words: self.seen_to(lambda: self.pane.key(*keys))

    def seen_to(self, act: Callable[[], None]) -> None:
        """Do it, and look until the screen has changed and stands still again."""
        before, end = self.pane.rows(), time.monotonic() + ANSWER_S
        act()
        while self.pane.rows() == before and time.monotonic() < end:
            time.sleep(POLL_S)
        self.pane.settled()

    def understood(self, _words: str) -> None:
        """A caution: read, then U."""
        self.pane.wait("Press U when")
        self.press("u")("")

    def again(self, _words: str) -> None:
        """The same once more, read anew."""
        self.answer("")

    def answer(self, _words: str) -> None:
        """All displays of the step into its entry, one after the other."""
        values = self.displays()
        for _ in range(TURNS):
            act = any(row.startswith("Enter: ") for row in self.unit())
            if values or not act:
                break
            self.pane.key("Enter")
            values = self.moved()
        self.back()
        self.fill(["none" if one == "ran through without a stop" else one for one in values])

    def moved(self) -> list[str]:
        """What the displays show once what was started has come to rest."""
        end = time.monotonic() + MOVES_S
        while not (values := self.displays()) and time.monotonic() < end:
            time.sleep(POLL_S)
        return values

    def to_the_end(self, _words: str) -> None:
        """Do all that the unit offers, one after the other, then write down what was seen each time."""
        for _ in range(TURNS):
            if not any(row.startswith("Enter: ") for row in self.unit()):
                break
            self.press("Enter")("")
        values = self.displays()
        self.back()
        self.fill(values)

    def grade(self, _words: str) -> None:
        """Disturb it, watch what it does, name the class and the time it took."""
        self.unit()
        self.press("Enter")("")
        end = time.monotonic() + MOVES_S
        while (found := self.class_seen()) is None and time.monotonic() < end:
            time.sleep(POLL_S)
        times = [one for one in self.displays() if re.fullmatch(r"[\d.]+ s", one)]
        self.back()
        self.fill([found or "", *(times or [""])])

    def class_seen(self) -> str | None:
        """The class by the words for what it did, None while it does it."""
        words = " ".join(self.unit())
        return next((letter for said, letter in CLASSES if said in words), None)

    def presses(self, _words: str) -> None:
        """Ten presses, and how many of them the unit counted."""
        self.unit()
        for _ in range(PRESSES):
            self.press("Enter")("")
        counted = re.findall(r"unit counted (\d+)", "\n".join(self.unit()))
        self.back()
        self.fill(counted)

    def power_up(self, _words: str) -> None:
        """The current, and the limit light off the supply's line."""
        rows = self.unit()
        light = next(answer for words, answer in LIMIT_LIGHT.items() if words in " ".join(rows))
        amps = [one for one in self.displays() if one.endswith("A")]
        self.back()
        self.fill([*amps[:1], light])

    def as_listed(self, _words: str) -> None:
        """Look at every point; all is as it should be."""
        seen = self.displays()
        self.back()
        amiss = [f"{nth} {words}" for nth, words in enumerate(seen, 1) if words != "as listed"]
        self.fill(["; ".join(amiss)])

    def suspects(self, _words: str) -> None:
        """Which block stands first; then the rework."""
        self.pane.key("C-f")
        self.pane.wait("Suspect 1")
        found = SUSPECT.search("\n".join(self.screen()))
        assert found is not None
        self.suspect = found[1]
        self.pane.key("Escape")
        self.pane.gone("SUSPECTS")
        self.pane.key("r")
        self.pane.wait("REWORK 1")

    def rework(self, _words: str) -> None:
        """The block that is suspected, and why."""
        self.pane.type(self.suspect)
        self.pane.settled()
        self.pane.key("Tab", "Tab")
        self.pane.settled()
        self.pane.type("looks tired")
        self.screen()
        self.pane.key("F4")
        self.pane.gone("REWORK 1")

    def photo(self, _words: str) -> None:
        """The note's slip opens."""
        self.pane.key("F4")
        self.pane.wait("NOTE ON")

    def note(self, _words: str) -> None:
        """A few words, a photo's path."""
        self.pane.type("as it came")
        self.pane.key("Tab")
        self.pane.settled()
        self.pane.type("a.jpg")
        self.pane.settled()
        self.pane.key("F4")
        self.pane.gone("NOTE ON")

    def begin_taps(self, _words: str) -> None:
        """Enter, and where no tap key is known yet the space bar twice; a sweep is measured with an instrument."""
        if self.pane.shows("passes each of"):
            self.press("F5")("")
            return
        self.press("Enter")("")
        if self.pane.shows("THE TAP KEY"):
            self.screen()
            self.pane.key("Space")
            self.pane.wait("once more to keep it")
            self.pane.key("Space")
            self.pane.gone("THE TAP KEY")

    def tap(self, _words: str) -> None:
        """One pair: pressed with the unit, and again when it answers."""
        trial = next((row for row in self.pane.rows() if "Trial " in row), None)
        if trial is None:  # the last pair was taken, and the result is being kept
            return
        self.pane.key("Space")
        self.pane.wait(ANSWERS)
        self.pane.key("Space")
        self.pane.gone(trial.strip())

    def all_lamps(self, _words: str) -> None:
        """Light every lamp in its turn, then: all as it says."""
        self.unit()
        for _ in range(TURNS):
            rows = self.unit()
            act = next((row for row in rows if row.startswith("Enter: ")), "")
            if not act:
                break
            self.press("Enter")("")
        self.back()
        self.fill([""])

    def put_back(self, _words: str) -> None:
        """The first of what is fitted, and how."""
        self.screen()
        self.pane.key("Tab")
        self.pane.type("set back")
        self.pane.settled()
        self.pane.key("F4")
        self.pane.gone("PUT BACK")

    def on_the_rack(self, _words: str) -> None:
        """The serial, as a scanner types it."""
        self.fill([self.serial])

    def sign(self, _words: str) -> None:
        """The serial once more, then the signature."""
        self.pane.type(self.serial)
        self.pane.settled()
        self.pane.key("F4")

    # The job

    def follow(self) -> None:
        """Do what the line says until the unit is released."""
        rules: list[tuple[str, Callable[[str], None]]] = [
            ("Down, then Enter", self.press("Down", "Enter")),
            ("A unit soaks: F7", self.press("F7")),
            ("went by: it is", lambda _words: self.pane.gone("went by: it is")),
            ("Ctrl+G lets time", self.press("C-g")),
            ("Type the serial off the unit, then Enter", self.on_the_rack),
            ("It has its hours. Type", self.on_the_rack),
            ("A look is begun", self.on_the_rack),
            ("F8: make safe", self.press("F8")),
            ("Make safe (F8)", self.press("F8")),
            ("F8 first if powered", self.press("c")),
            ("F12: close the run", self.press("F12")),
            ("O: put back", self.press("o")),
            ("Which block?", self.suspects),
            ("S: the signature", self.press("s")),
            ("Esc: back", self.press("Escape")),
            ("Outside the limits", self.again),
            ("It asks for a", self.photo),
            ("then F4 signs", self.sign),
            ("F4 closes the run", self.press("F4")),
            ("Type the block", self.rework),
            ("Choose what you took off", self.put_back),
            ("A few words", self.note),
            ("Press U", self.understood),
            ("Type current and limit light", self.power_up),
            ("Type what", self.fill_sheet),
            ("Type volts", self.fill_sheet),
            ("Read the serial", self.fill_sheet),
            ("Serial off the unit first", self.fill_sheet),
            ("Look at the unit panel", self.as_listed),
            ("begins the taps", self.begin_taps),
            ("type the codes", self.to_the_end),
            ("at each mark", self.to_the_end),
            ("Press on the unit panel", self.presses),
            ("Watch the pointer", self.answer),
            ("type the class", self.grade),
            ("Count on the unit panel", self.answer),
            ("Tap when you see it", self.tap),
            ("Look at the lamps", self.all_lamps),
            ("read the unit panel", self.answer),
            ("Read the unit panel", self.answer),
            ("Enter", self.press("Enter")),
        ]
        same = 0
        for _ in range(LONGEST):
            words, _ = self.next_advice()
            if self.pane.shows("R E L E A S E D"):
                return
            if self.aloud and words not in self.advised[-1:]:
                print(f"{self.pane.keys:5} keys  {words}")
            same = same + 1 if words in self.advised[-1:] else 0
            if same > SAME_AGAIN:
                raise Stuck(f"'{words}' leads nowhere:\n" + "\n".join(self.pane.rows()))
            self.advised.append(words)
            rule = next((act for phrase, act in rules if phrase in words), None)
            if rule is None:
                raise Stuck(f"'{words}' says no key:\n" + "\n".join(self.pane.rows()))
            rule(words)
        raise Stuck("the job never ends:\n" + "\n".join(self.pane.rows()))


def person_min(who: Newcomer, read: Read) -> float:
    """Minutes that a person takes who reads so much."""
    steps = sum(1 for nth, words in enumerate(who.advised) if nth == 0 or words != who.advised[nth - 1])
    return (read.words / WORDS_A_S + steps * DECISION_S + who.pane.keys * KEY_S + who.waited_s) / 60


def walk(pane: Terminal, work: Path, given: argparse.Namespace) -> int:
    """Practise once; the exit status."""
    os.environ["COLORTERM"] = "truecolor"
    me = [sys.executable, "-m", "passcheck", "--logs", str(work), "practice", "--board", "OV-24P", "--fault", FAULT]
    pane.columns, pane.lines = given.columns, given.lines
    began = time.monotonic()
    pane.open(["env", f"PYTHONPATH={REPOSITORY}", "COLORTERM=truecolor", *me])
    if given.record is not None:
        pane.recording = Recording(given.columns, given.lines, "passcheck practice")
    who = Newcomer(pane, aloud=given.show)
    try:
        pane.wait(ADVICE)
        who.follow()
        print("\n".join(row for row in who.screen() if row.strip()))
        print(f"{given.columns}x{given.lines}: {pane.keys} keys, {time.monotonic() - began:.0f} s")
        print(f"who reads the line alone: {who.line.words} words, {person_min(who, who.line):.1f} minutes")
        print(f"who reads what the line leads to: {who.led_to.words} words, {person_min(who, who.led_to):.1f} minutes")
        print(f"who reads everything: {who.every.words} words, {person_min(who, who.every):.1f} minutes")
        return 0
    except Stuck as stuck:
        print(f"STUCK  {stuck}")
        return 1
    finally:
        if pane.recording is not None:
            pane.recording.keep(given.record)
        pane.end()


def main() -> int:
    """Walk, and say what it took."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--columns", type=int, default=100, help="the terminal's width")
    asked.add_argument("--lines", type=int, default=30, help="and height")
    asked.add_argument("--record", type=Path, help="keep the screen as an asciicast in this file")
    asked.add_argument("--show", action="store_true", help="print each advice as it is followed")
    given = asked.parse_args()
    if not TMUX:
        print("tmux is not on this machine")
        return 2
    with tempfile.TemporaryDirectory() as work:
        return walk(Terminal(), Path(work), given)


if __name__ == "__main__":
    sys.exit(main())

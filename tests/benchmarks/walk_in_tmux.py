"""Does a whole repair go through the real program in a real terminal, from an empty bench to the sign-off?

    .venv/bin/python tests/benchmarks/walk_in_tmux.py [--work FOLDER] [--screens FOLDER] [--show]

Needs tmux. Walks the irrigation timer's story in a pane of 80x24 with keys alone. The program runs as it is, with one
difference: its clock is set forward by the seconds that stand in a small file, so that twelve hours of soak go by in a
minute. What to press is read off the screen; what was kept is read from the journals. `--show` prints each screen that
is saved; `tmux -L passcheck attach -r` watches it live.
"""

import argparse
import os
import re
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Final

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY), str(REPOSITORY / "tests" / "fakes"), str(Path(__file__).parent)]

import hand  # noqa: E402 - the paths come first
import soaking  # noqa: E402
from tmux_pane import PATIENCE_S, POLL_S, TMUX, Stuck, Terminal  # noqa: E402

from passcheck.cli import clock  # noqa: E402
from passcheck.cli.folders import Folders  # noqa: E402
from passcheck.job.answers import (  # noqa: E402
    CountAnswer,
    ListAnswer,
    PowerUpAnswer,
    PressesAnswer,
    ReadingAnswer,
    TableAnswer,
)
from passcheck.job.moment import Moment  # noqa: E402
from passcheck.job.plan import plan  # noqa: E402
from passcheck.job.soak import soak_now  # noqa: E402
from passcheck.job.state import Job  # noqa: E402
from passcheck.sequence.model import Step  # noqa: E402

AT_BENCH_MIN: Final = 10.0
TICK: Final = re.compile(r"\[( |■)\] (.*?)\s*▐")
CAUTION_LIES_THERE: Final = "STOP IF  "


# The program inside the pane


def shifted(moment: Moment, by_s: float) -> Moment:
    """The moment so many seconds later, by both clocks."""
    return Moment(
        moment.utc + timedelta(seconds=by_s), moment.offset_min, moment.boottime_ms + int(by_s * 1000), moment.boot_id
    )


def clock_of(file: Path) -> Callable[[], Moment]:
    """The machine's clock, set forward by the seconds in the file."""
    real = clock.now

    def now() -> Moment:
        return shifted(real(), float(file.read_text(encoding="ascii")))

    return now


def run_inside(offset: Path, arguments: list[str]) -> int:
    """The real program on the shifted clock, put in its place before anything that takes it is loaded."""
    vars(clock)["now"] = clock_of(offset)
    from passcheck.cli.main import main

    return main(arguments)


# The pane


class Pane(Terminal):
    """A tmux pane of 80x24 with the program in it."""

    def __init__(self, work: Path, sequences: Path) -> None:
        """Args: work: the folder of logs and clock; sequences: the boards' files."""
        super().__init__()
        self.work = work
        self.sequences = sequences

    @property
    def offset(self) -> Path:
        """The file by which time goes on."""
        return self.work / "offset"

    @property
    def logs(self) -> Path:
        """The records."""
        return self.work / "logs"

    def start(self) -> None:
        """Start the program in a new session."""
        if not self.offset.exists():
            self.offset.write_text("0", encoding="ascii")
        me = [sys.executable, __file__, "--inside", str(self.offset)]
        inside = [*me, "--", "--logs", str(self.logs), "--sequences", str(self.sequences)]
        self.open(inside)

    def kill(self) -> None:
        """Kill the program as a power failure does, and start it anew in a fresh pane."""
        pid = self.pid()
        os.kill(pid, signal.SIGKILL)
        end = time.monotonic() + PATIENCE_S
        while Path(f"/proc/{pid}").exists() and time.monotonic() < end:
            time.sleep(POLL_S)
        self.end()
        self.start()


# The technician


@dataclass(slots=True)
class Technician:
    """Types at the pane what a technician would, and reads the records beside it."""

    pane: Pane
    screens: Path | None = None
    aloud: bool = False
    saved: int = 0
    under: tuple[str, ...] = ()

    # What is known

    @property
    def job(self) -> Job:
        """The one job, from its journal."""
        from passcheck.cli.wire import open_shop  # not before the program in the pane has set its clock

        shop = open_shop(Folders(self.pane.logs, self.pane.sequences), clock_of(self.pane.offset))
        return shop.look(next((self.pane.logs / "jobs").rglob("*.jsonl")).stem)

    def take_up(self) -> None:
        """Say who is at the bench."""
        self.pane.wait("WHO IS AT THE BENCH?")
        self.pane.settled()
        self.pane.key("Enter")
        self.pane.wait("at the bench: Technician")

    def until(self, true: Callable[[Job], bool], words: str, patience_s: float = PATIENCE_S) -> Job:
        """Return the job once the journal says so."""
        end = time.monotonic() + patience_s
        while not true(job := self.job):
            if time.monotonic() > end:
                raise Stuck(f"{words}: the journal never said so; the screen:\n" + "\n".join(self.pane.rows()))
            time.sleep(POLL_S)
        return job

    def save(self, name: str) -> None:
        """Keep the screen as it stands."""
        self.pane.settled()
        text = "\n".join(self.pane.rows())
        self.saved += 1
        if self.screens is not None:
            (self.screens / f"{self.saved:02}-{name}.txt").write_text(text + "\n", encoding="utf-8")
        if self.aloud:
            print(f"--- {name}\n{text}\n")

    def time_goes_by(self, minutes: float) -> None:
        """Set the program's clock forward."""
        now = float(self.pane.offset.read_text(encoding="ascii"))
        fresh = self.pane.work / "offset.new"
        fresh.write_text(str(now + minutes * 60), encoding="ascii")
        fresh.replace(self.pane.offset)  # the program may read at any moment

    # What is typed

    def fill(self, *values: str) -> None:
        """Values one after the other, an Enter each, none typed before the last one was taken."""
        for value in values:
            self.pane.settled()
            if value:
                self.pane.type(value)
                self.pane.settled()
            self.pane.key("Enter")
        self.pane.settled()

    def make_safe(self) -> None:
        """F8, then the volts that are left at the supply."""
        self.pane.key("F8")
        self.prove_dead()

    def prove_dead(self) -> None:
        """The open sheet of make safe: the tester is carried over, the volts are read."""
        self.pane.wait("Volts at the supply")
        self.fill("0.02")
        self.pane.gone("This key switches nothing")

    def lift_all(self, step: Step) -> None:
        """Answer, tell and put back what stands before the step, until its entry lies there."""
        acts: dict[str, Callable[[], None]] = {
            "Answer the caution": self.answer_cautions,
            "The supply is on: tell": self.power_on,
            "Make safe (F8)": self.prove_dead,
            "It is off the unit": self.put_back,
            "Begin the taps": lambda: self.pane.gone("Begin the taps"),
        }
        for _ in range(12):
            self.pane.settled()
            found = next((label for label in acts if self.pane.shows(label)), None)
            if found is None:
                return
            self.pane.key("F5" if found == "Begin the taps" else "Enter")
            acts[found]()
        raise Stuck(f"{step.id} never opens:\n" + "\n".join(self.pane.rows()))

    def answer_cautions(self) -> None:
        """Read each, then its key or the fact that its display shows."""
        confirms = [one for caution in self.job.sequence.cautions.values() for one in caution.confirm]
        self.pane.wait(CAUTION_LIES_THERE)
        self.pane.settled()
        while self.pane.shows(CAUTION_LIES_THERE):
            asked = self.pane.wait("Press U when", "type what it shows")
            if asked == "Press U when":
                self.pane.key("u")
            else:
                text = " ".join(" ".join(self.pane.rows()).split())
                self.pane.type(hand.fact(next(one for one in confirms if one.ask in text)))
                self.pane.key("Enter")
            self.pane.gone(asked)
            self.pane.settled()

    def power_on(self) -> None:
        """What the supply's display shows."""
        self.pane.wait("POWER ON:")
        supply = next(iter(self.job.sequence.supplies.values()))
        self.fill(supply.nominal.text, supply.current_limit.text)
        self.pane.gone("POWER ON:")

    def put_back(self) -> None:
        """The first of what is fitted."""
        before = len(self.job.fitted)
        self.pane.wait("PUT BACK")
        self.pane.settled()
        self.pane.key("Tab")
        self.pane.settled()
        self.pane.type("put back and looked at")
        self.pane.settled()
        self.pane.key("F4")
        self.until(lambda job: len(job.fitted) < before, "what was put back")
        self.pane.gone("PUT BACK")

    def at_step(self, step: Step) -> None:
        """Walk the bench to the step."""
        for _ in range(60):
            self.pane.settled()
            below = [row.removeprefix("▌").strip() for row in self.pane.rows()[3:6]]  # a long reason takes two lines
            if any(row.startswith(step.title) for row in below):
                return
            self.pane.key("NPage")
        raise Stuck(f"{step.id} isn't in the run:\n" + "\n".join(self.pane.rows()))

    def note(self, words: str, photo: str = "") -> None:
        """The open slip of a note: words, then the photo's path."""
        self.pane.wait("NOTE ON")
        self.pane.settled()
        self.pane.type(words)
        self.pane.key("Tab")
        self.pane.settled()
        if photo:
            self.pane.type(photo)
        self.pane.settled()
        self.pane.key("F4")
        self.pane.gone("NOTE ON")

    def note_on(self, at_door: str, words: str, photo: str = "") -> None:
        """From the traveller: a note on the step that a line at the door leads to."""
        self.pane.key("Tab")
        self.pane.wait("BETWEEN THIS UNIT AND THE DOOR")
        listed = [row for row in self.pane.rows() if "› " in row]
        down = next(place for place, row in enumerate(listed) if at_door in row)
        self.pane.settled()
        self.pane.key("Home")  # no line is at hand at first, and later the one before
        for _ in range(down):
            self.pane.settled()
            self.pane.key("Down")
        self.pane.settled()
        self.pane.key("Enter")
        self.pane.wait("TRAVELLER")
        self.pane.key("n")
        self.note(words, photo)

    def try_under(self, *wanted: str) -> None:
        """Ctrl+N: tick these conditions and no others."""
        if self.under == wanted:
            return
        self.pane.key("C-n")
        self.pane.wait("HOW IT IS TRIED")
        self.pane.settled()
        self.tick(lambda words: words in wanted)
        self.pane.key("F4")
        self.pane.gone("HOW IT IS TRIED")
        self.under = wanted

    def walk(self, shown: Mapping[str, tuple[str, ...]] | None = None, *, until: str = "") -> list[str]:
        """Walk what the plan asks for, under what it asks for; what isn't shown reads as on a good unit."""
        walked: list[str] = []
        for _ in range(60):
            left = [one for one in plan(self.job) if one.step.kind != "soak"]
            if not left or left[0].step.id == until:
                return walked
            first = left[0]
            self.at_step(first.step)
            self.try_under(*first.under)
            verdict = self.try_step(first.step.id, *(shown or {}).get(first.step.id, ()))
            walked.append(f"{first.step.id} {verdict}")
        raise Stuck(f"the plan never ends: {walked}")

    def still_here(self) -> None:
        """Ctrl+Y."""
        before = self.job.lines
        self.pane.key("C-y")
        self.until(lambda job: job.lines > before, "still at the bench")

    def spend(self, minutes: float, *, powered: bool) -> None:
        """Let a step's minutes go by; Ctrl+Y now and then while the supply is told on, as nobody types meanwhile."""
        while minutes > AT_BENCH_MIN:
            self.time_goes_by(AT_BENCH_MIN)
            if powered:
                self.still_here()
            minutes -= AT_BENCH_MIN
        self.time_goes_by(minutes)

    def start_soak(self, *alone: str) -> None:
        """Tell the supply on and leave the unit; the volts stand there already."""
        soak = next(step for step in self.job.sequence.steps if step.kind == "soak")
        self.at_step(soak)
        self.lift_all(soak)
        self.pane.wait("Start the soak")
        self.pane.key("Enter")
        self.pane.wait("START THE SOAK")
        self.save("start-soak")
        self.fill("0.06", "no", soaking.METER_AT_START, "22", *alone)
        self.until(lambda job: job.open_soak is not None, "the soak")
        self.pane.gone("START THE SOAK")

    def to_shelf(self) -> None:
        """Back to the shelf from wherever the unit lies."""
        for _ in range(4):
            self.pane.settled()
            if self.pane.shows("THE SHELF"):
                return
            self.pane.key("Escape")
        raise Stuck("no way back to the shelf:\n" + "\n".join(self.pane.rows()))

    def to_rack(self) -> None:
        """The rack, from wherever one is."""
        self.to_shelf()
        self.pane.key("F7")
        self.pane.wait("THE RACK")

    def meter(self) -> str:
        """What the hour meter at the unit's outlet shows now."""
        leg = self.job.open_soak
        assert leg is not None
        gone = clock_of(self.pane.offset)().utc - leg.looks[0].moment.utc
        return soaking.meter_after(self.job, gone.total_seconds())

    def look(self, power_stayed: str) -> list[str]:
        """From the rack: scan the serial, read the display, walk what the look asks for."""
        job = self.job
        self.pane.settled()
        self.pane.type(job.serial)
        self.pane.settled()
        self.pane.key("Enter")
        self.pane.wait("LOOK AT " + job.serial)
        self.fill("12.0", "0.06", "no", power_stayed, "22")
        self.pane.gone("LOOK AT " + job.serial)
        return self.walk()

    def end_soak(self) -> None:
        """From the rack: the soak has its hours and is ended."""
        self.pane.wait("DONE: end the soak")
        self.save("rack-complete")
        self.pane.settled()
        self.pane.type(self.job.serial)
        self.pane.settled()
        self.pane.key("Enter")
        self.pane.wait("End the soak")
        self.pane.key("Enter")
        self.until(lambda job: job.open_soak is None, "the end of the soak")

    def put_all_back(self) -> None:
        """From the traveller: everything that a test fitted or set leaves the unit."""
        while self.job.fitted:
            self.pane.key("o")
            self.put_back()
            self.pane.wait("TRAVELLER")

    def sign_off(self) -> None:
        """From the traveller: the serial once more, F4."""
        self.pane.key("s")
        self.pane.wait("SIGNATURE", "AGAINST THE RELEASE")
        self.pane.settled()
        self.save("sign-off")
        self.pane.type(self.job.serial)
        self.pane.settled()
        self.pane.key("F4")
        self.until(lambda job: job.ended is not None, "the signature")
        self.pane.wait("R E L E A S E D")
        self.save("released")

    def rework(self, parts: str, action: str, reason: str) -> None:
        """From the traveller: what was done to the unit."""
        before = len(self.job.reworks)
        self.pane.key("r")
        self.pane.wait(f"REWORK {before + 1}")
        self.pane.settled()
        self.pane.type(parts)
        self.pane.gone("this line then says")
        self.pane.key("Tab")
        self.pane.settled()
        for _ in range(20):
            if self.pane.shows(f"‹ {action} ›"):
                break
            self.pane.key("Right")
            self.pane.settled()
        self.pane.key("Tab")
        self.pane.settled()
        self.pane.type(reason)
        self.pane.settled()
        self.save(f"rework-{before + 1}")
        self.pane.key("F4")
        self.until(lambda job: len(job.reworks) > before, "the rework")
        self.pane.wait("TRAVELLER")

    def start_run(self, purpose: str) -> None:
        """From the traveller: the purpose, the serial off the unit, the rest as carried over."""
        before = len(self.job.runs)
        self.pane.key("b")
        self.pane.wait("START A RUN")
        for _ in range(6):
            self.pane.settled()
            if self.pane.shows(f"▶ {purpose.upper()}  "):
                break
            self.pane.key("F2")
        self.fill(self.job.serial)
        if self.pane.shows("START A RUN"):
            self.fill("22")
        self.until(lambda job: len(job.runs) > before, "the run")
        self.under = ()
        self.pane.wait("step ")

    def close_run(self) -> str:
        """Make safe, then F12; back to the traveller; the outcome."""
        self.make_safe()
        self.pane.key("F12")
        self.pane.wait("CLOSE THE RUN")
        self.pane.key("F4")
        job = self.until(lambda job: job.open_run is None, "the end of the run")
        self.pane.wait("No run is open")
        self.take_in_hand()
        return job.runs[-1].outcome or ""

    def arrive(self, board: str, serial: str, complaint: str) -> None:
        """From the shelf: a unit that was never here is taken in."""
        self.pane.type(serial)
        self.pane.settled()
        self.pane.key("Enter")
        self.pane.wait("Serial")
        self.pane.settled()
        self.pane.key("End")  # the boards stand in the order of their names, and this one is the last
        self.pane.wait(board)
        self.pane.settled()
        self.pane.key("Enter")
        self.fill(serial)
        self.pane.type(complaint)
        self.pane.settled()
        self.save("arrival")
        self.pane.key("F4")
        self.pane.wait("TRAVELLER")

    def map_complaint(self, symptoms: tuple[str, ...], conditions: str) -> None:
        """From the traveller: which symptoms the owner's words are."""
        self.pane.key("m")
        self.pane.wait("THE COMPLAINT")
        self.pane.settled()
        self.tick(lambda words: words.startswith(symptoms))
        self.pane.type(conditions)
        self.pane.settled()
        self.save("complaint")
        self.pane.key("F4")
        self.until(lambda job: bool(job.symptoms), "the mapping")
        self.pane.gone("THE COMPLAINT")

    def tick(self, wanted: Callable[[str], bool]) -> None:
        """Fill these boxes and empty the others, from the first down; the cursor ends behind the last."""
        for full, words in [found.groups() for row in self.pane.rows() if (found := TICK.search(row)) is not None]:
            if (full == "■") != wanted(words):
                self.pane.key("Space")
                self.pane.settled()
            self.pane.key("Down")
            self.pane.settled()

    def take_in_hand(self) -> None:
        """By way of the shelf to the unit's traveller."""
        self.to_shelf()
        self.pane.settled()
        self.pane.type(self.job.serial)
        self.pane.settled()
        self.pane.key("Enter")
        self.pane.wait("TRAVELLER")

    def try_step(self, step_id: str, *values: str) -> str:
        """Walk one step with what is seen, a good unit's where nothing is given; the verdict."""
        job = self.job
        step, before = job.sequence.step(step_id), len(job.attempts)
        self.at_step(step)
        self.lift_all(step)
        self.spend(float(step.minutes), powered=step.power != "none")
        for _ in range(3):
            self.pane.settled()
            self.fill(*(values or typed(step)))
            end = time.monotonic() + 2
            while time.monotonic() < end:
                if len(self.job.attempts) > before:
                    return self.job.attempts[-1].judgement.verdict
                if self.pane.shows("ONCE MORE"):
                    break
                time.sleep(POLL_S)
        raise Stuck(f"{step_id} was not kept:\n" + "\n".join(self.pane.rows()))


def typed(step: Step) -> tuple[str, ...]:
    """What is typed for a good unit, field by field."""
    match hand.good(step):
        case ReadingAnswer(values):
            return values
        case PowerUpAnswer(current, _):
            return (current, "no")
        case PressesAnswer(counted):
            return (str(counted),)
        case CountAnswer(count):
            return (str(count),)
        case TableAnswer(rows):
            return rows
        case ListAnswer():
            return ("",)
        case other:
            raise AssertionError(f"nothing is known to type for {other}")


# The story

COMPLAINT: Final = "Four never waters and it waters in the rain."
DAMP: Final = "damp at J3"
OPEN_AND_CLOSE: Final = ("0.42", "0.41")
AS_FOUND: Final[Mapping[str, tuple[str, ...]]] = {
    "d02": ("12.4",),
    "d04": ("6.2 mA", "no"),
    "d08-current": (*OPEN_AND_CLOSE * 3, "0.40", "0.11", *OPEN_AND_CLOSE * 2),
    "d09": ("0.9",),
    "d10-lock": ("0.8",),
}
MENDED: Final[Mapping[str, tuple[str, ...]]] = {
    "d02": ("12.4",),
    "d04": ("6.1 mA", "no"),
    "d09": ("0.9",),
    "d10-lock": ("0.9",),
}
ALONE: Final = (
    "F1, the polyfuse of 500 mA, and 1 A in the plug",
    "steel shelf by the door",
    "cut-out of the shelf at 60 °C",
    "k9",
)


def story(who: Technician) -> None:
    """An irrigation timer with two faults, one of them there only when it is damp."""
    who.arrive("TH-12", "Q20417", COMPLAINT)
    who.map_complaint(("A zone does not open", "Waters in rain"), DAMP)
    found_as_the_owner_says(who)
    who.rework("U5", "replaced", "Zone 4 closes with 0.11 A")
    who.rework("R40", "jumper", "Pad of R40 cleaned of green crust, wire from R40 to J3")
    who.start_run("retest")
    print("retest:", who.walk(MENDED))
    print("retest ends:", who.close_run())
    accepted(who)
    soaked(who)
    who.put_all_back()
    who.start_run("acceptance")
    print("final:", who.walk())
    who.close_run()
    who.sign_off()


def found_as_the_owner_says(who: Technician) -> None:
    """Zone 4 at once; the rain lock comes dry and never once J3 is damp."""
    who.start_run("as-found")
    for step in ("d01", "d02", "d04", "d05", "d08-width", "d08-current", "d08-polarity", "d09", "d10-lock", "d10-run"):
        print("as found:", step, who.try_step(step, *AS_FOUND.get(step, ())))
    who.save("dry")
    who.at_step(who.job.sequence.step("d10-lock"))
    who.pane.key("F6")  # sprayed with the supply off
    who.pane.wait("told off")
    who.try_under(DAMP)
    print("damp:", who.try_step("d10-lock", "> 30 s"))
    who.save("damp")
    print("as found ends:", who.close_run())
    who.pane.key("C-f")
    who.pane.wait("Suspect 1")
    who.save("suspects")
    who.pane.key("Escape")
    who.pane.gone("SUSPECTS")


def accepted(who: Technician) -> None:
    """What is left passes; one button misses twice, passes, and is repeated until that says something."""
    who.start_run("acceptance")
    print("acceptance:", who.walk(MENDED))
    print("two presses missed:", who.try_step("d07-sw2", "8"))
    print("clean repeats:", who.walk())
    print("acceptance ends:", who.close_run())
    who.note_on("As it came in", "The case as it came", "photos/d01.jpg")
    who.note_on("SW2, ten", "A crumb under SW2 fell out")


def soaked(who: Technician) -> None:
    """Twelve hours on the rack: a look late, the program killed between two of them."""
    who.start_run("burn-in")
    who.start_soak(*ALONE)
    print("first look:", who.walk())
    who.to_rack()
    for nth in range(1, 12):
        minutes = minutes_to_look(who.job, late_min=40 if nth == 2 else 0)
        if minutes is None:
            break
        if nth == 3:
            who.time_goes_by(minutes / 2)
            who.pane.kill()
            who.take_up()
            who.pane.key("F7")
            who.pane.wait("THE RACK")
            minutes /= 2
        who.time_goes_by(minutes)
        who.pane.wait("1 to look at now")
        who.pane.settled()
        who.save(f"rack-{nth}")
        print(f"look {nth}:", who.look(who.meter()))
        who.to_rack()
    who.end_soak()
    print("burn-in ends:", who.close_run())


def minutes_to_look(job: Job, late_min: float) -> float | None:
    """Until the next look is due, or later; None once the hours are there."""
    now = soak_now(job, soaking.soak_of(job))
    return None if now.complete else float(now.step.every.value) / 60 + late_min


def agree(who: Technician) -> bool:
    """What the commands say in the end."""
    where = ["--logs", str(who.pane.logs), "--sequences", str(who.pane.sequences)]
    name, good = who.job.id, True
    for command in (["jobs"], ["show", name], ["blockers", name]):
        asked = [sys.executable, "-m", "passcheck", *where, *command]
        done = subprocess.run(asked, cwd=REPOSITORY, capture_output=True, text=True, timeout=60, check=False)
        says = "signed off" in done.stdout
        print(f"passcheck {' '.join(command)}: status {done.returncode}, {'' if says else 'NOT '}signed off")
        good = good and says and not done.stderr
    return good


def main() -> int:
    """Walk, or be the program inside the pane."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--work", type=Path, help="where logs and clock lie; else a folder that is taken away again")
    asked.add_argument("--screens", type=Path, help="where telling screens are kept")
    asked.add_argument("--show", action="store_true", help="print them")
    asked.add_argument("--inside", type=Path, help=argparse.SUPPRESS)
    asked.add_argument("rest", nargs="*", help=argparse.SUPPRESS)
    given = asked.parse_args()
    if given.inside is not None:
        return run_inside(given.inside, given.rest)
    if not TMUX:
        print("tmux is not on this machine")
        return 2
    with tempfile.TemporaryDirectory() as fresh:
        work = given.work or Path(fresh)
        for folder in (work, given.screens):
            if folder is not None:
                folder.mkdir(parents=True, exist_ok=True)
        who = Technician(Pane(work, REPOSITORY / "sequences"), given.screens, given.show)
        who.pane.start()
        try:
            who.take_up()
            story(who)
            return 0 if agree(who) else 1
        except Stuck as stuck:
            print(f"STUCK  {stuck}")
            return 1
        finally:
            who.pane.end()


if __name__ == "__main__":
    sys.exit(main())

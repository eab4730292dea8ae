"""What does a technician type who walks one job after the other as fast as the screens take it?

Which step is next, and what stands before it, is asked of the job's file; whether something was acknowledged is read
off the screen, and nowhere else.
"""

import re
from collections.abc import Callable, Sequence
from pathlib import Path
from random import Random  # noqa: TID251 - a hand from a seed
from typing import Final

from borne_out import HEAD, LEFT, Claim, result_shown
from struck_terminal import StruckTerminal

from passcheck.app.lifting import lifting
from passcheck.cli.clock import now
from passcheck.cli.folders import Folders
from passcheck.cli.wire import open_shop
from passcheck.job import power
from passcheck.job.decide_attempt import step_refusal
from passcheck.job.journal_line import Line
from passcheck.job.plan import plan
from passcheck.job.state import Job, Run
from passcheck.judge.limits import Limits
from passcheck.records.journal_file import read_journal
from passcheck.sequence import model
from passcheck.sequence.model import Step

BOARD: Final = Path(__file__).with_name("many-readings.yaml")
PERSON: Final = "t1"
F2: Final = "\x1bOQ"
F12: Final = "\x1b[24~"
PASTE: Final = ("\x1b[200~", "\x1b[201~")
FAILS, NOTES, LONG_NOTES, JOTS, TOLD_OFF, MADE_SAFE = 0.3, 0.25, 0.2, 0.3, 0.05, 0.04
"""How often: a reading as found fails; a note comes before a step; it is a long one; and so on."""
LONG: Final = " The lead was moved and the reading stayed." * 120
"""So long that its line covers more than one page of memory, which is where a kill can cut a line."""
ALL_WALKED: Final = "Every step of this run was walked"
CHOSEN: Final = re.compile(r"▶ ([A-Z-]+(?: AGAIN)?)  ")
SHELF: Final = re.compile(r"THE SHELF   (\d+) in the shop, (\d+) gone out")


class Papers:
    """The records of the bench, read without a lock."""

    def __init__(self, logs: Path, sequences: Path) -> None:
        """Args: the folders of the program that is typed at."""
        self.logs = logs
        self.shop = open_shop(Folders(logs, sequences))

    def journals(self) -> list[Path]:
        """Every journal, the oldest first."""
        return sorted((self.logs / "jobs").glob("*/*.jsonl"))

    def files(self) -> list[Path]:
        """What grows: the newest journal and the ledger."""
        return [*self.journals()[-1:], self.logs / "ledger.jsonl"]

    def in_hand(self) -> Path | None:
        """The journal of the job that has not ended; None when there is none."""
        return next((path for path in self.journals()[-1:] if not read_journal(path).sealed), None)


class QuickTechnician:
    """Sits down, takes a job in or up, and walks it until it ends or the program does."""

    def __init__(self, terminal: StruckTerminal, papers: Papers, draw: Random) -> None:
        """Args: where to type, the records beside it, and what is drawn by lot."""
        self.claims: dict[str, list[Claim]] = {}
        """What the screen acknowledged, by job."""
        self.shelf: tuple[int, int] | None = None
        """How many units the shelf counted as in the shop and as gone out, when the program started."""
        self.on_taking_up: Callable[[Path], None] = lambda _: None
        """Called when the screen shows a job that was begun in an earlier life of the program."""
        self._terminal = terminal
        self._papers = papers
        self._draw = draw
        self._id = ""
        self._before: tuple[Line, ...] = ()
        self._at_bench = False
        self._again = ""  # the step that failed and is tried once more

    def work(self) -> None:
        """One job after the other; ends with an exception when the program does."""
        self._sit_down()
        while True:
            self._take_in_hand()
            while self._go_on():
                pass

    # The shelf

    def _sit_down(self) -> None:
        self._terminal.wait("WHO IS AT THE BENCH?")
        rows = self._terminal.until(lambda rows: any(map(SHELF.search, rows)), "the shelf")
        counted = next(found for row in rows if (found := SHELF.search(row)) is not None)
        self.shelf = int(counted[1]), int(counted[2])
        self._terminal.type("enter")

    def _take_in_hand(self) -> None:
        self._at_bench, self._again = False, ""
        path = self._papers.in_hand()
        if path is None:
            self._arrive()
            return
        self._id, self._before = path.stem, read_journal(path).lines
        self._terminal.type(self._id, "enter")
        self._terminal.wait("TRAVELLER")
        self.on_taking_up(path)
        self._acknowledged("resumed")

    def _arrive(self) -> None:
        serial = f"A{len(self._papers.journals()) + 1:04}"
        words = f"Lamps stay dark, says the owner of {serial}"
        self._terminal.type(serial, "enter")
        self._terminal.wait("ARRIVAL")
        self._terminal.type("enter", serial, "enter", words, "f4")
        self._terminal.wait("TRAVELLER")
        self._id, self._before = self._read_id(), ()
        self._acknowledged("job opened", serial=serial, complaint=words)

    def _read_id(self) -> str:
        rows = self._terminal.until(lambda rows: any(map(HEAD.match, rows)), "the head of a job")
        return next(found[1] for row in rows if (found := HEAD.match(row)) is not None)

    # One job

    def _job(self) -> Job:
        return self._papers.shop.look(self._id)

    def _go_on(self) -> bool:
        """The next act of the job in hand; False once it has left the bench."""
        job = self._job()
        run = job.open_run
        if run is not None:
            self._walk(job, run)
        elif not job.runs:
            if self._happens(JOTS):
                self._jot()
            self._start_run(job)
        else:
            self._give_back(job)
            return False
        return True

    def _start_run(self, job: Job) -> None:
        """Every other job is only seen as found; the ones between go for their release."""
        purpose = "as-found" if int(self._id[-1]) % 2 else "acceptance"
        self._terminal.type("b")
        self._terminal.wait("START A RUN")
        while not any(f"▶ {purpose.upper()}" in row for row in self._terminal.rows):
            was = _purpose(self._terminal.rows)
            self._terminal.type(F2)
            self._terminal.until(lambda rows, was=was: _purpose(rows) not in ("", was), "another purpose")  # type: ignore[misc]
        rows = self._terminal.until(lambda rows: any("Ambient" in row for row in rows), "the ambient")
        carried = any("Ambient" in row and "=" in row for row in rows)
        self._terminal.type(job.serial, "enter", *(() if carried else ("22", "enter")))
        self._terminal.until(lambda rows: any(map(LEFT.match, rows)), "the first step")
        self._at_bench = True
        self._acknowledged("run started", run=len(job.runs) + 1, purpose=purpose)

    def _walk(self, job: Job, run: Run) -> None:
        """One act at the bench: a note, something that stands before the step, or the step."""
        planned = [one.step for one in plan(job)]
        if not self._at_bench:
            if self._happens(JOTS):
                self._jot()
            self._terminal.type("b")
            self._at_bench = True
        step = job.sequence.step(self._again) if self._again else next(iter(planned), None)
        if step is None:
            self._end_run(job, run)
            return
        self._terminal.until(lambda rows: _title(rows) == step.title, f"{step.title} on the bench")
        if self._happens(NOTES):
            self._note(job)
        elif power.on_now(job, now()) and self._happens(TOLD_OFF):
            self._told_off()
        elif self._happens(MADE_SAFE):
            self._make_safe()
        else:
            self._try(job, run, step)

    def _try(self, job: Job, run: Run, step: Step) -> None:
        moment = now()
        refusal = step_refusal(job, step, PERSON, run, moment, self._papers.shop.outside(job))
        act = None if refusal is None else lifting(job, step, refusal, moment)
        if act is None:
            self._answer(step, run)
            return
        self._terminal.wait(act.label)
        self._terminal.type("enter")
        match act.name:
            case "power on":
                self._fill("POWER ON:", "12.0", "0.30")
                self._acknowledged("energised", supply=act.subject)
            case "read supply":
                self._fill("READ THE SUPPLY:", "12.0", "0.12", "no")
                self._acknowledged("supply read", supply=act.subject, restored=True)
            case "make safe":
                self._proved_dead()
            case "guard":
                self._again = act.subject
                return
            case "caution":
                # the bare key where it was answered before; what the display shows after an absence
                asks_for_key = self._terminal.wait("Press U when", "type what it shows") == "Press U when"
                self._terminal.type(*("u",) if asks_for_key else ("0.30", "enter"))
                self._terminal.gone("STOP IF  ")
                self._acknowledged("caution acknowledged", caution=step.cautions[0], run=run.number)
            case other:
                raise AssertionError(f"nobody said how '{other}' is lifted")
        self._terminal.gone(act.label)

    def _answer(self, step: Step, run: Run) -> None:
        values, fails = self._shown(step, run)
        before = result_shown(self._terminal.rows)
        self._terminal.type(*_with_enter(values))
        if fails:
            self._terminal.wait("ONCE MORE")
            self._terminal.type(*_with_enter(values))
        self._terminal.until(lambda rows: _is_of(result_shown(rows), step, before), f"the verdict on {step.title}")
        self._acknowledged("attempt judged", step=step.id)
        self._again = step.id if fails else ""
        if not fails:
            self._terminal.until(lambda rows: _title(rows) != step.title, "the next step")

    def _shown(self, step: Step, run: Run) -> tuple[tuple[str, ...], bool]:
        """What the display shows, and whether that is outside the limits."""
        match step:
            case model.ReadingStep(limits=limits) if limits is not None:
                fails = run.purpose == "as-found" and not self._again and self._happens(FAILS)
                return (self._figure(limits, outside=fails),), fails
            case model.PowerUpStep():
                return (self._figure(step.limits), "no"), False
            case model.CountStep():
                return (str(step.wanted),), False
            case other:
                raise AssertionError(f"nobody said what a {other.kind} step shows")

    def _figure(self, limits: Limits, *, outside: bool = False) -> str:
        """A figure in the unit in which the limits are written."""
        assert limits.low is not None
        assert limits.high is not None
        low, wide = float(limits.low.text.split()[0]), float(limits.high.text.split()[0])
        wide -= low
        digits = len(limits.low.text.split()[0].partition(".")[2])
        share = 1.5 + self._draw.random() if outside else 0.35 + 0.3 * self._draw.random()
        return f"{low + share * wide:.{digits}f}"

    # What is not a step

    def _note(self, job: Job) -> None:
        words = f"Note after line {job.lines} of {self._id}."
        is_long = self._happens(LONG_NOTES)
        text = words + LONG if is_long else words
        self._terminal.type("f4")
        self._terminal.wait("NOTE ON")
        self._terminal.type(*((PASTE[0], text, PASTE[1]) if is_long else (text,)), "f4")
        self._terminal.gone("NOTE ON")
        self._acknowledged("note added", text=text)

    def _jot(self) -> None:
        value = f"{self._draw.uniform(4.5, 5.5):.3f} V"
        self._terminal.type("j")
        self._terminal.wait("never counted as a result")
        self._terminal.type("TP3", "enter", value, "f4")
        self._terminal.gone("never counted as a result")
        self._acknowledged("jotted", point="TP3", value=value)

    def _told_off(self) -> None:
        self._terminal.type("f6")
        self._terminal.wait("told off")
        self._acknowledged("power told", told="off")

    def _make_safe(self) -> None:
        self._terminal.type("f8")
        self._proved_dead()

    def _proved_dead(self) -> None:
        self._fill("This key switches nothing", "0.02")
        self._terminal.wait("proved dead")
        self._acknowledged("made safe")

    def _end_run(self, job: Job, run: Run) -> None:
        # after a new start the bench shows a walked step instead, and the keys are the same
        self._terminal.until(lambda rows: _title(rows) or any(ALL_WALKED in row for row in rows), "the walked run")
        if not power.all_off(job, now()):
            self._make_safe()
        self._terminal.type(F12)
        self._terminal.wait("CLOSE THE RUN")
        self._terminal.type("f4")
        self._terminal.wait("No run is open")
        self._acknowledged("run closed", run=run.number)
        self._terminal.type("escape")
        self._terminal.wait("TRAVELLER")
        self._at_bench = False

    def _give_back(self, job: Job) -> None:
        """It is signed off where nothing is in the way, and goes back unrepaired otherwise; then to the shelf."""
        if job.runs[-1].purpose == "acceptance" and self._signed(job):
            self._acknowledged("signed off", serial_scanned=job.serial)
            self._terminal.type("escape")
            self._terminal.wait("TRAVELLER")
        else:
            if not power.all_off(job, now()):
                self._make_safe()
            self._terminal.type("u")
            self._terminal.wait("RETURN WITHOUT A RELEASE")
            self._terminal.type("owner declines", "f4")
            self._terminal.wait("ended: returned unrepaired")
            self._acknowledged("returned unrepaired", reason="owner declines")
        self._terminal.type("escape")
        self._terminal.gone("TRAVELLER")
        self._terminal.wait("THE SHELF")

    def _signed(self, job: Job) -> bool:
        self._terminal.type("s")
        if self._terminal.wait("NOTHING STANDS AGAINST IT", "AGAINST THE RELEASE") == "AGAINST THE RELEASE":
            self._terminal.type("escape")
            self._terminal.wait("TRAVELLER")
            return False
        self._terminal.type(job.serial, "f4")
        self._terminal.wait("R E L E A S E D")
        return True

    # Small things

    def _fill(self, sheet: str, *values: str) -> None:
        """Answer a sheet value by value; it goes when it was kept."""
        self._terminal.wait(sheet)
        self._terminal.type(*_with_enter(values))
        self._terminal.gone(sheet)

    def _happens(self, share: float) -> bool:
        return self._draw.random() < share

    def _acknowledged(self, event: str, **facts: object) -> None:
        """The screen says that this happened once more than it had."""
        claims = self.claims.setdefault(self._id, [])
        so_far = Claim(event, facts).among(self._before) + sum(
            (one.event, one.facts) == (event, facts) for one in claims
        )
        claims.append(Claim(event, facts, so_far + 1))
        self._terminal.acknowledged(sum(map(len, self.claims.values())))


def _with_enter(values: Sequence[str]) -> tuple[str, ...]:
    return tuple(piece for value in values for piece in (value, "enter"))


def _title(rows: Sequence[str]) -> str:
    """The step that lies on the bench; "" where none does."""
    place = next((number for number, row in enumerate(rows) if LEFT.match(row)), None)
    return "" if place is None else re.split("  +", rows[place + 1].removeprefix("▌ ").strip())[0]


def _purpose(rows: Sequence[str]) -> str:
    """The purpose that is chosen on the sheet of a new run."""
    return next((found[1] for row in rows if (found := CHOSEN.search(row)) is not None), "")


def _is_of(shown: tuple[str, str] | None, step: Step, before: tuple[str, str] | None) -> bool:
    return shown is not None and shown != before and shown[0] == step.title

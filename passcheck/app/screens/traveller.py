"""How does this unit stand: which box is stamped, what is in the way, what comes next?"""

from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal

from passcheck.app.job_slips import JobSlips
from passcheck.app.plain import Words, joined, tell
from passcheck.app.screens.attempts import AttemptsScreen
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.note import NoteScreen
from passcheck.app.screens.run_start import RunStartScreen
from passcheck.app.screens.sign_off import SignOffScreen
from passcheck.app.screens.suspects import SuspectsSlip
from passcheck.app.widgets.card import Card
from passcheck.app.widgets.door import Door
from passcheck.bench.bench import Bench
from passcheck.job.outside import Outside
from passcheck.job.plan import plan
from passcheck.job.remarks import remarks
from passcheck.job.serial import read_serial
from passcheck.job.traveller import card
from passcheck.report.label import read_label

COMPLAINT_SHOWN = 600


class TravellerScreen(JobSlips):
    """The job on one sheet. Letters are acts; Enter takes the step where you stand to the bench."""

    CSS_PATH = "traveller.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("b", "bench", "Bench", id="traveller.bench", tooltip="The step where you stand, large, to be walked."),
        Binding("r", "rework", "Rework", id="traveller.rework", tooltip="Enter what was done to the unit."),
        Binding("a", "attempts", "Tries", id="traveller.attempts", tooltip="Every attempt at this step; void one."),
        Binding("n", "note", "Note", show=False, id="traveller.note", tooltip="Words and photo paths on this step."),
        Binding("c", "close_run", "Close run", show=False, id="traveller.close", tooltip="Ends the open run."),
        Binding("s", "sign_off", "Sign", id="traveller.sign", tooltip="The signature, or what stands against it."),
        Binding("tab", "other_side", "Door", priority=True, id="traveller.door", tooltip="From card to door and back."),
        Binding("v", "attempts", "Void", show=False, id="traveller.void", tooltip="Choose the attempt to void."),
        Binding("i", "incident", "Incident", show=False, id="traveller.incident", tooltip="Something went wrong."),
        Binding("o", "put_back", "Put back", show=False, id="traveller.put-back", tooltip="What a test changed."),
        Binding("m", "complaint", "Complaint", show=False, id="traveller.complaint", tooltip="Its symptoms."),
        Binding("h", "hand_over", "Hand over", show=False, id="traveller.hand-over", tooltip="Another takes the job."),
        Binding("j", "jot", "Jot", show=False, id="traveller.jot", tooltip="A loose reading, kept, never counted."),
        Binding(
            "ctrl+f", "suspects", "Suspects", show=False, id="traveller.suspects", tooltip="Blocks by what failed."
        ),
        Binding("ctrl+o", "agreed", "Agreed", show=False, id="traveller.agreed", tooltip="What the owner agreed to."),
        Binding("d", "propose", "Propose", show=False, id="traveller.propose", tooltip="What the owner is asked for."),
        Binding("p", "papers", "Papers", show=False, id="traveller.papers", tooltip="Papers, the label, scan both."),
        Binding("ctrl+r", "revise", "Revise", show=False, id="traveller.revise", tooltip="To today's sequence file."),
        Binding("w", "work_done", "Work", show=False, id="traveller.work", tooltip="All that was done to the unit."),
        Binding("f3", "unit_history", "History", show=False, id="traveller.history", tooltip="Its earlier visits."),
        Binding("u", "give_back", "Return", show=False, id="traveller.return", tooltip="Leaves without a release."),
        Binding("escape", "leave", "Shelf", show=False, id="traveller.leave", tooltip="Back to the shelf."),
    ]

    def __init__(self, bench: Bench) -> None:
        """Take the unit in hand."""
        super().__init__(bench)
        self._placed: str | None = None  # where the plan put the marker; a hand may have moved it since

    def sheet(self) -> ComposeResult:
        """Complaint, card, door."""
        yield Words("", id="complaint")
        yield Words("", id="remarks")
        with Horizontal(id="sheet"):
            yield Card()
            yield Door()

    def on_mount(self) -> None:
        """You stand where the next step is."""
        self.query_one(Card).focus()

    def refresh_job(self) -> None:
        """Write the whole sheet again."""
        super().refresh_job()
        job = self.bench.job
        outside = self.bench.outside()
        facts = card(job, outside, self.bench.moment())
        words = " ".join(job.facts.complaint[:COMPLAINT_SHOWN].split())
        more = "  (m: all of it)" if len(job.facts.complaint) > COMPLAINT_SHOWN else ""
        self.query_one("#complaint", Words).say(joined((f"“{words}”", "italic"), more))
        self._say_remarks(outside)
        sheet = self.query_one(Card)
        title = f"PRACTICE  {job.sequence.title}" if job.facts.practice else job.sequence.title
        sheet.put(facts, title, f"{job.sequence.sequence} rev {job.sequence.revision}")
        self.query_one(Door).put(facts.blockers, job)
        if self._placed in (None, self._step) and (steps := plan(job)):
            self._placed = steps[0].step.id
            sheet.stand_on(self._placed)

    def _say_remarks(self, outside: Outside) -> None:
        job = self.bench.job
        said, place = remarks(job, outside), self.query_one("#remarks", Words)
        other_file = outside.todays_digest not in (None, job.sequence_digest) and job.ended is None
        place.say(" ".join((*said, *(("(ctrl+r: go on under it)",) if other_file else ()))))
        place.display = bool(said)

    def take_scan(self, code: str) -> bool:
        """This unit's own serial opens nothing new, and a label is no serial."""
        if read_label(code) is not None:
            tell(self.app, "That is a label. The papers' sheet (p) scans unit and label.")
            return True
        if read_serial(code) != self.bench.job.serial:
            return False
        tell(self.app, f"Unit {self.bench.job.serial}: this is its job.")
        return True

    def on_card_taken(self, event: Card.Taken) -> None:
        """A step is wanted on the bench."""
        event.stop()
        self._to_bench(event.step)

    def on_door_jumped(self, event: Door.Jumped) -> None:
        """A blocker leads to its step; one without a step says what lifts it."""
        event.stop()
        if event.blocker.step is None:
            tell(self.app, event.blocker.lift)
            return
        self.remove_class("-door")
        sheet = self.query_one(Card)
        sheet.stand_on(event.blocker.step)
        sheet.focus()

    def action_bench(self) -> None:
        """The step where you stand."""
        step = self._step
        if step is not None:
            self._to_bench(step)

    @work(exclusive=True, group="bench")
    async def _to_bench(self, step: str) -> None:
        job = self.bench.job
        if job.ended is None and job.open_run is None:
            if not await self.app.push_screen_wait(RunStartScreen(self.bench)):
                return
            step = self._first_in_run(step)
        self.app.push_screen(BenchScreen(self.bench, step))

    def _first_in_run(self, wanted: str) -> str:
        """The step asked for where the new run still has to walk it, otherwise the first that it has to."""
        planned = [one.step.id for one in plan(self.bench.job)]
        return wanted if wanted in planned or not planned else planned[0]

    def action_other_side(self) -> None:
        """Between the card and the list at the door."""
        door, sheet = self.query_one("#door-list"), self.query_one(Card)
        if self.focused is sheet:
            self.add_class("-door")
            door.focus()
        else:
            self.remove_class("-door")
            sheet.focus()

    def action_attempts(self) -> None:
        """Every attempt at this step."""
        if self._step is not None:
            self.app.push_screen(AttemptsScreen(self.bench, self._step))

    def action_note(self) -> None:
        """Words on this step."""
        step = self._step
        self.app.push_screen(NoteScreen(self.bench, self.bench.job.sequence.step(step) if step else None))

    def action_suspects(self) -> None:
        """Which block the results point to; the step that would tell more goes to the bench."""
        self.app.push_screen(SuspectsSlip(self.bench), self._to_bench_if)

    def _to_bench_if(self, step: str | None) -> None:
        if step is not None:
            self._to_bench(step)

    def action_sign_off(self) -> None:
        """The signature, or what stands against it."""
        self.app.push_screen(SignOffScreen(self.bench, self._stand_on))

    def action_leave(self) -> None:
        """Back to the shelf; a supply told on is called to mind."""
        powered = self.desk.powered_words()
        if powered:
            tell(self.app, f"{self.bench.job.serial}: {powered}. F8 makes it safe.", "warning")
        self.dismiss()

    @property
    def _step(self) -> str | None:
        return self.query_one(Card).step

    def _stand_on(self, step: str) -> None:
        self.query_one(Card).stand_on(step)

"""May this unit go, and who says so with a name?"""

from collections.abc import Callable
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Input, OptionList

from passcheck.app.job_screen import JobScreen
from passcheck.app.plain import Lines, Words, joined, line
from passcheck.app.screens.papers import PapersSheet
from passcheck.app.widgets.released import released
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job.blocker import Blocker
from passcheck.job.commands import Refusal, SignOff
from passcheck.job.events import SignOffRefused
from passcheck.job.gate import blockers
from passcheck.job.steps import needed_for_release


class SignOffScreen(JobScreen):
    """Everything that stands against it, each a jump; below it the signature. A refused signature is kept too."""

    CSS_PATH = "sign_off.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f4", "sign", "Sign", priority=True, id="sign.sign", tooltip="Asks for the release, with this name."),
        Binding("p", "papers", "Papers", id="sign.papers", tooltip="Papers and label, once the unit is released."),
        Binding("escape", "leave", "Back", id="sign.leave", tooltip="Back to the traveller."),
    ]

    def __init__(self, bench: Bench, jump: Callable[[str], None]) -> None:
        """Take the unit in hand, and what to do with a step that a blocker leads to."""
        super().__init__(bench)
        self._jump = jump
        self._shown: tuple[Blocker, ...] = ()

    def sheet(self) -> ComposeResult:
        """What stands against it, the signature, and the stamp once it is given."""
        with Vertical(id="against"):
            yield Words("", id="against-title")
            yield Lines(id="blockers")
        yield Words("", id="marks")
        with Vertical(id="signature"):
            yield Words("SIGNATURE", classes="slip-title")
            yield from _row("Serial, off the unit", Slot(placeholder="scan it once more", id="serial"))
            yield from _row("Signed by", Words("", id="signer"))
            yield from _row("PIN", Slot(placeholder="where one is kept", password=True, id="pin"))
            yield from _row("Second person", Slot(placeholder="where asked", id="second"))
            yield from _row("Their PIN", Slot(placeholder="where one is kept", password=True, id="second-pin"))
        with VerticalScroll(id="released"):
            yield Words("", id="stamp")

    def on_mount(self) -> None:
        """The serial is scanned first; with blockers the list has the keys."""
        self.query_one("#blockers" if self._against() else "#serial").focus()

    def refresh_job(self) -> None:
        """Show what stands against it now."""
        super().refresh_job()
        job = self.bench.job
        self.set_class(job.ended is not None, "-released")
        if job.ended is not None:
            self.query_one("#stamp", Words).say(released(job, self.desk.name_of(job.ended_by or "")))
            self.refresh_bindings()
            return
        marks, place = self.bench.outside().records_marks, self.query_one("#marks", Words)
        place.say(" ".join(marks))
        place.display = bool(marks)
        found = self._against()
        self.set_class(not found, "-clear")
        self._list(found)
        name = self.desk.name_of(self.person)
        self.query_one("#signer", Words).say(f"{self.person}  {name}")
        pins = self.desk.settings().pin_hashes
        self.query_one("#pin", Slot).parent.display = self.person in pins  # type: ignore[union-attr]
        self.query_one("#second-pin", Slot).parent.display = bool(pins)  # type: ignore[union-attr]

    def take_scan(self, code: str) -> bool:
        """A scan is the unit's serial."""
        self.query_one("#serial", Slot).value = code
        return True

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A blocker leads to its step."""
        event.stop()
        blocker = self._shown[event.option_index]
        if blocker.step is None:
            self.show_refusal(Refusal("blocked", blocker.sentence, blocker.lift))
            return
        self._jump(blocker.step)
        self.dismiss()

    async def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter walks on."""
        event.stop()
        self.focus_next()

    async def action_sign(self) -> None:
        """Ask for the release."""
        second = self._typed("second").strip() or None
        command = SignOff(self.person, self._typed("serial"), self._typed("pin"), second, self._typed("second-pin"))
        done = await self.act(command)
        if done is None:
            return
        refused = next((event for event in done.events if isinstance(event, SignOffRefused)), None)
        if refused is not None:
            self._refused(refused)

    def action_papers(self) -> None:
        """What leaves with the unit."""
        self.app.push_screen(PapersSheet(self.bench))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Papers are a key here once the unit has left; before, the traveller has it."""
        return self.bench.job.ended is not None if action == "papers" else super().check_action(action, parameters)

    def action_leave(self) -> None:
        """Back to the traveller."""
        self.dismiss()

    def _against(self) -> tuple[Blocker, ...]:
        return blockers(self.bench.job, self.bench.outside(), self.bench.moment())

    def _refused(self, refused: SignOffRefused) -> None:
        """The refusal is kept; what only the moment of signing showed joins the list."""
        found = self._against()
        known = {one.sentence for one in found}
        at_door = tuple(Blocker(words, "Look at the unit in hand.") for words in refused.blockers if words not in known)
        self.remove_class("-clear")
        self._list(found + at_door)
        count = len(refused.blockers)
        self.show_refusal(
            Refusal("blocked", f"Sign-off refused, and that is kept: {count} in the way.", "Lift each; it leads there.")
        )

    def _list(self, found: tuple[Blocker, ...]) -> None:
        self._shown = found
        steps = len(needed_for_release(self.bench.job))
        words = (
            f"AGAINST THE RELEASE   {len(found)}   (Enter leads to the step)"
            if found
            else f"NOTHING STANDS AGAINST IT   {steps} steps passed as left, all current"
        )
        self.query_one("#against-title", Words).say(words)
        listed = self.query_one("#blockers", Lines)
        listed.clear_options()
        listed.add_options([line(joined("› ", one.sentence, ("  " + one.lift, "dim"))) for one in found])
        listed.highlighted = 0 if found else None

    def _typed(self, ident: str) -> str:
        return self.query_one(f"#{ident}", Slot).value


def _row(words: str, field: Slot | Words) -> ComposeResult:
    with Horizontal(classes="row"):
        yield Words(words)
        yield field

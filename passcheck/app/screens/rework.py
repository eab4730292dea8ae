"""What was done to the unit, and what does that make worthless?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, ItemGrid, Vertical, VerticalScroll
from textual.widgets import Input

from passcheck.app.job_screen import JobScreen
from passcheck.app.plain import Words
from passcheck.app.widgets.choice import Choice
from passcheck.app.widgets.rework_words import (
    ACTIONS,
    CASE_ONLY,
    action_of,
    change_of,
    group_left,
    named_parts,
    preview,
)
from passcheck.app.widgets.tick import Tick
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job.commands import Command, LogRework, OpenCase
from passcheck.job.events import LeftOld

PART, BLOCK = "part:", "block:"


class ReworkScreen(JobScreen):
    """Type the designators or tick them; the line below says what goes stale before anything is kept."""

    CSS_PATH = "rework.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f4", "keep", "Keep", priority=True, id="rework.keep", tooltip="Enters the rework into the journal."),
        Binding("escape", "leave", "Back", id="rework.leave", tooltip="Back to the traveller; nothing is entered."),
    ]

    def __init__(self, bench: Bench) -> None:
        """Take the unit in hand."""
        super().__init__(bench)
        self._left: tuple[str, ...] = ()

    def sheet(self) -> ComposeResult:
        """The form and its preview."""
        job = self.bench.job
        with VerticalScroll(id="form", can_focus=False):
            yield Words(f"REWORK {len(job.reworks) + 1}", classes="slip-title")
            yield from _row("Parts", Slot(placeholder="designators, such as C1 C2 U1; or tick them below", id="parts"))
            yield from _row("Action", Choice(ACTIONS, "action"))
            yield from _row("Reason", Slot(placeholder="what was found, and why this was done", id="reason"))
            yield from _row("Part number", Slot(placeholder="of the new part", id="part-number"))
            yield from _row("Photos", Slot(placeholder="paths, with a semicolon between", id="photos"))
            for number in job.open_incidents:
                yield Tick(f"answers incident {number}", name=f"incident:{number}", classes="incident")
            yield Vertical(id="left-old")
            for key, block in job.sequence.blocks.items():
                yield Tick(f"{key}  {block.title}", name=BLOCK + key, classes="block")
                if block.parts:
                    with ItemGrid(min_column_width=9):
                        for part in block.parts:
                            yield Tick(part, name=PART + part)
        yield Words("", id="preview")

    def on_mount(self) -> None:
        """The parts are typed first."""
        super().on_mount()
        self.query_one("#parts").focus()

    def refresh_job(self) -> None:
        """Head and preview."""
        super().refresh_job()
        self._say_preview()

    def on_input_changed(self, event: Input.Changed) -> None:
        """Designators that were typed tick themselves."""
        if event.input.id == "parts":
            known = named_parts(self.bench.job.sequence, event.value)
            for box in self.query(Tick):
                if box.name and box.name.startswith(PART):
                    box.value = box.name.removeprefix(PART) in known

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter walks on."""
        event.stop()
        self.focus_next()

    async def on_tick_changed(self, event: Tick.Changed) -> None:
        """A part ticks its block; what goes stale is said anew."""
        name = event.tick.name or ""
        if event.tick.value and name.startswith(PART):
            self._tick_block_of(name.removeprefix(PART))
        await self._ask_for_left_old()
        self._say_preview()

    async def on_choice_changed(self) -> None:
        """Another action asks for other things."""
        await self._ask_for_left_old()
        self._say_preview()

    async def action_keep(self) -> None:
        """Enter it."""
        if await self.act(self._command()) is not None:
            self.dismiss()

    def action_leave(self) -> None:
        """Nothing is entered."""
        self.dismiss()

    def _command(self) -> Command:
        action = self.query_one(Choice).value
        reason = self._typed("reason")
        if action == CASE_ONLY:
            return OpenCase(self.person, reason)
        answered = [box.name or "" for box in self.query(".incident").results(Tick) if box.value]
        return LogRework(
            by=self.person,
            blocks=self._ticked(BLOCK),
            parts=self._ticked(PART),
            action=action_of(action),
            reason=reason,
            part_number=self._typed("part-number"),
            left_old=self._left_old(),
            photos=tuple(path.strip() for path in self._typed("photos").split(";") if path.strip()),
            incident=int(answered[0].removeprefix("incident:")) if answered else None,
        )

    def _left_old(self) -> tuple[LeftOld, ...]:
        reasons = ((part, self._typed(f"old-{part}").strip()) for part in self._left)
        return tuple(LeftOld(part, reason) for part, reason in reasons if reason)

    def _tick_block_of(self, part: str) -> None:
        blocks = self.bench.job.sequence.blocks
        owners = {BLOCK + key for key, block in blocks.items() if part in block.parts}
        for box in self.query(".block").results(Tick):
            if box.name in owners:
                box.value = True

    async def _ask_for_left_old(self) -> None:
        """A field a part that belongs to a group renewed together and isn't renewed with it."""
        replaced = self.query_one(Choice).value == "replaced"
        left = group_left(self.bench.job, self._ticked(PART)) if replaced else ()
        if left == self._left:
            return
        kept = {part: self._typed(f"old-{part}") for part in self._left}
        self._left = left
        holder = self.query_one("#left-old", Vertical)
        await holder.remove_children()
        await holder.mount_all(_left_row(part, kept.get(part, "")) for part in left)

    def _say_preview(self) -> None:
        change = change_of(self.bench.job, self.query_one(Choice).value, self._ticked(BLOCK), self.bench.moment())
        self.query_one("#preview", Words).say(preview(self.bench.job, change))

    def _ticked(self, kind: str) -> tuple[str, ...]:
        names = (box.name or "" for box in self.query(Tick) if box.value)
        return tuple(name.removeprefix(kind) for name in names if name.startswith(kind))

    def _typed(self, ident: str) -> str:
        return self.query_one(f"#{ident}", Slot).value


def _left_row(part: str, typed: str) -> Horizontal:
    field = Slot(typed, placeholder="renewed together with the others: why it stays old", id=f"old-{part}")
    return Horizontal(Words(f"{part} left"), field, classes="row")


def _row(words: str, field: Slot | Choice) -> ComposeResult:
    with Horizontal(classes="row"):
        yield Words(words)
        yield field

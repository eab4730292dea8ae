"""What was done to the unit, and what does that make worthless?"""

from collections.abc import Mapping
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
    HINTS,
    Named,
    action_of,
    change_of,
    group_left,
    named_parts,
    preview,
)
from passcheck.app.widgets.tick import Tick
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job.commands import Command, LogRework, OpenCase, Refusal
from passcheck.job.events import LeftOld

PART, BLOCK, REPAIR = "part:", "block:", "repair"


class ReworkScreen(JobScreen):
    """Type the designators or tick them; the line below says what goes stale before anything is kept."""

    CSS_PATH = "rework.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f4", "keep", "Keep", priority=True, id="rework.keep", tooltip="Enters the rework into the journal."),
        Binding("f5", "group", "Whole group", priority=True, id="rework.group", tooltip="Ticks all that age alike."),
        Binding("escape", "leave", "Back", id="rework.leave", tooltip="Back to the traveller; nothing is entered."),
    ]

    def __init__(self, bench: Bench) -> None:
        """Take the unit in hand."""
        super().__init__(bench)
        self._left: tuple[str, ...] = ()
        self._named = Named()
        self._by_parts: set[str] = set()  # blocks that stand ticked only because one of their parts does
        self._repair_by_action = False

    def sheet(self) -> ComposeResult:
        """The form and its preview."""
        job = self.bench.job
        with VerticalScroll(id="form", can_focus=False):
            yield Words(f"REWORK {len(job.reworks) + 1}", classes="slip-title")
            yield from _row(
                "Parts", Slot(placeholder="designators or blocks, such as C1 C2 or C1-C4; or tick below", id="parts")
            )
            yield from _row("Action", Choice(ACTIONS, "action"))
            yield Words(HINTS[ACTIONS[0]], id="action-words", classes="hint")
            yield from _row("Donor", Slot(placeholder="scan the serial of the unit it came from", id="donor"))
            yield from _row("Reason", Slot(placeholder="what was found, and why this was done", id="reason"))
            yield from _row("Part number", Slot(placeholder="of the new part, and its lot", id="part-number"))
            yield from _row("Photos", Slot(placeholder="paths, with a semicolon between", id="photos"))
            yield Tick("a repair: fit for use, but not as drawn", name=REPAIR, classes="repair")
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
        self._show_donor()
        self.query_one("#parts").focus()

    def refresh_job(self) -> None:
        """Head and preview."""
        super().refresh_job()
        self._say_preview()

    def take_scan(self, code: str) -> bool:
        """A serial scanned while a part is swapped in is the donor's."""
        donor = self.query_one("#donor", Slot)
        if not self._swapping:
            return False
        donor.value = code
        return True

    def on_input_changed(self, event: Input.Changed) -> None:
        """Designators and blocks that were typed tick themselves; ticks made by hand stay."""
        if event.input.id != "parts":
            return
        before, self._named = self._named, named_parts(self.bench.job.sequence, event.value)
        for box in self.query(Tick):
            part, block = (box.name or "").removeprefix(PART), (box.name or "").removeprefix(BLOCK)
            if box.name == PART + part and part in before.parts ^ self._named.parts:
                box.value = part in self._named.parts
            elif box.name == BLOCK + block and block in before.blocks ^ self._named.blocks:
                box.value = block in self._named.blocks
        self._say_preview()

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Enter walks on."""
        event.stop()
        self.focus_next()

    async def on_tick_changed(self, event: Tick.Changed) -> None:
        """A part ticks its block; what goes stale is said anew."""
        name = event.tick.name or ""
        if name.startswith(PART):
            self._tick_blocks_of_parts()
        elif name == REPAIR and not event.tick.value:
            self._repair_by_action = False
        await self._ask_for_left_old()
        self._say_preview()

    async def on_choice_changed(self) -> None:
        """Another action asks for other things."""
        self.query_one("#action-words", Words).say(HINTS.get(self._action, ""))
        self._show_donor()
        self._tick_repair()
        await self._ask_for_left_old()
        self._say_preview()

    async def action_group(self) -> None:
        """All parts that are renewed together with those that are ticked."""
        for part in group_left(self.bench.job, self._ticked(PART)):
            self._box(PART + part).value = True

    async def action_keep(self) -> None:
        """Enter it."""
        command = self._command()
        if isinstance(command, Refusal):
            self.show_refusal(command)
        elif await self.act(command) is not None:
            self.dismiss()

    def action_leave(self) -> None:
        """Nothing is entered."""
        self.dismiss()

    @property
    def _action(self) -> str:
        return self.query_one(Choice).value

    @property
    def _swapping(self) -> bool:
        return self._action == "swapped in"

    def _command(self) -> Command | Refusal:
        reason = self._typed("reason")
        if self._action == CASE_ONLY:
            return OpenCase(self.person, reason)
        if self._named.strange:
            strange = self._named.strange[0]
            lift = "Mend it; or tick the block that it belongs to, and name it in the reason."
            return Refusal("entry", f"'{strange}' is no part and no block that this sequence names.", lift)
        answered = [box.name or "" for box in self.query(".incident").results(Tick) if box.value]
        return LogRework(
            by=self.person,
            blocks=self._ticked(BLOCK),
            parts=self._ticked(PART),
            action=action_of(self._action),
            reason=reason,
            part_number=self._typed("part-number"),
            repair=self._box(REPAIR).value,
            left_old=self._left_old(),
            photos=tuple(path.strip() for path in self._typed("photos").split(";") if path.strip()),
            incident=int(answered[0].removeprefix("incident:")) if answered else None,
            donor=self._typed("donor") if self._swapping else "",
        )

    def _left_old(self) -> tuple[LeftOld, ...]:
        return tuple(LeftOld(part, reason.strip()) for part, reason in self._reasons().items() if reason.strip())

    def _reasons(self) -> Mapping[str, str]:
        """What was typed of each part that is left old."""
        return {field.name or "": field.value for field in self.query(".old").results(Slot)}

    def _tick_blocks_of_parts(self) -> None:
        """A block stands ticked as long as one of its parts does, or where it was typed or a hand ticked it."""
        parts, blocks = set(self._ticked(PART)), self.bench.job.sequence.blocks
        for key, block in blocks.items():
            box, wanted = self._box(BLOCK + key), key in self._named.blocks or bool(parts & set(block.parts))
            if wanted and not box.value:
                box.value = True
                self._by_parts.add(key)
            elif not wanted and key in self._by_parts:
                box.value = False
                self._by_parts.discard(key)

    def _tick_repair(self) -> None:
        """A jumper is a repair; another action is one where a hand ticks it."""
        box = self._box(REPAIR)
        if self._action == "jumper" and not box.value:
            box.value = self._repair_by_action = True
        elif self._action != "jumper" and self._repair_by_action:
            box.value = self._repair_by_action = False

    def _show_donor(self) -> None:
        row = self.query_one("#donor", Slot).parent
        if row is not None:
            row.set_class(not self._swapping, "-not-asked")

    async def _ask_for_left_old(self) -> None:
        """A field a part that belongs to a group renewed together and isn't renewed with it."""
        left = group_left(self.bench.job, self._ticked(PART)) if self._action == "replaced" else ()
        if left == self._left:
            return
        kept = self._reasons()
        self._left = left
        holder = self.query_one("#left-old", Vertical)
        await holder.remove_children()
        rows = [_left_row(part, kept.get(part, "")) for part in left]
        if rows:
            words = "Renewed together with these (F5). Of what stays old, say why:"
            await holder.mount_all([Words(words, classes="hint"), *rows])

    def _say_preview(self) -> None:
        job = self.bench.job
        change = change_of(job, self._action, self._ticked(BLOCK), self.bench.moment())
        strange = f"Not in this sequence: {', '.join(self._named.strange)}. " if self._named.strange else ""
        self.query_one("#preview", Words).say(strange + preview(job, change))

    def _box(self, name: str) -> Tick:
        return next(box for box in self.query(Tick) if box.name == name)

    def _ticked(self, kind: str) -> tuple[str, ...]:
        names = (box.name or "" for box in self.query(Tick) if box.value)
        return tuple(name.removeprefix(kind) for name in names if name.startswith(kind))

    def _typed(self, ident: str) -> str:
        return self.query_one(f"#{ident}", Slot).value


def _left_row(part: str, typed: str) -> Horizontal:
    field = Slot(typed, placeholder="why it stays old", name=part, classes="old")
    return Horizontal(Words(f"{part} left"), field, classes="row")


def _row(words: str, field: Slot | Choice) -> ComposeResult:
    with Horizontal(classes="row"):
        yield Words(words)
        yield field

"""What was tried at this step, by whom, what became of it, and what changed from as found to as left?"""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content

from passcheck.app.job_screen import JobScreen
from passcheck.app.plain import Lines, Words, joined, line
from passcheck.app.screens.void import VoidSlip
from passcheck.app.widgets.before_after import BeforeAfterView
from passcheck.app.widgets.tap_words import broken_off_rows, tap_rows
from passcheck.bench.bench import Bench
from passcheck.job.answer_words import answer_words
from passcheck.job.commands import Refusal
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import other_unit
from passcheck.job.state import Attempt
from passcheck.job.work_done import REPAIR


class AttemptsScreen(JobScreen):
    """Before and after on top; under it every attempt, the latest first, beside all that is kept of the one at hand."""

    DEFAULT_CSS = """
    AttemptsScreen #before-after { height: auto; max-height: 55%; background: $card; color: $ink; padding: 0 1; }
    AttemptsScreen #tries-card { width: 34; height: 1fr; background: $card; padding: 1 1; }
    AttemptsScreen #detail { width: 1fr; height: 1fr; background: $card-row; padding: 1 2; }
    AttemptsScreen #detail Words { color: $ink; height: auto; }
    AttemptsScreen.-short #detail, AttemptsScreen.-low #detail { padding: 0 1; }
    AttemptsScreen #what { padding: 0 1; background: $background; color: $primary; text-style: bold; height: 1; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("v", "void", "Void", id="attempts.void", tooltip="Withdraws the attempt at hand, with its reason."),
        Binding(
            "pagedown",
            "read(1)",
            "Read on",
            priority=True,
            id="attempts.down",
            tooltip="Reads on where more is kept of the attempt than the window holds.",
        ),
        Binding("pageup", "read(-1)", "Read back", show=False, priority=True, id="attempts.up", tooltip="Reads back."),
        Binding("escape", "leave", "Back", id="attempts.leave", tooltip="Back to the traveller."),
    ]

    def __init__(self, bench: Bench, step: str) -> None:
        """Take the unit in hand and the step."""
        super().__init__(bench)
        self._step = step

    def sheet(self) -> ComposeResult:
        """The list and the detail."""
        yield Words(f"ATTEMPTS   {self.bench.job.sequence.step(self._step).title}", id="what")
        with VerticalScroll(id="before-after"):
            yield BeforeAfterView()
        with Horizontal():
            with Vertical(classes="card", id="tries-card"):
                yield Lines(id="tries")
            with VerticalScroll(id="detail", can_focus=False):
                yield Words(id="kept")

    def on_mount(self) -> None:
        """The list has the keys."""
        self.query_one("#tries").focus()

    def refresh_job(self) -> None:
        """Write list and detail again."""
        super().refresh_job()
        compared = self.query_one(BeforeAfterView)
        compared.put(self.bench.job, self.bench.job.sequence.step(self._step))
        self.query_one("#before-after").display = compared.display
        tries = self.query_one("#tries", Lines)
        at = tries.highlighted or 0
        tries.clear_options()
        tries.add_options([line(_short(self.bench, one), str(one.number)) for one in self._tries()])
        tries.highlighted = at if self._tries() else None
        self._show()

    def on_option_list_option_highlighted(self) -> None:
        """Another attempt is at hand."""
        self.query_one("#detail").scroll_home(animate=False)
        self._show()

    def action_read(self, by: int) -> None:
        """On or back in what is kept of the attempt at hand."""
        detail = self.query_one("#detail", VerticalScroll)
        detail.scroll_relative(y=by * max(1, detail.size.height - 1), animate=False)

    async def action_void(self) -> None:
        """Withdraw the one at hand."""
        attempt = self._at_hand()
        if attempt is None:
            self.show_refusal(Refusal("order", "There is nothing to void.", "Walk the step first."))
        else:
            self.app.push_screen(VoidSlip(self.bench, attempt))

    def action_leave(self) -> None:
        """Back to the traveller."""
        self.dismiss()

    def _tries(self) -> tuple[Attempt, ...]:
        return tuple(reversed([one for one in self.bench.job.attempts if one.step == self._step]))

    def _at_hand(self) -> Attempt | None:
        at, tries = self.query_one("#tries", Lines).highlighted, self._tries()
        return tries[at] if at is not None and at < len(tries) else None

    def _show(self) -> None:
        attempt = self._at_hand()
        words = detail(self.bench, attempt) if attempt else joined("No attempt yet.")
        self.query_one("#kept", Words).say(words)


def _short(bench: Bench, one: Attempt) -> Content:
    other = f" {serial}" if (serial := other_unit(bench.job, one)) else ""
    struck = " void" if one.void else f" {call(stale)}" if (stale := stale_by(bench.job, one)) else ""
    style = "strike" if struck else "bold"
    return joined(f"{one.number:>3} {one.moment.local():%d.%m. %H:%M} ", (one.judgement.verdict, style), struck, other)


def detail(bench: Bench, one: Attempt) -> Content:
    """All that is kept of an attempt, a line each."""
    job = bench.job
    rows = [
        ("Attempt", f"{one.number}, run {one.run} {one.purpose}, revision {one.revision}"),
        *([("Good unit", f"{other}, not this one")] if (other := other_unit(job, one)) else []),
        ("Who, when", f"{one.by}, {one.moment.local():%Y-%m-%d %H:%M:%S}"),
        *([("Under", ", ".join(one.conditions))] if one.conditions else []),
        ("Observed", answer_words(one.answer) + (", typed twice" if one.typed_twice else "")),
        ("Judgement", f"{one.judgement.verdict}: {one.judgement.sentence}"),
        ("Rule", one.judgement.rule),
    ]
    rows.extend(tap_rows(job, one))
    if one.instrument:
        used = one.instrument
        rows.append(("Instrument", f"{used.instrument} {used.title}, {used.accuracy}, due {used.due}"))
    if one.measured_at:
        rows.append(("Late entry", f"measured {one.measured_at}"))
    if one.second:
        rows.append(("Second person", one.second))
    if one.note:
        rows.append(("Note", one.note))
    rows.extend(("Photo", path) for path in one.photos)
    if one.void:
        cause = f"; cause at the bench: {one.void.bench_cause}, shown gone: {one.void.shown_gone}"
        rows.append(("Void", one.void.reason + (cause if one.void.bench_cause else "")))
    if (stale := stale_by(job, one)) is not None:
        repair = f", {REPAIR}" if stale.repair else ""
        rows.append(("Struck by", f"{call(stale)}{repair}, {stale.moment.local():%Y-%m-%d %H:%M}: {stale.words}"))
    rows.extend(broken_off_rows(job, one.step))
    for note in job.notes:
        if note.step == one.step:
            rows.append(("Note on step", f"{note.moment.local():%H:%M} {note.by}: {note.text} {' '.join(note.photos)}"))
    return Content("\n").join(joined((f"{name:<14}", "bold"), words) for name, words in rows)

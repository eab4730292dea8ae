"""How do a unit's visits stand beside each other on one card, the oldest at the left?

A visit is a column with two halves, as found and as left, so that how the unit left stands beside how it came back. All
readings of a step share one scale. What changed since the unit left comes before the steps that didn't. Nothing rests
on colour: a word stands in every box, and signs differ by shape.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import Final

from textual.content import Content

from passcheck.app.plain import joined
from passcheck.app.widgets.history_readings import drift_cell, has_scale, readings_line, stamp_cell
from passcheck.app.widgets.stamp import fit
from passcheck.job.before_after import NO_CHANGE
from passcheck.job.visit_drift import APART
from passcheck.job.visit_words import ordinal
from passcheck.job.visits import StepHistory, ToldVisit, UnitHistory
from passcheck.sequence.text_lines import text_lines

NARROWEST_VISIT: Final = 26
WIDEST_VISIT: Final = 60
NARROWEST_LABEL: Final = 12
WIDEST_LABEL: Final = 26
COMPLAINT_LINES: Final = 6
RULE: Final = "│"
SIGNS: Final = f"○ found  ● left  ◉ both  ┃ limit  ═ uncertainty  ◄ ► beyond  'no change': {NO_CHANGE}"
UTC: Final = "Dates are UTC."
CHANGED: Final = "STEPS THAT CHANGED SINCE THE UNIT LEFT"

Cells = Sequence[Sequence[str]]
"""A row of the card: for each column its lines."""


@dataclass(frozen=True, slots=True)
class Ruled:
    """How the card is ruled: which visits are shown (places from 0), and how wide labels and visits are."""

    first: int
    shown: int
    label_w: int
    visit_w: int

    @property
    def halves_w(self) -> tuple[int, int]:
        """Of a visit's two halves, as found and as left, behind the blank that it begins with."""
        found_w = self.visit_w // 2
        return found_w, self.visit_w - 1 - found_w

    @property
    def text_w(self) -> int:
        """What a text may fill of a visit, a blank on either side."""
        return self.visit_w - 2


def ruled_for(history: UnitHistory, width: int, at_hand: int, first: int) -> Ruled:
    """As many visits as find room, from `first` on where the visit at hand is among them."""
    label_w = min(WIDEST_LABEL, max(NARROWEST_LABEL, width // 5))
    most = max(1, (width - label_w) // (NARROWEST_VISIT + 1))
    shown = min(most, len(history.visits))
    last_first = len(history.visits) - shown
    start = min(max(min(first, at_hand), at_hand - shown + 1, 0), last_first)
    return Ruled(start, shown, label_w, min(WIDEST_VISIT, (width - label_w) // shown - 1))


def head_lines(history: UnitHistory, ruled: Ruled, at_hand: int) -> list[Content]:
    """Each visit's number, job and days, and what its halves are; the mark stands at the visit at hand."""
    before, after = ruled.first, len(history.visits) - ruled.first - ruled.shown
    label = [f"◄ {before} earlier" if before else "", f"► {after} later" if after else "", ""]
    found_w, left_w = ruled.halves_w
    lines: list[list[str | tuple[str, str]]] = [[fit(words, ruled.label_w)] for words in label]
    for place in range(ruled.first, ruled.first + ruled.shown):
        job = history.visits[place].visit.job
        mark, style = ("▶", "bold reverse") if place == at_hand else (" ", "bold")
        days = f"{job.opened_at[:10]} to {job.ended_at[:10]}" if job.ended else f"{job.opened_at[:10]}, open"
        lines[0] += [RULE, (fit(f"{mark}{ordinal(place + 1)} visit  {job.job}", ruled.visit_w), style)]
        lines[1] += [RULE, fit(f" {days}", ruled.visit_w)]
        lines[2] += [RULE, (f" {fit('as found', found_w)}{fit('as left', left_w)}", "italic")]
    return [joined(*line) for line in lines]


def card_lines(history: UnitHistory, ruled: Ruled) -> list[Content]:
    """Everything below the head."""
    width = ruled.label_w + ruled.shown * (ruled.visit_w + 1)
    return [
        *_facts("came", [one.away.words if one.away else "first visit" for one in history.visits], ruled),
        *_blocks(history, ruled),
        *_visits(history, ruled),
        *_steps(history, ruled, width),
        *_written(history, width),
        *(joined((line, "italic")) for line in text_lines(f"{APART} {UTC}", width)),
    ]


def _visits(history: UnitHistory, ruled: Ruled) -> Iterator[Content]:
    """How the unit was found and left, and the owner's words."""
    yield _heading("VISITS", ruled)
    for label, words in (
        ("return", [one.finding for one in history.visits]),
        ("complaint", [f"“{one.visit.job.complaint}”" for one in history.visits]),
        ("as found", [one.visit.job.outcome or "----" for one in history.visits]),
        ("left", [one.visit.job.ended or "still here" for one in history.visits]),
        ("otherwise", ["; ".join(one.remarks) for one in history.visits]),
    ):
        yield from _facts(label, words, ruled)


def _facts(label: str, words: Sequence[str], ruled: Ruled) -> Iterator[Content]:
    """One fact of each visit; no row where no visit that is shown has any."""
    shown = words[ruled.first : ruled.first + ruled.shown]
    if any(shown):
        cells = [_cut(text_lines(text, ruled.text_w), COMPLAINT_LINES) for text in shown]
        yield from _row([label], cells, ruled, "bold")


def _cut(lines: Sequence[str], most: int) -> Sequence[str]:
    return lines if len(lines) <= most else [*lines[: most - 1], "… (all of it below)"]


def _blocks(history: UnitHistory, ruled: Ruled) -> Iterator[Content]:
    yield _heading("BLOCKS TOUCHED", ruled)
    if not history.blocks:
        yield joined("nothing was reworked at any visit")
    for block in history.blocks:
        done = block.done[ruled.first : ruled.first + ruled.shown]
        yield from _row([block.block], [text_lines(words, ruled.text_w) for words in done], ruled, "bold")


def _steps(history: UnitHistory, ruled: Ruled, width: int) -> Iterator[Content]:
    """What reads otherwise than when the unit left, then the others, each in the order of the sequence."""
    changed = [step for step in history.steps if (since := step.visits[-1].since) is not None and since.changed]
    others = [step for step in history.steps if step not in changed]
    signs = [joined((line, "italic")) for line in text_lines(SIGNS, width)]
    for words, steps in ((CHANGED, changed), ("OTHER STEPS" if changed else "STEPS", others)):
        if steps:
            yield _heading(words, ruled)
            yield from signs
            signs = []
        for step in steps:
            yield from _step(step, ruled, width)


def _step(step: StepHistory, ruled: Ruled, width: int) -> Iterator[Content]:
    shown = step.visits[ruled.first : ruled.first + ruled.shown]
    title = text_lines(step.title, ruled.label_w - 1)
    yield from _row(title[:1], [[]] * ruled.shown, ruled, "bold", [stamp_cell(cell, *ruled.halves_w) for cell in shown])
    rest: list[str] = list(title[1:])
    changes = [text_lines(words, ruled.text_w) if (words := drift_cell(cell)) else [] for cell in shown]
    if any(changes) or rest:
        yield from _row(rest, changes, ruled, "bold")
    if has_scale(step):
        lines = [[readings_line(step, cell, ruled.text_w)] for cell in shown]
        yield from _row([], lines, ruled, "")
    if step.moves:
        yield from (joined((f"  {line}", "italic")) for line in text_lines(step.moves, width - 2))


def _written(history: UnitHistory, width: int) -> Iterator[Content]:
    """All that people wrote, whole, the latest visit first."""
    yield joined(("WRITTEN, the latest visit first", "bold underline"))
    for told in reversed(history.visits):
        yield from _of_visit(told, width)


def _of_visit(told: ToldVisit, width: int) -> Iterator[Content]:
    yield joined((f"{ordinal(told.place)} visit  {told.visit.job.job}", "bold"))
    for row in told.visit.said:
        where = f" {row.step}" if row.step else ""
        for line in text_lines(f"{row.at[:10]} {row.by} {row.kind}{where}: {row.text}", width - 2):
            yield joined(f"  {line}")
    if not told.visit.said:
        yield joined("  nothing")


def _heading(words: str, ruled: Ruled) -> Content:
    width = ruled.label_w + ruled.shown * (ruled.visit_w + 1)
    return joined((fit(f"{words} {'─' * width}", width).replace("…", "─"), "bold"))


def _row(
    label: Sequence[str],
    cells: Cells,
    ruled: Ruled,
    style: str,
    stamps: Sequence[Content] | None = None,
) -> Iterator[Content]:
    """One row in as many lines as its fullest cell; `stamps` are drawn already and take the first line."""
    for place, lines in enumerate(zip_longest(label, *cells, [""], fillvalue="")):
        parts: list[str | Content | tuple[str, str]] = [(fit(lines[0], ruled.label_w), style)]
        for column in range(len(cells)):
            drawn = stamps[column] if stamps is not None and not place else fit(lines[column + 1], ruled.visit_w - 1)
            parts += [RULE, " ", drawn]
        yield joined(*parts)

"""What do the records say of a unit's earlier visits, and where did people write certain words?"""

import argparse
from collections.abc import Iterator

from passcheck.bench.ports import Archive
from passcheck.bench.shop import Shop
from passcheck.cli.history_json import say_found, say_history
from passcheck.cli.say import complain, say, say_practice
from passcheck.errors import BenchFailed
from passcheck.job.archive_rows import AttemptRow, SaidRow
from passcheck.job.serial import read_serial
from passcheck.job.traveller import WORDS
from passcheck.job.visit_drift import APART
from passcheck.job.visit_words import headline, ordinal
from passcheck.job.visits import StepAtVisit, StepHistory, ToldVisit, UnitHistory, story
from passcheck.sequence.text_lines import text_lines

GOOD, NOT_GOOD, WRONG_USE = 0, 1, 2
WIDTH = 80
FAR_INSIDE = 10
"""Times the limit: 5 MΩ where at least 10 kΩ is asked for. Such a margin tells nothing."""
MARGIN = (
    "Margin: how far inside the nearer limit, as a share of half the width between two limits, or of the one limit."
)


def history(shop: Shop, asked: argparse.Namespace, archive: Archive | None) -> int:
    """Print a unit's visits, or what was found in notes and complaints; give the exit status.

    Args:
        shop: whose clock it is, and whose jobs a search is told with.
        asked: serial or search, json.
        archive: who is asked.

    Raises:
        BenchFailed: there is no archive, or it can't be read.
    """
    words = " ".join(asked.search or ())
    if bool(asked.serial) == bool(words.strip()):
        complain("passcheck history: write a serial, or --search and words, and not both.")
        return WRONG_USE
    if archive is None:
        raise BenchFailed("This bench has no archive, so nothing can be asked of all its jobs together.")
    if words:
        return _search(shop, archive, words, as_json=asked.json)
    visits = archive.visits(asked.serial)
    _say_unread(archive)
    if not visits:
        complain(f"{read_serial(asked.serial)}: no visit of this unit is on record. 'passcheck jobs' lists all units.")
        return NOT_GOOD
    told = story(visits, shop.clock())
    if asked.json:
        say_history(told, practice=shop.practice)
        return GOOD
    if shop.practice:
        say_practice()
    for line in history_lines(told):
        say(line)
    return GOOD


def _say_unread(archive: Archive) -> None:
    if unread := archive.unread():
        complain(f"Left out, because they can't be read: {', '.join(unread)}. 'passcheck verify' says what is wrong.")


def history_lines(told: UnitHistory) -> Iterator[str]:
    """All of it, no line wider than a terminal of 80 columns."""
    job = told.visits[-1].visit.job
    yield from _lines(f"UNIT {job.serial}   {job.board} rev {job.revision}   {job.title}")
    yield from _lines(headline(told))
    for one in told.visits:
        yield ""
        yield from _visit(told, one)
    walked = [step for step in told.steps if any(cell.found or cell.left for cell in step.visits)]
    if walked:
        yield ""
        yield from _lines("STEP BY STEP (as found and as left; dates are UTC)")
        yield from _lines(APART, 1)
        yield from _lines(MARGIN, 1)
    for step in walked:
        yield from _step(told, step)


def _lines(text: str, indent: int = 0, later: int | None = None) -> Iterator[str]:
    """The text in lines; those after the first stand further in."""
    further = indent if later is None else later
    for place, line in enumerate(text_lines(text, WIDTH - max(indent, further))):
        yield " " * (further if place else indent) + line


def _visit(told: UnitHistory, one: ToldVisit) -> Iterator[str]:
    job = one.visit.job
    until = f"{job.ended_at[:10]}, {job.ended}" if job.ended else "open"
    yield from _lines(f"{ordinal(one.place).upper()} VISIT  {job.job}  {job.opened_at[:10]} to {until}", later=2)
    for words in (one.away.words if one.away else "", *one.remarks, one.finding):
        if words:
            yield from _lines(words, 1, 3)
    if job.outcome:
        yield from _lines(f"as found: {job.outcome}", 1, 3)
    done = [f"{block.block} ({words})" for block in told.blocks if (words := block.done[one.place - 1])]
    yield from _lines(f"touched: {', '.join(done) or 'nothing'}", 1, 3)
    for row in one.visit.said:
        yield from _said(row)


def _said(row: SaidRow) -> Iterator[str]:
    where = f", {row.step}" if row.step else ""
    yield from _lines(f"{row.kind} ({row.at[:10]} {row.by}{where}): {row.text}", 1, 3)


def _step(told: UnitHistory, step: StepHistory) -> Iterator[str]:
    yield from _lines(f"{step.title} ({step.board})", 1)
    for one, cell in zip(told.visits, step.visits, strict=True):
        yield from _at_visit(ordinal(one.place), cell)
    if step.moves:
        yield from _lines(step.moves, 3, 5)


def _at_visit(place: str, cell: StepAtVisit) -> Iterator[str]:
    if cell.found is not None:
        yield from _lines(f"{place} visit, as found: {attempt_words(cell.found)}", 3, 5)
    if cell.since is not None:
        yield from _lines("; ".join((f"since it left: {cell.since.words}", *cell.since.remarks)), 5, 7)
    if cell.left is not None:
        yield from _lines(f"{place} visit, as left: {attempt_words(cell.left)}", 3, 5)


def attempt_words(row: AttemptRow) -> str:
    """`PASS 5.01 V, margin 93 %, 2031-03-02 t1 M1`."""
    margin = "" if row.margin is None or row.margin > FAR_INSIDE else f", margin {100 * row.margin:.0f} %"
    word = WORDS.get(row.verdict, row.verdict)
    return f"{' '.join(filter(None, (word, row.figure)))}{margin}, {row.at[:10]} {row.by} {row.instrument}".rstrip()


def _search(shop: Shop, archive: Archive, words: str, *, as_json: bool) -> int:
    found = archive.search(words)
    _say_unread(archive)
    if as_json:
        say_found(words, found, practice=shop.practice)
        return GOOD
    if shop.practice:
        say_practice()
    for row in found:
        heading = f"{row.job}  unit {row.serial}  {row.at[:16].replace('T', ' ')} UTC"
        for line in (*_lines(heading, later=2), *_said(row)):
            say(line)
    if not found:
        say(f"Nobody wrote all of these words: {words}")
    return GOOD

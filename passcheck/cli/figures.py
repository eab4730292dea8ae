"""What do the jobs of this shop say together, in tables with the words that keep them honest?"""

import argparse
import sys
import textwrap
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import date
from typing import Final, Protocol

from passcheck.bench.shop import Shop
from passcheck.cli.say import complain, practice_mark, say, say_json, say_practice
from passcheck.errors import BenchFailed
from passcheck.job.counts import Counts
from passcheck.job.csv_text import Head, csv_text
from passcheck.job.figure import Bars, Course, Figure
from passcheck.job.figure_table import table_lines
from passcheck.job.figures import MOST_SHOWN, NAMES, boards_of, figures
from passcheck.judge.rounding import counted

WIDTH: Final = 80
INDENT: Final = 2
WRONG_USE: Final = 2
DIGITS: Final = 6
"""Of a number that is drawn, for other programs."""


class Counting(Protocol):
    """Whatever counts jobs: the archive, or another engine over the same rows."""

    def counts(self, board: str | None, doubtful: Mapping[str, date]) -> Counts:
        """What `Archive.counts` gives."""
        ...

    def unread(self) -> tuple[str, ...]:
        """What `Archive.unread` gives."""
        ...


def show_figures(shop: Shop, asked: argparse.Namespace, archive: Counting | None) -> int:
    """Print the figures that were asked for; give the exit status.

    Args:
        shop: whose jobs they are.
        asked: sequence, only, until, json, csv.
        archive: who counts.

    Raises:
        BenchFailed: there is no archive, or the disk refuses.
    """
    if asked.csv and asked.only is None:
        complain("passcheck figures: a spreadsheet takes one table. Name it: --only NAME.")
        return WRONG_USE
    if archive is None:
        raise BenchFailed("This shop has no archive to count in.")
    board, doubtful = asked.sequence, shop.settings().doubtful()
    counts = archive.counts(board, doubtful)
    if board is not None and not counts.jobs:
        known = boards_of(archive.counts(None, doubtful))
        meant = [one for one in known if one.casefold() == board.casefold()]
        if not meant:
            return _unknown(board, known)
        board, counts = meant[0], archive.counts(meant[0], doubtful)
    for job in archive.unread():
        complain(f"{job} is left out: its journal can't be read. 'passcheck verify {job}' says what is wrong.")
    return _show(shop, asked, board, counts)


def _show(shop: Shop, asked: argparse.Namespace, board: str | None, counts: Counts) -> int:
    until = str(asked.until or shop.clock().utc.date())
    made = figures(counts, until, board, None if asked.csv or asked.json else MOST_SHOWN)
    chosen = [one for one in made if asked.only in (None, one.name)]
    if asked.csv:
        _say_csv(chosen[0])
    elif asked.json:
        about = {"sequence": board, "until": until, "jobs": counts.jobs, "attempts": counts.attempts}
        say_json("figures", [_item(one) for one in chosen], **about, **practice_mark(shop.practice))
    else:
        _say(shop, counts, board, chosen)
    return 0


def _unknown(board: str, known: Sequence[str]) -> int:
    there_are = f"There are jobs of: {', '.join(known)}." if known else "There is no job yet."
    complain(f"passcheck figures: no job of '{board[:60]}' is there. {there_are}")
    return WRONG_USE


def _say(shop: Shop, counts: Counts, board: str | None, chosen: Sequence[Figure]) -> None:
    if shop.practice:
        say_practice()
    say(f"FIGURES of {board or 'all boards'}: {counted(counts.jobs, 'job')}, {counted(counts.attempts, 'attempt')}")
    for one in chosen:
        say()
        say(f"{one.name.upper()}   {one.title}")
        for line in table_lines(one, WIDTH - INDENT):
            say(line, indent=INDENT)
        for sentence in one.words:
            say("- " + _wrapped(sentence, WIDTH - INDENT - 2).replace("\n", "\n  "), indent=INDENT)


def _wrapped(sentence: str, width: int) -> str:
    """The sentence over as many lines as it needs; a percentage stays with its sign."""
    return textwrap.fill(sentence.replace(" %", "\N{NO-BREAK SPACE}%"), width)


def _say_csv(one: Figure) -> None:
    heads = [Head(words, number) for words, number in zip(one.heads, one.numbers, strict=True)]
    # As bytes: the table has line ends and an alphabet of its own, whatever this terminal has.
    sys.stdout.flush()
    sys.stdout.buffer.write(csv_text(heads, one.rows).encode("utf-8"))
    sys.stdout.buffer.flush()


def _item(one: Figure) -> dict[str, object]:
    """A figure for other programs: the table as it is shown, and the numbers that are drawn."""
    return {
        "name": one.name,
        "title": one.title,
        "heads": one.heads,
        "rows": one.rows,
        "words": one.words,
        "plots": [_plot(plot) for plot in one.plots],
    }


def _plot(plot: Bars | Course) -> dict[str, object]:
    kind = "bars" if isinstance(plot, Bars) else "course"
    return {"kind": kind, **{name: _rounded(value) for name, value in asdict(plot).items()}}


def _rounded(value: object) -> object:
    """Numbers to six digits, so that the last bits of a sum change nothing that is kept."""
    match value:
        case float():
            return float(f"{value:.{DIGITS}g}")
        case dict():
            return {name: _rounded(one) for name, one in value.items()}
        case tuple() | list():
            return [_rounded(one) for one in value]
        case _:
            return value


def figure_name(written: str) -> str:
    """A figure that there is, for the command line."""
    if written not in NAMES:
        raise argparse.ArgumentTypeError(f"there is no figure '{written[:40]}'. There are: {', '.join(NAMES)}")
    return written

"""With which instrument, on which step, does a judgement stay in doubt?"""

from collections.abc import Mapping, Sequence
from typing import Final

from passcheck.job.counts import Counts, InstrumentVerdicts
from passcheck.job.figure import Bars, Figure
from passcheck.job.figure_words import (
    BOARD,
    INTERVAL,
    at_least,
    few_words,
    first_of,
    label,
    rest_words,
    share_bar,
    share_words,
)

TITLE: Final = "Where does an instrument leave a judgement in doubt?"
WORDS: Final = (
    "Doubt is the price of an instrument too coarse for a limit, or of units that run close to it: the margins tell "
    "which of the two. A finer instrument on the uppermost rows gains most.",
    INTERVAL,
    "The order goes by the lower end of the interval: 1 of 1 shows less than 40 of 50.",
)


def doubt_figure(counts: Counts, board: str | None, most: int | None) -> Figure:
    """A row an instrument and step that ever left doubt, the surest doubt on top."""
    names = {(one.board, one.step): one.title for one in counts.verdicts}
    judged = [one for one in counts.instruments if one.judged]
    doubtful = [one for one in judged if one.doubt]
    doubtful.sort(key=lambda one: (-at_least(one.doubt, one.judged), one.board, one.step, one.instrument))
    shown, more = first_of(doubtful, most)
    rows = tuple(
        (one.board, names.get((one.board, one.step), one.step), one.instrument, share_words(one.doubt, one.judged))
        for one in shown
    )
    words = (
        *WORDS,
        *few_words([(one.doubt, one.judged) for one in shown], "judgements"),
        *rest_words(more, len(judged) - len(doubtful), "Pairs of instrument and step"),
    )
    every = sum(one.judged for one in judged)
    empty = f"No judgement stayed in doubt, of {every} with an instrument." if every else "No instrument was used yet."
    plots = (_bars(shown, names, board),) if rows else ()
    heads = (BOARD, "STEP", "INSTRUMENT", "IN DOUBT")
    return Figure("doubt", TITLE, heads, (False,) * 4, rows, words if rows else (empty,), plots, long=("STEP",))


def _bars(shown: Sequence[InstrumentVerdicts], names: Mapping[tuple[str, str], str], board: str | None) -> Bars:
    bars = tuple(
        share_bar(
            f"{one.instrument} {label(one.board, names.get((one.board, one.step), one.step), board)}",
            one.doubt,
            one.judged,
        )
        for one in shown
    )
    return Bars(bars, 1.0, "share", "in doubt")

"""Which blocks are reworked, and how often was it the fault?"""

from collections.abc import Sequence
from typing import Final

from passcheck.job.counts import BlockWork, Counts
from passcheck.job.figure import Bar, Bars, Figure
from passcheck.job.figure_words import BOARD, INTERVAL, few_words, first_of, label, share_words

TITLE: Final = "Which blocks are reworked, and how often was that the fault?"
SHOWN: Final = "HAD SHOWN IT (JOBS)"
STEPS_NAMED: Final = 2
WORDS: Final = (
    "Confirmed: a step that the block reaches failed before the rework, never after it, and stood as passed at the "
    "sign-off. Where several blocks were reworked before the next test, each of them counts.",
    "It is told of jobs that were signed off: a unit that is still here, or went back unrepaired, confirms nothing.",
    INTERVAL,
)


def blocks_figure(counts: Counts, board: str | None, most: int | None) -> Figure:
    """A row a block, the one reworked in most jobs on top."""
    every = sorted(counts.blocks, key=lambda one: (-one.jobs, one.board, one.block))
    shown, more = first_of(every, most)
    rows = tuple((one.board, one.block, str(one.jobs), _confirmed(one), _shown_by(one)) for one in shown)
    few = few_words([(one.confirmed, one.signed_off) for one in shown], "jobs")
    rest = (f"{more} more blocks were reworked less often.",) if more else ()
    words = (*WORDS, *few, *rest) if rows else ("No block was reworked yet.",)
    heads = (BOARD, "BLOCK", "JOBS", "CONFIRMED OF SIGNED OFF", SHOWN)
    plots = (_bars(shown, board),) if rows else ()
    return Figure("blocks", TITLE, heads, (False, False, True, False, False), rows, words, plots, long=(SHOWN,))


def _confirmed(one: BlockWork) -> str:
    return share_words(one.confirmed, one.signed_off)


def _shown_by(one: BlockWork) -> str:
    named = ", ".join(f"{step} {jobs}" for step, jobs in one.shown_by[:STEPS_NAMED])
    rest = len(one.shown_by) - STEPS_NAMED
    return f"{named} and {rest} more" if rest > 0 else named


def _bars(shown: Sequence[BlockWork], board: str | None) -> Bars:
    bars = tuple(Bar(label(one.board, one.block, board), one.jobs, None, None) for one in shown)
    return Bars(bars, max(bar.value for bar in bars), "jobs", "jobs in which the block was reworked")

"""What share of units passes the acceptance run at the first try?"""

from collections.abc import Sequence
from typing import Final

from passcheck.job.counts import Counts, FirstTries
from passcheck.job.figure import Bars, Figure
from passcheck.job.figure_words import BOARD, INTERVAL, LEVEL, share_bar, share_words
from passcheck.judge.first_pass_yield import first_pass_yield

TITLE: Final = "How many units pass at the first try?"
ALL: Final = "all boards"
WORDS: Final = (
    "Counted is each job's first acceptance run once it was closed: did every step that was walked pass there at once?",
    INTERVAL,
    "It speaks of the repair that went before, not of the units that left: none leaves before every step has passed.",
)


def first_try_figure(counts: Counts) -> Figure:
    """A row a board; a row for all of them only where no board stands out of it."""
    known = sorted((one for one in counts.first_tries if one.units), key=lambda one: one.board)
    shown = [(one.board, one.passed, one.units) for one in known]
    passed, units = sum(one.passed for one in known), sum(one.units for one in known)
    apart = _apart(known, passed, units) if len(known) > 1 else ()
    if len(known) > 1 and not apart:
        shown.append((ALL, passed, units))
    rows = tuple((name, share_words(k, n)) for name, k, n in shown)
    bars = Bars(tuple(share_bar(name, k, n) for name, k, n in shown), 1.0, "share", "passed at the first try")
    words = (*WORDS, *_of_all(len(known), apart)) if rows else ("No acceptance run was closed yet.",)
    heads = (BOARD, "PASSED AT THE FIRST TRY")
    return Figure("first-try", TITLE, heads, (False, False), rows, words, (bars,) if rows else ())


def _apart(known: Sequence[FirstTries], passed: int, units: int) -> tuple[str, ...]:
    """The boards whose interval doesn't hold the share of all."""
    found = ((one.board, first_pass_yield(one.passed, one.units, LEVEL)) for one in known)
    return tuple(board for board, share in found if not share.low <= passed / units <= share.high)


def _of_all(boards: int, apart: Sequence[str]) -> tuple[str, ...]:
    if boards < 2:
        return ()
    if apart:
        lie = "lies" if len(apart) == 1 else "lie"
        return (f"One share for all boards would hide how they differ: {', '.join(apart)} {lie} apart from it.",)
    return (f"'{ALL}' mixes boards: it moves when the mix does, though no board does better or worse.",)

"""Which steps fail, as found and when the unit was thought to be good?"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from passcheck.job.counts import Counts
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

TITLE: Final = "Which steps fail?"
PURPOSES: Final = (("as-found", "AS FOUND"), ("acceptance", "AT ACCEPTANCE"))
WORDS: Final = (
    "Failed attempts of all that passed, failed or stayed in doubt. Not measured and void ones are left out.",
    INTERVAL,
    "A step tried five times on one unit counts five times, so the intervals are rather too narrow.",
    "The order goes by the lower end of the higher interval: 1 of 1 shows less than 40 of 50.",
)


@dataclass(frozen=True, slots=True)
class _Failing:
    board: str
    title: str
    found: tuple[tuple[int, int], ...]
    """Failed, and all that were judged, for each purpose."""

    @property
    def weight(self) -> float:
        return max(at_least(failed, judged) for failed, judged in self.found)


def failing_figure(counts: Counts, board: str | None, most: int | None) -> Figure:
    """A row a step that ever failed, what fails most on top."""
    every = _steps(counts)
    failing = [one for one in every if any(failed for failed, _judged in one.found)]
    failing.sort(key=lambda one: (-one.weight, one.board, one.title))
    shown, more = first_of(failing, most)
    rows = tuple((one.board, one.title, *(share_words(*found) for found in one.found)) for one in shown)
    words = (
        *WORDS,
        *few_words([found for one in shown for found in one.found], "attempts"),
        *rest_words(more, len(every) - len(failing), "Steps"),
    )
    heads = (BOARD, "STEP", *(head for _purpose, head in PURPOSES))
    empty = f"None of {len(every)} steps failed." if every else "No step was judged yet, as found or at acceptance."
    plots = tuple(filter(None, (_bars(shown, place, board) for place in range(len(PURPOSES)))))
    return Figure("failing", TITLE, heads, (False,) * 4, rows, words if rows else (empty,), plots, long=("STEP",))


def _steps(counts: Counts) -> list[_Failing]:
    """Failed and judged attempts of every step, by purpose."""
    sums: dict[tuple[str, str], dict[str, tuple[int, int]]] = defaultdict(dict)
    titles: dict[tuple[str, str], str] = {}
    wanted = {purpose for purpose, _head in PURPOSES}
    for one in counts.verdicts:
        if one.purpose in wanted:
            titles[one.board, one.step] = one.title
            failed, judged = sums[one.board, one.step].get(one.purpose, (0, 0))
            judged += one.passed + one.failed + one.doubt
            sums[one.board, one.step][one.purpose] = (failed + one.failed, judged)
    return [
        _Failing(key[0], titles[key], tuple(found.get(purpose, (0, 0)) for purpose, _head in PURPOSES))
        for key, found in sums.items()
        if any(judged for _failed, judged in found.values())
    ]


def _bars(shown: Sequence[_Failing], place: int, board: str | None) -> Bars | None:
    """The bars of one purpose, in the order of the table; None where no step was judged for it."""
    found = [(label(one.board, one.title, board), *one.found[place]) for one in shown if one.found[place][1]]
    bars = tuple(share_bar(name, failed, judged) for name, failed, judged in found)
    return Bars(bars, 1.0, "share", f"failed {PURPOSES[place][1].lower()}") if bars else None

"""Which results would a rework make stale, and which parts of a group would it leave old?"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args

from passcheck.job.events import Action
from passcheck.job.moment import Moment
from passcheck.job.renewed import left_old
from passcheck.job.staleness import would_go_stale
from passcheck.job.state import Change, Job
from passcheck.sequence.model import Sequence

CASE_ONLY = "case opened, nothing inside touched"
_NAMES: tuple[Action, ...] = get_args(Action)
ACTIONS: tuple[str, ...] = (*_NAMES, CASE_ONLY)
NAMED = 3
LONGEST_RANGE = 200
HINTS: Mapping[str, str] = {
    "replaced": "Only tried, and the old one goes in again? Enter 'put back' too: results go stale then as well.",
    "put back": "The unit's own part is in again. That is work on the unit: results go stale now, as they did before.",
    "leg lifted": "Stays to be put back until a rework on the same parts says 'put back', 'replaced' or 'reflowed'.",
    "swapped in": "Stays to be put back until a rework says 'put back', or 'replaced' where it stays in this unit.",
    "jumper": "A jumper is a repair: fit for use, but not as drawn. It is shown and printed as one.",
    "firmware": "Firmware, parameters, an address: every powered step goes stale with it.",
    CASE_ONLY: "Only the reason is kept. Where anything inside was touched, enter what was done instead.",
}
"""What is worth knowing of an action before it is entered."""


def action_of(word: str) -> Action:
    """The action that a word of the list names."""
    return next(one for one in _NAMES if one == word)


@dataclass(frozen=True, slots=True)
class Named:
    """The designators and the blocks of the sequence that were typed, and the words that are neither."""

    parts: frozenset[str] = frozenset()
    blocks: frozenset[str] = frozenset()
    strange: tuple[str, ...] = ()


def named_parts(sequence: Sequence, typed: str) -> Named:
    """Designators and blocks, in capitals or not, spaces or commas between; `C1-C6` is all of C1 to C6 there are."""
    known = {part.upper(): part for block in sequence.blocks.values() for part in block.parts}
    named = {key.upper(): key for key in sequence.blocks}
    parts: set[str] = set()
    blocks: set[str] = set()
    strange = []
    for word in typed.upper().replace(",", " ").replace(";", " ").split():
        meant = [known[one] for one in (word, *_range(word)) if one in known]
        parts |= set(meant)
        if not meant and word in named:
            blocks.add(named[word])
        elif not meant:
            strange.append(word)
    return Named(frozenset(parts), frozenset(blocks), tuple(strange))


def _range(word: str) -> tuple[str, ...]:
    """C1 to C6 for `C1-C6` or `C1-6`; nothing for any other word."""
    found = re.fullmatch(r"([A-Z]+)(\d{1,4})-([A-Z]*)(\d{1,4})", word)
    if found is None or found[3] not in ("", found[1]):
        return ()
    first, last = int(found[2]), int(found[4])
    return tuple(f"{found[1]}{number}" for number in range(first, min(last, first + LONGEST_RANGE) + 1))


def group_left(job: Job, parts: tuple[str, ...]) -> tuple[str, ...]:
    """Parts that are renewed together with one of these and neither are among them nor were renewed before."""
    return tuple(dict.fromkeys(part for group in left_old(job, parts) for part in group)) if parts else ()


def change_of(job: Job, action: str, blocks: tuple[str, ...], moment: Moment) -> Change:
    """The change that this rework would be."""
    return Change(
        line=job.lines,
        kind="case opened" if action == CASE_ONLY else "rework",
        number=len(job.reworks) + 1,
        blocks=blocks,
        words="",
        moment=moment,
        by="",
        firmware=action == "firmware",
    )


def preview(job: Job, change: Change) -> str:
    """What goes stale, in one sentence."""
    if change.kind == "rework" and not change.blocks:
        return "Name the parts or the blocks: this line then says which results go stale."
    stale = would_go_stale(job, change)
    if not stale:
        return "This makes no result stale."
    titles = list(dict.fromkeys(job.sequence.step(one.step).title for one in stale))
    more = f"; and {len(titles) - NAMED} more steps" if len(titles) > NAMED else ""
    results = "1 result" if len(stale) == 1 else f"{len(stale)} results"
    return f"This makes {results} stale: {'; '.join(titles[:NAMED])}{more}."

"""Which results would a rework make stale, and which parts of a group would it leave old?"""

from typing import get_args

from passcheck.job.events import Action
from passcheck.job.moment import Moment
from passcheck.job.staleness import would_go_stale
from passcheck.job.state import Change, Job
from passcheck.sequence.model import Sequence
from passcheck.sequence.reach import group_of

CASE_ONLY = "case opened, nothing inside touched"
_NAMES: tuple[Action, ...] = get_args(Action)
ACTIONS: tuple[str, ...] = (*_NAMES, CASE_ONLY)
NAMED = 3


def action_of(word: str) -> Action:
    """The action that a word of the list names."""
    return next(one for one in _NAMES if one == word)


def named_parts(sequence: Sequence, typed: str) -> frozenset[str]:
    """The designators of the sequence that stand in what was typed, in capitals or not."""
    known = {part.upper(): part for block in sequence.blocks.values() for part in block.parts}
    words = typed.upper().replace(",", " ").replace(";", " ").split()
    return frozenset(known[word] for word in words if word in known)


def group_left(job: Job, parts: tuple[str, ...]) -> tuple[str, ...]:
    """Parts that are renewed together with one of these and neither are among them nor were renewed before."""
    renewed = {part for rework in job.reworks if rework.action == "replaced" for part in rework.parts}
    groups = (group_of(job.sequence, part) for part in parts)
    return tuple(dict.fromkeys(one for group in groups for one in group if one not in renewed and one not in parts))


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

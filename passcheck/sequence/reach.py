"""Which blocks and steps does something done to a block reach?

A block *feeds* others; what is done to it can show in everything it feeds, and in what those feed in turn.
"""

from collections.abc import Iterable

from passcheck.sequence.model import ALL_BLOCKS, Sequence, Step


def reached(sequence: Sequence, blocks: Iterable[str]) -> frozenset[str]:
    """The blocks themselves and all that they feed, transitively; unknown names reach nothing."""
    found: set[str] = set()
    waiting = [name for name in blocks if name in sequence.blocks]
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting.extend(fed for fed in sequence.blocks[name].feeds if fed in sequence.blocks)
    return frozenset(found)


def proves(sequence: Sequence, step: Step) -> frozenset[str]:
    """The blocks that a step proves; `all` stands for every block of the sequence."""
    if ALL_BLOCKS in step.proves:
        return frozenset(sequence.blocks)
    return frozenset(step.proves) & frozenset(sequence.blocks)


def steps_reached(sequence: Sequence, blocks: Iterable[str]) -> tuple[str, ...]:
    """Ids of the steps that prove any block that is reached, in the order of the file."""
    touched = reached(sequence, blocks)
    return tuple(step.id for step in sequence.steps if proves(sequence, step) & touched)


def short_round(sequence: Sequence) -> tuple[str, ...]:
    """Ids of the steps of one short functional round: those the author named, otherwise what the soak checks."""
    if sequence.short_round:
        return sequence.short_round
    return tuple(dict.fromkeys(name for step in sequence.steps if step.kind == "soak" for name in step.check))


def group_of(sequence: Sequence, part: str) -> tuple[str, ...]:
    """The parts that are renewed together with this one, itself included; empty where it belongs to no group."""
    for block in sequence.blocks.values():
        for group in block.renew_together:
            if part in group:
                return group
    return ()

"""How is a question answered that was asked of the very same state before?

Gate, plan and card ask a job the same things hundreds of times between two events, and most events leave its attempts
and changes alone. The state is frozen and hands its tuples on from event to event, so the same objects have the same
answer, and nothing that was asked about can change under it.
"""

from collections.abc import Callable
from functools import lru_cache, wraps
from typing import TypeVar, TypeVarTuple

Of = TypeVarTuple("Of")
Answer = TypeVar("Answer")

JOBS_IN_HAND = 8
"""Answers kept of each question: a person looks at one job, a thread that reads the shelf at another."""


class _TheVery:
    """Objects as a key, known by where they lie; the key holds them, so that nothing else can come to lie there."""

    __slots__ = ("of",)

    def __init__(self, of: tuple[object, ...]) -> None:
        self.of = of

    def __hash__(self) -> int:
        return hash(tuple(map(id, self.of)))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _TheVery) and all(a is b for a, b in zip(self.of, other.of, strict=True))


def asked_once(question: Callable[[*Of], Answer]) -> Callable[[*Of], Answer]:
    """Work a pure question of frozen values out once, for as long as it is asked of the very same objects."""

    @lru_cache(maxsize=JOBS_IN_HAND)
    def kept(very: _TheVery) -> Answer:
        return question(*very.of)  # type: ignore[arg-type] # what came in as Of goes out as Of

    @wraps(question)
    def answer(*of: *Of) -> Answer:
        return kept(_TheVery(of))

    answer.forget = kept.cache_clear  # type: ignore[attr-defined] # for a test that takes a rule out
    return answer

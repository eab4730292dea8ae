"""How is a question answered that was asked of the very same state before?

Gate, plan and card ask a job the same things hundreds of times between two events, and most events leave its attempts
and changes alone. The state is frozen and hands its tuples on from event to event, so the same objects have the same
answer, and nothing that was asked about can change under it.
"""

from collections.abc import Callable
from functools import wraps
from threading import Lock
from typing import TypeVar, TypeVarTuple

Of = TypeVarTuple("Of")
Answer = TypeVar("Answer")

JOBS_IN_HAND = 8
"""Answers kept of each question: a person looks at one job, a thread that reads the shelf at another."""


def asked_once(question: Callable[[*Of], Answer]) -> Callable[[*Of], Answer]:
    """Work a pure question of frozen values out once, for as long as it is asked of the very same objects.

    An object is known by where it lies. It is kept beside the answer, so that nothing else can come to lie there.
    """
    kept: dict[tuple[int, ...], tuple[object, Answer]] = {}
    making_room = Lock()

    @wraps(question)
    def answer(*of: *Of) -> Answer:
        lie = tuple(map(id, of))
        known = kept.get(lie)
        if known is not None:
            return known[1]
        worked_out = question(*of)
        with making_room:
            while len(kept) >= JOBS_IN_HAND:
                del kept[next(iter(kept))]
            kept[lie] = (of, worked_out)
        return worked_out

    answer.forget = kept.clear  # type: ignore[attr-defined] # for a test that takes a rule out
    return answer

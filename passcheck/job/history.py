"""How is a history of a hundred thousand events folded without copying the job at every one of them?

Whoever folds one event gets a new job and keeps the old one. `fold` has a whole history, and nobody sees the job before
its end: it folds into a job under way, which the rows of the fold write into where they would have made another. They
read as if they copied, and are held to one rule: what was given away is not asked again for what has changed.
"""

from collections.abc import Callable
from collections.abc import Sequence as Many
from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any, TypeVar, cast

from passcheck.job.state import Job

__all__ = ["changed", "exchanged", "finished", "grown", "latest", "under_way"]

T = TypeVar("T")


class _JobUnderWay(Job):
    """A job that only `fold` has seen."""

    __slots__ = ()


class _Growing(list[T]):
    """Stands where a tuple will be."""

    __slots__ = ()


def under_way(job: Job) -> Job:
    """A copy that may be written into; until `finished`, what holds it must show it to nobody."""
    return _JobUnderWay(**_members(job))


def finished(job: Job) -> Job:
    """The job as everybody knows it: frozen, with tuples."""
    members: dict[str, Any] = {
        name: tuple(held) if type(held) is _Growing else held for name, held in _members(job).items()
    }
    members["soaks"] = tuple(replace(leg, looks=tuple(leg.looks), cycled=tuple(leg.cycled)) for leg in job.soaks)
    return Job(**members)


if TYPE_CHECKING:
    from dataclasses import replace as changed  # so that a member that a job hasn't is a type error
else:

    def changed(job: Job, /, **members: Any) -> Job:
        """The job with these members in place of those it had."""
        if type(job) is not _JobUnderWay:
            return replace(job, **members)
        for name, value in members.items():
            object.__setattr__(job, name, value)
        return job


def grown(job: Job, held: tuple[T, ...], *more: T) -> tuple[T, ...]:
    """What a job holds, with more at its end."""
    if type(job) is not _JobUnderWay:
        return (*held, *more)
    growing = _growing(held)
    growing.extend(more)
    return cast("tuple[T, ...]", growing)


def exchanged(job: Job, held: tuple[T, ...], place: int, by: T) -> tuple[T, ...]:
    """What a job holds, with another at that place."""
    if type(job) is not _JobUnderWay:
        return (*held[:place], by, *held[place + 1 :])
    growing = _growing(held)
    growing[place] = by
    return cast("tuple[T, ...]", growing)


def latest(held: Many[T], wanted: Callable[[T], bool]) -> int | None:
    """The place of the last that is wanted; None where none is."""
    return next((place for place in range(len(held) - 1, -1, -1) if wanted(held[place])), None)


def _growing(held: Any) -> Any:
    """The list that passes for a tuple of a job under way, which is why no type can be given."""
    return held if type(held) is _Growing else _Growing(held)


def _members(job: Job) -> dict[str, Any]:
    return {each.name: getattr(job, each.name) for each in fields(job)}

"""Does every lamp show what it should, in its colour, and in its time where that is limited?"""

from passcheck.app.widgets.fields import Ask, of_limits
from passcheck.app.widgets.walk_list import WalkList
from passcheck.job.judging import lamp_limits
from passcheck.sequence.model import LampsStep


class LampsEntry(WalkList):
    """The lamps beside each other, then the times or the rate by instrument."""

    def __init__(self, step: LampsStep, *, with_times: bool = True) -> None:
        """Args: step: the lamps; with_times: False where their rate is tapped and not typed."""
        points = tuple(" ".join(part for part in (lamp.ref, lamp.colour, lamp.shows) if part) for lamp in step.lamps)
        super().__init__(points, times=_times(step) if with_times else (), in_rows=True)


def _times(step: LampsStep) -> tuple[Ask, ...]:
    wanted = ("Rate",) if step.check == "rate" else _asked_names(step)
    return tuple(of_limits(name, limits) for name, limits in zip(wanted, lamp_limits(step), strict=True))


def _asked_names(step: LampsStep) -> tuple[str, ...]:
    both = (("Lit after", step.on_within), ("Out after", step.off_after))
    return tuple(name for name, limits in both if limits is not None)

"""What does the desk have more of in practice than at work?"""

from collections.abc import Callable
from dataclasses import dataclass, field

from passcheck.practice.at_the_bench import PracticeBench


@dataclass(slots=True)
class PracticeDesk:
    """The simulated units, a clock that can be set forward, and whether coaching lines are shown.

    Attributes:
        bench: the units and their instruments.
        pass_time: lets so many minutes go by at once.
        coach: are coaching lines shown?
        done: how often a hand did what a step asks, and when last, by job, step and tries before.
        said: what came of letting time go by, for a while.
    """

    bench: PracticeBench
    pass_time: Callable[[float], None]
    coach: bool = True
    done: dict[tuple[str, str, int], tuple[int, float]] = field(default_factory=dict)
    said: str = ""

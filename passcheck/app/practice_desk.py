"""What does the desk have more of in practice than at work?"""

from collections.abc import Callable
from dataclasses import dataclass

from passcheck.practice.at_the_bench import PracticeBench


@dataclass(slots=True)
class PracticeDesk:
    """The simulated units, a clock that can be set forward, and whether coaching lines are shown.

    Attributes:
        bench: the units and their instruments.
        pass_time: lets so many minutes go by at once.
        coach: are coaching lines shown?
    """

    bench: PracticeBench
    pass_time: Callable[[float], None]
    coach: bool = True

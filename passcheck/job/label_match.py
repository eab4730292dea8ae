"""What comes of holding a label against the unit that it sticks on?"""

from dataclasses import dataclass
from typing import Literal

Difference = Literal["not read", "no label yet", "other job", "other unit", "other code", "other serial"]
"""`other unit`: the label names another unit than the job; `other serial`: the unit in hand is another one."""


@dataclass(frozen=True, slots=True)
class Match:
    """Do label and unit belong together, and to the job at hand?

    Attributes:
        fits: True only where job, unit and code were read whole and all of them are this job's.
        sentence: what was found, and what to do where it doesn't fit.
        differs: what doesn't fit, the weightiest first; empty where it fits.
    """

    fits: bool
    sentence: str
    differs: tuple[Difference, ...] = ()

    @property
    def word(self) -> str:
        """The same in one or two words, to be read from a metre away."""
        return self.differs[0].upper() if self.differs else "MATCH"

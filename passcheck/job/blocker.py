"""What is one reason against release?"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Blocker:
    """One reason against release.

    Attributes:
        sentence: the reason, as everybody reads it.
        lift: the act that lifts it.
        step: the step it leads to, or None.
        walk: why the step has to be walked again, in a few words; "" where walking it is not what lifts this.
        under: the conditions that it has to be walked under.
    """

    sentence: str
    lift: str
    step: str | None = None
    walk: str = ""
    under: tuple[str, ...] = ()

"""What comes of making a paper?"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class MadePaper:
    """A paper that is kept.

    Attributes:
        path: where it lies.
        remarks: what whoever hands it out has to know of it, as sentences; none when there is nothing to say.
    """

    path: str
    remarks: tuple[str, ...] = ()

"""Is everything that the inspection lists as it should be?"""

from passcheck.app.widgets.walk_list import WalkList
from passcheck.sequence.model import LookStep


class LookEntry(WalkList):
    """The inspection's points, a line each."""

    def __init__(self, step: LookStep) -> None:
        """Args: step: the points."""
        super().__init__(step.points)

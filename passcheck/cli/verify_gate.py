"""Which of the jobs that are verified were ended against the gate?"""

from collections.abc import Sequence
from dataclasses import replace

from passcheck.cli.tool import tool
from passcheck.records.board_folder import BoardFolder
from passcheck.records.shop import LogFolder
from passcheck.records.verified import Looked, Standing, Verified
from passcheck.records.walked_again import Walked, walk_again


class GateAgain:
    """Asks the gate once more of each sealed job; that decodes every line, so only who wants it waits for it."""

    def __init__(self, logs: LogFolder) -> None:
        """Args: logs: where the journals lie."""
        self._logs = logs

    def asked(self, looked: Looked) -> Verified:
        """The job with what stood against its ending. Raises BenchFailed when its journal can't be read.

        An altered journal says nothing of what happened, and an open one has not ended.
        """
        one = looked.verified
        data = self._logs.journal_bytes(one.job) if looked.sealed_at and one.standing is not Standing.ALTERED else None
        walked = walk_again(self._logs.kept(one.job, data), BoardFolder.read) if data is not None else None
        if walked is None:
            return one
        if walked.not_walked:
            return replace(one, remarks=(*one.remarks, walked.not_walked))
        return replace(one, against=walked.against, remarks=(*one.remarks, *_of_another_version(walked)))

    @staticmethod
    def counted(found: Sequence[Verified]) -> str:
        """What came of it for all jobs, in a sentence."""
        walked = [one.against for one in found if one.against is not None]
        against = sum(map(bool, walked))
        bad = f"something stood against {against} of them" if against else "nothing stood against any"
        return f"{len(walked)} that ended {'was' if len(walked) == 1 else 'were'} walked through the gate again: {bad}."


def _of_another_version(walked: Walked) -> tuple[str, ...]:
    if not walked.against or walked.tool == tool():
        return ()
    return (f"It was ended by {walked.tool[:40]!a}; the gate of another version may have asked for less.",)

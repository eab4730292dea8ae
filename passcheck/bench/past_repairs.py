"""What do the sealed journals of this shop say about earlier repairs of a board type?"""

from collections.abc import Sequence
from dataclasses import dataclass

from passcheck.bench.ports import JobFiles
from passcheck.errors import FileFault, PasscheckError
from passcheck.job.confirmed import Confirmed, confirmed_by, together
from passcheck.job.fold import ReadSequence, fold
from passcheck.job.replay import recorded
from passcheck.job.shelf_row import DAMAGED, ShelfRow


@dataclass(frozen=True, slots=True)
class PastRepairs:
    """What is confirmed, and which jobs might have said more if their journals could be read."""

    confirmed: Confirmed
    unread: tuple[str, ...] = ()


class RepairReader:
    """Reads each signed-off job once: its journal is sealed and says the same for ever."""

    def __init__(self, files: JobFiles, read_sequence: ReadSequence) -> None:
        """Nothing is read yet.

        Args:
            files: the journals.
            read_sequence: turns a sequence's text into the model.
        """
        self._files = files
        self._read_sequence = read_sequence
        self._known: dict[str, Confirmed] = {}

    def past_repairs(self, sequence: str, shelf: Sequence[ShelfRow]) -> PastRepairs:
        """What the signed-off jobs of this board type confirm; it may read many journals, so call it in a thread.

        A damaged journal takes nothing from the others. Of a job whose row is damaged nobody knows the board type, so
        it is named whatever was asked for.
        """
        found, unread = [], []
        for row in shelf:
            if row.waits_for == DAMAGED:
                unread.append(row.job)
            elif row.sequence == sequence and row.ended == "signed off":
                try:
                    found.append(self._of_job(row.job))
                except (PasscheckError, ValueError):  # as for the shelf: opening that job says what is wrong with it
                    unread.append(row.job)
        return PastRepairs(together(sequence, found), tuple(unread))

    def _of_job(self, job_id: str) -> Confirmed:
        if job_id not in self._known:
            job = fold(recorded(self._files.read_job(job_id)), self._read_sequence)
            if job.id != job_id:
                raise FileFault(f"The journal of job {job_id} speaks of job {job.id}. Look for its own in a backup.")
            self._known[job_id] = confirmed_by(job)
        return self._known[job_id]

"""Which slip does a screen of a job lay over itself for each act that needs nothing but the job?

What is entered, refused and kept is the slip's own question.
"""

from passcheck.app.job_screen import JobScreen
from passcheck.app.screens.agreed import AgreedSlip
from passcheck.app.screens.close_run import CloseRunSlip
from passcheck.app.screens.give_back import GiveBackSlip
from passcheck.app.screens.hand_over import HandOverSlip
from passcheck.app.screens.history import HistoryScreen
from passcheck.app.screens.incident import IncidentSlip
from passcheck.app.screens.jot import JotSlip
from passcheck.app.screens.map_complaint import MapComplaintSlip
from passcheck.app.screens.papers import PapersSheet
from passcheck.app.screens.propose import ProposeSlip
from passcheck.app.screens.put_back import PutBackSlip
from passcheck.app.screens.revise import ReviseSlip
from passcheck.app.screens.rework import ReworkScreen
from passcheck.app.screens.work_done import WorkDoneSheet
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.commands import Refusal


class JobSlips(JobScreen):
    """A screen of a job whose keys lay slips over it; subclasses say which keys, and fill the sheet."""

    def action_rework(self) -> None:
        """What was done to the unit."""
        self.app.push_screen(ReworkScreen(self.bench))

    def action_incident(self) -> None:
        """Something went wrong."""
        self.app.push_screen(IncidentSlip(self.bench))

    def action_put_back(self) -> None:
        """What a test changed."""
        self.app.push_screen(PutBackSlip(self.bench))

    def action_complaint(self) -> None:
        """The owner's words and their symptoms."""
        self.app.push_screen(MapComplaintSlip(self.bench))

    def action_close_run(self) -> None:
        """The end of the open run."""
        if self.bench.job.open_run is None:
            self.show_refusal(Refusal("no run", "No run is open.", "Enter starts one."))
        else:
            self.app.push_screen(CloseRunSlip(self.bench))

    def action_hand_over(self) -> None:
        """Another person takes the job."""
        self.app.push_screen(HandOverSlip(self.bench))

    def action_jot(self) -> None:
        """A loose reading."""
        self.app.push_screen(JotSlip(self.bench))

    def action_agreed(self) -> None:
        """What the owner agreed to."""
        self.app.push_screen(AgreedSlip(self.bench))

    def action_propose(self) -> None:
        """What the owner is asked to agree to."""
        self.app.push_screen(ProposeSlip(self.bench))

    def action_papers(self) -> None:
        """What leaves with the unit."""
        self.app.push_screen(PapersSheet(self.bench))

    def action_revise(self) -> None:
        """Today's file of the sequence, where it is another than this job's."""
        job = self.bench.job
        try:
            listed = self.desk.shop.boards.listed()
        except (FileFault, BenchFailed) as fault:
            self.could_not("read", fault)
            return
        board = next((one for one in listed if one.name == job.sequence.sequence), None)
        if board is None or board.sequence is None:
            words = f"The folder has no usable file of {job.sequence.sequence} today."
            self.show_refusal(Refusal("order", words, "Run 'passcheck check' on its file."))
        elif board.digest == job.sequence_digest:
            words = "Today's file is the one this job already uses."
            self.show_refusal(Refusal("order", words, "Nothing needs doing."))
        else:
            self.app.push_screen(ReviseSlip(self.bench, board.sequence, board.text, board.digest))

    def action_work_done(self) -> None:
        """All that was done to the unit."""
        self.app.push_screen(WorkDoneSheet(self.bench))

    def action_unit_history(self) -> None:
        """Earlier visits of this unit, beside this one."""
        self.app.push_screen(HistoryScreen(self.bench.job.serial, self.bench.job.id))

    def action_give_back(self) -> None:
        """The unit leaves without a release."""
        self.app.push_screen(GiveBackSlip(self.bench))

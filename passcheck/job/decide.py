"""What happens when this is asked of this job?

Commands in, events out, or a `Refusal` that says why not. Nothing is stored and nothing is shown here: the bench
appends the events and folds them.
"""

from typing import assert_never

from passcheck.job import commands as asked
from passcheck.job.commands import Command, Refusal
from passcheck.job.decide_attempt import attempt, void_attempt
from passcheck.job.decide_ending import return_in_part, return_unrepaired, sign_off
from passcheck.job.decide_power import acknowledge, call_make_safe, energise, prove_dead, read_supply, tell_power
from passcheck.job.decide_run import close_run, hand_over, map_complaint, revise_sequence, start_run
from passcheck.job.decide_soak import break_soak, check_soak, finish_soak, start_soak
from passcheck.job.decide_timing import begin_timing, interrupt_timing, tap_reference
from passcheck.job.decide_work import (
    add_note,
    agree_owner,
    jot,
    log_rework,
    open_case,
    propose,
    report_incident,
    undo_change,
)
from passcheck.job.events import Event
from passcheck.job.moment import Moment
from passcheck.job.outside import Outside
from passcheck.job.permission import stranger
from passcheck.job.state import Job

Answered = tuple[Event, ...] | Refusal


def decide(job: Job, command: Command, moment: Moment, outside: Outside) -> Answered:
    """The events that carry the command out, or the reason why it is refused.

    Args:
        job: the state before.
        command: what is asked, and by whom.
        moment: when it is asked.
        outside: settings, today's sequence file, the state of the records.
    """
    if job.ended is not None:
        return Refusal(
            "ended", f"This job has ended: {job.ended}. Nothing is added to it.", "Open a new job for the unit."
        )
    if (unknown := stranger(command.by, outside.settings)) is not None:
        return unknown
    return _decided(job, command, moment, outside)


def _decided(job: Job, command: Command, moment: Moment, outside: Outside) -> Answered:  # noqa: PLR0912 - one row a command
    match command:
        case asked.MapComplaint():
            return map_complaint(job, command)
        case asked.StartRun():
            return start_run(job, command, moment, outside)
        case asked.CloseRun():
            return close_run(job, moment)
        case asked.Acknowledge():
            return acknowledge(job, command, moment)
        case asked.Energise():
            return energise(job, command, moment, outside)
        case asked.ReadSupply():
            return read_supply(job, command, moment)
        case asked.TellPower():
            return tell_power(job, command, moment)
        case asked.CallMakeSafe():
            return call_make_safe(job)
        case asked.ProveDead():
            return prove_dead(job, command, outside)
        case asked.Attempt():
            return attempt(job, command, moment, outside)
        case asked.VoidAttempt():
            return void_attempt(job, command)
        case asked.BeginTiming():
            return begin_timing(job, command, moment, outside)
        case asked.InterruptTiming():
            return interrupt_timing(job, command)
        case asked.TapReference():
            return tap_reference(job, command, moment, outside)
        case asked.AddNote():
            return add_note(job, command)
        case asked.ReportIncident():
            return report_incident(job, command)
        case asked.LogRework():
            return log_rework(job, command, moment)
        case asked.OpenCase():
            return open_case(job, command, moment)
        case asked.UndoChange():
            return undo_change(job, command, moment)
        case asked.StartSoak():
            return start_soak(job, command, moment, outside)
        case asked.CheckSoak():
            return check_soak(job, command)
        case asked.BreakSoak():
            return break_soak(job, command)
        case asked.FinishSoak():
            return finish_soak(job, command, moment)
        case asked.HandOver():
            return hand_over(job, command, outside)
        case asked.Propose():
            return propose(command)
        case asked.AgreeOwner():
            return agree_owner(command)
        case asked.Jot():
            return jot(command)
        case asked.ReviseSequence():
            return revise_sequence(job, command, moment)
        case asked.SignOff():
            return sign_off(job, command, moment, outside)
        case asked.ReturnUnrepaired():
            return return_unrepaired(job, command, moment, outside)
        case asked.ReturnInPart():
            return return_in_part(job, command, moment, outside)
        case _:
            assert_never(command)

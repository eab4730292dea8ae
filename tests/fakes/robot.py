"""A robot technician with a unit before it, for tests that look over its shoulder.

work = await robot.at_work(sequences.sequence(), fault)
await work.do(started(work, "acceptance"))
kept = await tried(work, work.job.sequence.step("rail-5v"))
"""

from dataclasses import replace
from functools import cache
from pathlib import Path

from rig import RigBoards

from passcheck.cli.folders import Folders, demo_boards
from passcheck.cli.practice_auto import workshop_on
from passcheck.job.commands import MapComplaint, StartRun
from passcheck.job.events import Purpose
from passcheck.practice.at_work import AtWork
from passcheck.practice.fault import Effect, Fault
from passcheck.practice.manner import Manner
from passcheck.practice.serials import drawn_from
from passcheck.practice.visit import Workshop, taken_in
from passcheck.practice.walking import started
from passcheck.sequence.model import Sequence

FLAWLESS = Manner(slips=0.0, loose_probe=0.0, tries_again=0.0, signs_early=0.0, finds_it=1.0)
ALL_THUMBS = Manner(slips=1.0, loose_probe=0.0, tries_again=0.0, signs_early=0.0, finds_it=1.0)


@cache
def demo_workshop() -> Workshop:
    """The robot's bench on the boards that come with the program, with their faults."""
    return workshop_on(Folders(Path("no logs"), demo_boards()))


def workshop(*boards: Sequence | str) -> Workshop:
    """The robot's bench on other boards, of which no faults are known."""
    return Workshop(RigBoards(*boards), {}, demo_workshop().settings)


async def at_work(
    board: Sequence | str, *faults: Fault, manner: Manner = FLAWLESS, seed: int = 1, instruments: str = ""
) -> AtWork:
    """Somebody whose hands make no mistake with a unit of this board before them; a demo board is named.

    `instruments` are those at hand, all of the bench's where none is given.
    """
    place = demo_workshop() if isinstance(board, str) else workshop(board)
    if instruments:
        kept = {name: it for name, it in place.settings.instruments.items() if name in instruments.split()}
        place = Workshop(place.boards, place.faults, place.settings.model_copy(update={"instruments": kept}))
    name = board if isinstance(board, str) else board.sequence
    laid = next(one for one in place.boards.listed() if one.name == name)
    work = await taken_in(place, laid, faults, manner, drawn_from("robot", seed))
    work.hand.person = replace(work.hand.person, lapses=0.0, foreseen=0.0, doubled=0.0)
    return work


async def in_run(
    board: Sequence | str, *faults: Fault, purpose: Purpose = "acceptance", manner: Manner = FLAWLESS, seed: int = 1
) -> AtWork:
    """The same with a run begun."""
    work = await at_work(board, *faults, manner=manner, seed=seed)
    begun: StartRun = started(work, purpose)
    await work.do(begun)
    return work


def broken(*effects: Effect, block: str = "PWR", name: str = "it") -> Fault:
    """One thing that broke."""
    return Fault(name, "something broke", block, (), effects)


def mapped(work: AtWork, *symptoms: str) -> MapComplaint:
    """The complaint laid onto symptoms of the sequence."""
    return MapComplaint(work.by, symptoms)

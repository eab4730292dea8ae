"""What becomes of so many simulated units in the hands of a robot technician?"""

import sys
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta

from rich.console import Console
from rich.progress import track

from passcheck.bench.shop import Shop
from passcheck.cli.folders import PRACTICE_LETTER, Folders, practice_folders
from passcheck.cli.say import complain, say, say_json, say_table
from passcheck.cli.wire import log_folder
from passcheck.cli.wrong_use import WrongUse
from passcheck.errors import FileFault
from passcheck.judge.first_pass_yield import first_pass_yield
from passcheck.practice.auto import Totals, totals, visits
from passcheck.practice.clock import SteppedClock
from passcheck.practice.fault import NATURES
from passcheck.practice.lists import list_for
from passcheck.practice.memory import MemoryBoards, MemorySettings
from passcheck.practice.settings import filmed, robots_bench
from passcheck.practice.technician import ENDS
from passcheck.practice.visit import START, TERMINAL, TOOL, WORKS, Visit, Workshop
from passcheck.records.bench_starter import starter_text
from passcheck.records.bench_text import settings_of
from passcheck.records.board_folder import BoardFolder
from passcheck.records.shelf import ShelfSummary

BECAME = {
    "released": "released",
    "returned": "given back unrepaired",
    "in doubt": "given back undecided",
    "stuck": "left on the shelf",
}


@dataclass(frozen=True, slots=True)
class KeptWorkshop(Workshop):
    """A workshop whose journals are kept in a folder's practice, a visit a day."""

    folders: Folders

    def start_of(self, number: int) -> datetime:
        """A day after the visit before."""
        return START + timedelta(days=number)

    def shop(self, clock: SteppedClock, chance: Callable[[], float]) -> Shop:
        """A shop on journals and a ledger of practice; people and instruments are the robot's."""
        settings = MemorySettings(filmed(self.settings, TERMINAL, clock().local().date()))
        files = log_folder(self.folders, self.settings.letter, clock, practice=True)
        shelf = ShelfSummary(practice_folders(self.folders).logs)
        return Shop(files, shelf, self.boards, settings, clock, lambda: TOOL, TERMINAL, chance, practice=True)


def practice_auto(
    folders: Folders, jobs: int, seed: int, *, only: str | None = None, as_json: bool = False, keep: bool = False
) -> int:
    """Have a robot technician repair so many units, print what came of it; give the exit status.

    Args:
        folders: where the boards come from and, where they are kept, the journals go.
        jobs: how many units.
        seed: the same one gives the same units, hands and slips.
        only: the board whose units come in; None for all of them in turn.
        as_json: one object for other programs.
        keep: write the journals below the folder's practice; else they are gone with the program.

    Raises:
        FileFault: no board of the folder can be used.
        WrongUse: there is no such board.
        BenchFailed: the journals can't be kept.
    """
    workshop, processes = workshop_on(folders, only), None
    if keep:
        workshop = KeptWorkshop(workshop.boards, workshop.faults, workshop.settings, folders)
        processes = 1  # one ledger has one writer
    shown = Console(stderr=True)
    walked = visits(workshop, seed, range(1, jobs + 1), processes)
    hidden = as_json or not sys.stderr.isatty()
    every = tuple(  # drawn after each visit and by no thread of its own: the processes may be forked meanwhile
        track(walked, "Repairing", total=jobs, auto_refresh=False, console=shown, disable=hidden, transient=True)
    )
    summed = totals(every)
    if as_json:
        say_json("practice", [_item(one) for one in every], totals=_totals(summed))
    else:
        _say(summed, seed, len({one.board for one in every}))
    return 0


def workshop_on(folders: Folders, only: str | None = None) -> Workshop:
    """The boards of the folder, or one of them, what can be wrong with their units, and the robot's bench.

    Raises:
        FileFault: no board of the folder can be used.
        WrongUse: there is no such board among them.
    """
    boards = [board for board in BoardFolder(folders.sequences).listed() if _usable(board.faults, board.path)]
    if only is not None:
        known = ", ".join(board.name for board in boards)
        boards = [board for board in boards if board.name.upper() == only.upper()]
        if not boards:
            raise WrongUse(f"there is no board '{only}' to practise on. There are: {known}.")
    if not boards:
        raise FileFault(f"{folders.sequences}: no sequence here can be used. 'passcheck check' says why.")
    memory = MemoryBoards(*(board.text for board in boards))
    lists = {board.name: list_for(board.sequence).faults for board in memory.listed() if board.sequence is not None}
    first = settings_of(starter_text(START.date(), PRACTICE_LETTER), "the robot's bench")
    return Workshop(memory, lists, robots_bench(first, WORKS, TERMINAL, START.date()))


def _usable(faults: str, path: str) -> bool:
    if faults:
        complain(f"{path} is left out: {faults}")
    return not faults


def _item(one: Visit) -> dict[str, object]:
    """A visit for other programs; minutes and days are rounded, so that the last bit of a double shows nowhere."""
    told = asdict(one.told)
    told["still"] = [{"fault": name, "nature": nature} for name, nature in one.told.still]
    item = asdict(one) | {"hands_on_min": round(one.hands_on_min, 1), "days": round(one.days, 3)}
    del item["told"]
    return item | told


def _totals(summed: Totals) -> dict[str, object]:
    ends = {ended.replace(" ", "_"): {"good": good, "faulty": bad} for ended, (good, bad) in summed.by_end.items()}
    return {
        "visits": summed.visits,
        "ended": ends,
        "escaped_by_nature": dict(_natures(summed)),
        "tries": round(summed.tries, 1),
        "hands_on_min": round(summed.hands_on_min, 1),
        "days": round(summed.days, 2),
        "slips": summed.slips,
        "slips_not_kept": summed.caught,
        "signatures_refused": summed.signatures_refused,
    }


def _natures(summed: Totals) -> Mapping[str, int]:
    """Of the faulty units that were released: by the fault that is hardest to meet."""
    hardest = Counter(
        max((nature for _name, nature in one.told.still), key=NATURES.index, default="steady") for one in summed.escaped
    )
    return {nature: hardest[nature] for nature in NATURES if hardest[nature]}


def _say(summed: Totals, seed: int, boards: int) -> None:
    say(f"{summed.visits} simulated units of {boards} boards, repaired by a robot technician (seed {seed}).")
    say()
    rows = [
        (BECAME[ended], str(good), str(bad), str(good + bad)) for ended in ENDS for good, bad in (summed.by_end[ended],)
    ]
    say_table(("THE UNIT WAS", "GOOD", "FAULTY", "ALL"), rows)
    say()
    released = sum(summed.by_end["released"])
    if released:
        share = first_pass_yield(len(summed.escaped), released)
        bounds = f"{100 * share.low:.1f} % to {100 * share.high:.1f} % (Wilson, 95 %)"
        say(f"Faulty among the released: {100 * share.share:.1f} %, {bounds}.")
        for nature, count in _natures(summed).items():
            say(f"  {count} of them with a fault that is {nature}", indent=0)
    say(f"A visit: {summed.tries:.0f} tries, {summed.hands_on_min / 60:.1f} h of hands, {summed.days:.1f} days.")
    say(f"Entries typed wrong: {summed.slips}, of them not kept: {summed.caught}.")
    say(f"Signatures refused: {summed.signatures_refused}.")
    say("Simulated units say how the rules work, and nothing about a real one.")

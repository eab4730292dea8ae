"""How is the real program killed at its screens, again and again, over one folder of records?"""

import os
import sys
from collections.abc import Sequence
from pathlib import Path
from random import Random  # noqa: TID251 - kills drawn from a seed

from after_a_kill import Remains
from borne_out import HEAD, ahead, missing
from kill_tally import Tally
from quick_technician import BOARD, Papers, QuickTechnician
from struck_terminal import ENDS_WITH, Aim, Strike, Struck, StruckTerminal, Stuck, Way

import passcheck
from passcheck.job.ending import is_seal
from passcheck.records.board_folder import BoardFolder

PROGRAM: tuple[str, ...] = (sys.executable, "-m", "passcheck")
LATEST_S = 0.25
"""A kill comes at most so long after its acknowledgement; the next act takes a tenth of a second."""


def environment(bytecode: Path) -> dict[str, str]:
    """This process's environment, for a program that compiles its modules once, as an installed one does."""
    kept = {**os.environ, "PYTHONPATH": str(Path(passcheck.__file__).parents[1])}
    if kept.pop("PYTHONDONTWRITEBYTECODE", ""):
        kept["PYTHONPYCACHEPREFIX"] = str(bytecode)
    return kept


def drawn(draw: Random) -> Strike:
    """A strike by lot."""
    ways: Sequence[Way] = ("KILL", "TERM", "closed terminal")
    aims: Sequence[Aim] = ("a moment", "a frame", "a write")
    (way,), (aim,) = draw.choices(ways, (6, 2, 2)), draw.choices(aims, (2, 1, 1))
    nth = draw.randint(1, 6 if aim == "a frame" else 2)
    return Strike(way, draw.randint(1, 5), aim, draw.uniform(0, LATEST_S), nth)


class ScreenKills:
    """One bench whose program never lives long."""

    def __init__(self, folder: Path, seed: int, bytecode: Path, program: Sequence[str] = PROGRAM) -> None:
        """Nothing is started yet.

        Args:
            folder: of this bench; nobody else uses it.
            seed: of what the technician does and of the strikes that are drawn.
            bytecode: where compiled modules are kept where this process may not write them beside the modules.
            program: what is killed.
        """
        self._env = environment(bytecode)
        self._draw = Random(seed)  # noqa: S311 - a simulated hand
        boards = folder / "sequences"
        boards.mkdir(parents=True)
        (boards / BOARD.name).write_bytes(BOARD.read_bytes())
        self._papers = Papers(folder / "logs", boards)
        self._remains = Remains(folder / "logs")
        self._command = (*program, "--logs", str(folder / "logs"), "--sequences", str(boards))

    def strike(self, strike: Strike | None = None) -> Tally:
        """Start the program, work until it is struck, and look at what is left; a drawn strike where none is given."""
        strike = strike or drawn(self._draw)
        tally = Tally()
        journals = [self._remains.job(path) for path in self._papers.journals()]
        gone = sum(is_seal(lines[-1]) for lines in journals)
        terminal = StruckTerminal(self._command, self._env, self._papers.files, strike)
        technician = QuickTechnician(terminal, self._papers, self._draw)
        technician.on_taking_up = lambda path: self._remains.taken_up(tally, path)
        try:
            technician.work()
        except Struck:
            tally.kills[strike.way] += 1
            tally.aims[strike.aim] += 1
            if terminal.status != ENDS_WITH[strike.way]:
                tally.unorderly.append(f"{strike.way} ended it with {terminal.status}: {terminal.last_line}")
        except Stuck as stuck:
            tally.stuck.append(f"{strike}: {stuck}")
        finally:
            terminal.close()
        if technician.shelf not in (None, (len(journals) - gone, gone)):
            tally.ahead.append(f"the shelf counted {technician.shelf}, the files {len(journals) - gone} and {gone}")
        self._remains.look(tally, terminal.seen, terminal.sizes, orderly=strike.way != "KILL")
        self._hold_to_account(tally, technician, terminal.rows)
        return tally

    def close_the_books(self) -> Tally:
        """What is found at the end of all, when every job was opened once more."""
        tally = Tally()
        self._remains.close_the_books(tally)
        return tally

    def _hold_to_account(self, tally: Tally, technician: QuickTechnician, rows: Sequence[str]) -> None:
        paths = {path.stem: path for path in self._papers.journals()}
        for job, claims in technician.claims.items():
            tally.acknowledged += len(claims)
            lines = self._remains.job(paths[job]) if job in paths else ()
            tally.lost += [f"{job}: {sentence}" for sentence in missing(claims, lines)]
        shown = next((found[1] for row in rows if (found := HEAD.match(row)) is not None), None)
        if shown is not None:
            lines = self._remains.job(paths[shown]) if shown in paths else ()
            tally.ahead += [f"{shown}: {sentence}" for sentence in ahead(rows, lines, BoardFolder.read)]

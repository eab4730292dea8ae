"""Which boards can be tested here, and which files of the folder can't be used?"""

from collections import Counter
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from passcheck.job.board import Board
from passcheck.records.disk import Disk, FileFacts
from passcheck.records.remedy import ask_disk
from passcheck.sequence.faults import SequenceFaults
from passcheck.sequence.load import check_text, digest, read_sequence, read_text
from passcheck.sequence.model import Sequence

KEPT_IN_JOURNAL = "the sequence that the journal keeps"
REMEMBERED = 64
"""Sequence texts of journals that are kept decoded; a shop has a few board types in a few revisions."""


class BoardFolder:
    """The sequence files of a folder; each is read again only when it looks different."""

    def __init__(self, folder: Path, *, disk: Disk | None = None) -> None:
        """Nothing is read yet."""
        self.folder = folder
        self._disk = disk or Disk()
        self._read: dict[Path, tuple[FileFacts, Board]] = {}

    def listed(self) -> tuple[Board, ...]:
        """Every sequence file of the folder as it is now; a faulty one says so and hides no other.

        Raises:
            BenchFailed: the folder can't be read.
        """
        names = ask_disk(lambda: self._disk.names(self.folder), self.folder)
        paths = [self.folder / name for name in names if name.endswith((".yaml", ".yml")) and not name.startswith(".")]
        self._read = {path: self._board(path, facts) for path in paths if (facts := self._facts(path)) is not None}
        return _each_name_once(tuple(board for _, board in self._read.values()))

    @staticmethod
    def read(text: str) -> Sequence:
        """The model of a sequence text that a journal keeps.

        Raises:
            FileFault: it is no sequence.
        """
        return kept_sequence(text)

    def _facts(self, path: Path) -> FileFacts | None:
        return ask_disk(lambda: self._disk.facts_behind(path), path)

    def _board(self, path: Path, facts: FileFacts) -> tuple[FileFacts, Board]:
        known = self._read.get(path)
        return known if known is not None and known[0] == facts else (facts, _board_of(path))


@lru_cache(maxsize=REMEMBERED)
def kept_sequence(text: str) -> Sequence:
    """The model of a sequence text that a journal keeps. Raises FileFault where it is none."""
    return read_sequence(text, KEPT_IN_JOURNAL)


def _board_of(path: Path) -> Board:
    try:
        text = read_text(path)
        checked = check_text(text, str(path))
        if checked.sequence is None:
            raise SequenceFaults(str(path), checked.errors)
    except SequenceFaults as faults:
        return Board(path.stem, str(path), "", "", None, str(faults))
    return Board(checked.sequence.sequence, str(path), text, digest(text), checked.sequence)


def _each_name_once(boards: tuple[Board, ...]) -> tuple[Board, ...]:
    """Boards of the same name are refused together: nobody can say which of the files a job should be made by."""
    given = Counter(board.name for board in boards if board.sequence is not None)
    return tuple(_refused(board, boards) if given[board.name] > 1 and board.sequence else board for board in boards)


def _refused(board: Board, boards: tuple[Board, ...]) -> Board:
    others = ", ".join(one.path for one in boards if one.name == board.name and one.path != board.path)
    why = f"{board.path}: the sequence '{board.name}' is also in {others}. Move one of the files away or rename it."
    return replace(board, sequence=None, faults=why)

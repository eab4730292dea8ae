"""Does every board of the folder come to hand, and does a faulty file hide no other?"""

import os
from pathlib import Path

import pytest

from passcheck.errors import FileFault
from passcheck.records.board_folder import BoardFolder
from passcheck.sequence.load import digest

TH12 = (Path(__file__).parents[2] / "sequences" / "th-12.yaml").read_text(encoding="utf-8")


def put(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_a_board_has_its_text_and_the_digest_of_that_text(tmp_path: Path) -> None:
    put(tmp_path, "th-12.yaml", TH12)
    (board,) = BoardFolder(tmp_path).listed()
    assert (board.name, board.text, board.digest, board.faults) == ("TH-12", TH12, digest(TH12), "")
    assert board.sequence is not None


def test_a_faulty_file_says_why_and_hides_no_other(tmp_path: Path) -> None:
    put(tmp_path, "th-12.yaml", TH12)
    put(tmp_path, "broken.yaml", "sequence: X\nrevision: one\n")
    put(tmp_path, "notes.txt", "no board")
    put(tmp_path, ".schema.yaml", "hidden")
    broken, good = BoardFolder(tmp_path).listed()
    assert broken.sequence is None
    assert "broken.yaml:2:11:" in broken.faults
    assert good.sequence is not None


def test_a_pipe_or_a_folder_with_a_board_s_name_is_refused_and_not_opened(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "a.yaml")
    (tmp_path / "b.yaml").mkdir()
    pipe, folder = BoardFolder(tmp_path).listed()
    assert "pipe" in pipe.faults
    assert "folder" in folder.faults


def test_two_files_of_one_name_are_both_refused(tmp_path: Path) -> None:
    put(tmp_path, "a.yaml", TH12)
    put(tmp_path, "b.yaml", TH12 + "# another\n")
    boards = BoardFolder(tmp_path).listed()
    assert [board.sequence for board in boards] == [None, None]
    assert "b.yaml" in boards[0].faults
    assert "a.yaml" in boards[1].faults


def test_a_file_is_read_again_only_when_it_looks_different(tmp_path: Path) -> None:
    path = put(tmp_path, "a.yaml", TH12)
    folder = BoardFolder(tmp_path)
    first = folder.listed()
    assert folder.listed()[0] is first[0]
    put(tmp_path, "a.yaml", TH12 + "# a word more\n")
    assert folder.listed()[0].digest != first[0].digest
    path.unlink()
    assert folder.listed() == ()


def test_no_folder_is_no_boards(tmp_path: Path) -> None:
    assert BoardFolder(tmp_path / "nowhere").listed() == ()


def test_a_journal_s_own_text_is_read_and_rubbish_is_a_fault(tmp_path: Path) -> None:
    folder = BoardFolder(tmp_path)
    assert folder.read(TH12).sequence == "TH-12"
    assert folder.read(TH12) is folder.read(TH12)
    with pytest.raises(FileFault, match="the sequence that the journal keeps"):
        folder.read("rubbish")

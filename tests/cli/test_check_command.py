"""Are all faults of all files told in one go, and is a warning no reason to fail?"""

from pathlib import Path

import pytest
from lamp_box import LAMP_BOX

from passcheck.cli.check import check
from passcheck.cli.folders import Folders


def checked(*files: str, root: Path) -> int:
    return check(files, Folders(root, root), as_json=False)


def test_a_good_file_is_named_with_its_revision(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert checked(str(LAMP_BOX), root=tmp_path) == 0
    assert capsys.readouterr().out.split("\n")[0].endswith("lamp-box.yaml: LB-1 revision 2, 5 steps; good.")


def test_a_warning_alone_is_told_and_the_status_is_good(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = LAMP_BOX.read_text(encoding="utf-8").replace(", feeds: []", "")
    (tmp_path / "lamp.yaml").write_text(text, encoding="utf-8")
    assert checked(str(tmp_path / "lamp.yaml"), root=tmp_path) == 0
    said = capsys.readouterr().out
    assert "warning: LAMP doesn't say what it feeds" in said
    assert "; 1 warning." in said


def test_every_file_is_checked_though_the_first_is_bad(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "bad.yaml").write_text("sequence: X\nrevision: one\n", encoding="utf-8")
    missing = str(tmp_path / "missing.yaml")
    assert checked(str(tmp_path / "bad.yaml"), missing, str(LAMP_BOX), root=tmp_path) == 1
    said = capsys.readouterr().out
    assert "bad.yaml:2:11: a whole number is wanted here" in said
    assert "missing.yaml:1:1: " in said
    assert "LB-1 revision 2, 5 steps; good." in said


def test_two_files_for_one_board_are_not_good(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("a.yaml", "b.yaml"):
        (tmp_path / name).write_bytes(LAMP_BOX.read_bytes())
    assert checked(root=tmp_path) == 1
    assert "LB-1 is in more than one file" in capsys.readouterr().out


def test_an_empty_folder_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert checked(root=tmp_path) == 0
    assert "no sequence files" in capsys.readouterr().out


def test_each_judged_limit_stands_beside_the_error_of_its_instrument(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    board = Path(__file__).parents[2] / "sequences" / "ov-24p.yaml"
    assert checked(str(board), root=tmp_path) == 0
    said = capsys.readouterr().out
    assert "  a06       4.85 V .. 5.15 V   voltmeter, 0.5 % + 3 digits  ± 32 mV     4.7\n" in said
    assert "  a08       at most 60 mVpp    scope, 3 % + 2 digits        ± 2.1 mVpp  one-sided\n" in said

"""Is `bench tap-check` refused in one sentence where it can't do what was asked?"""

from pathlib import Path

import pytest

from passcheck.cli.main import main


def tap_check(root: Path, *arguments: str) -> int:
    return main(["bench", "--logs", str(root / "logs"), "tap-check", *arguments])


def test_a_file_that_cannot_be_written_is_wrong_use_in_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert tap_check(tmp_path, "--json", str(tmp_path / "none" / "taps")) == 2
    said = capsys.readouterr().err
    assert "can't be written" in said
    assert said.count("\n") == 1


def test_a_folder_is_no_file_to_write_taps_to(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert tap_check(tmp_path, "--json", str(tmp_path)) == 2
    assert "can't be written" in capsys.readouterr().err


def test_a_file_without_a_name_is_wrong_use(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert tap_check(tmp_path, "--json") == 2
    assert "expected one argument" in capsys.readouterr().err


def test_without_a_terminal_it_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert tap_check(tmp_path) == 2
    assert "need a terminal" in capsys.readouterr().err


def test_a_slip_in_the_name_of_the_act_names_the_one_that_was_meant(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["bench", "--logs", str(tmp_path / "logs"), "tap-chek"]) == 2
    assert "Did you mean 'tap-check'?" in capsys.readouterr().err

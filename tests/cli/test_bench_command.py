"""Are people, instruments, due dates and PINs changed as asked, and is nothing changed by a slip?"""

import io
from pathlib import Path

import pytest

from passcheck.cli.folders import Folders
from passcheck.cli.main import main
from passcheck.cli.wire import bench_files
from passcheck.job.pin import pin_matches
from passcheck.job.settings import BenchSettings


def bench(root: Path, *arguments: str) -> int:
    return main(["bench", "--logs", str(root / "logs"), *arguments])


def settings(root: Path) -> BenchSettings:
    return bench_files(Folders(root / "logs", root)).read()


def typed(monkeypatch: pytest.MonkeyPatch, *lines: str) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))


def test_a_person_is_entered_and_the_first_act_says_that_it_made_the_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert bench(tmp_path, "add-person", "k7", "Bench lead", "--role", "lead", "--hazardous-live") == 0
    assert "was written with examples" in capsys.readouterr().err
    assert settings(tmp_path).people["k7"].hazardous_live
    assert bench(tmp_path, "add-person", "k7", "Another") == 1
    assert "already among the people" in capsys.readouterr().err


def test_an_instrument_is_entered_with_all_its_roles(tmp_path: Path) -> None:
    roles = ["--fills", "voltmeter=0.05 % + 2 digits", "--fills", "ohmmeter=0.1 % + 2 digits"]
    assert bench(tmp_path, "add-instrument", "M7", "Bench meter", "--due", "2033-01-31", *roles) == 0
    entered = settings(tmp_path).instruments["M7"]
    assert sorted(entered.fills) == ["ohmmeter", "voltmeter"]
    assert entered.due.isoformat() == "2033-01-31"


def test_an_accuracy_that_says_nothing_is_refused_and_the_file_stays(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert bench(tmp_path, "add-instrument", "M7", "Meter", "--due", "2033-01-31", "--fills", "voltmeter=good") == 1
    assert "stays as it was" in capsys.readouterr().err
    assert "M7" not in settings(tmp_path).instruments


def test_a_calibration_moves_the_due_date(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert bench(tmp_path, "new-due", "M1", "2001-01-01") == 0
    assert bench(tmp_path, "show") == 0
    overdue = [line for line in capsys.readouterr().out.splitlines() if "overdue" in line]
    assert [line.split()[0] for line in overdue] == ["M1"]


def test_a_pin_is_set_when_it_was_typed_twice(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    typed(monkeypatch, "2580", "2580")
    assert bench(tmp_path, "pin", "t1") == 0
    assert pin_matches(settings(tmp_path).pin_hashes["t1"], "2580")


@pytest.mark.parametrize("lines", [("2580", "2581"), ("12", "12"), ()])
def test_a_slip_sets_no_pin(lines: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    typed(monkeypatch, *lines)
    assert bench(tmp_path, "pin", "t1") == 1
    assert not settings(tmp_path).pin_hashes


def test_who_has_a_pin_gives_it_before_a_new_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    typed(monkeypatch, "2580", "2580")
    bench(tmp_path, "pin", "t1")
    typed(monkeypatch, "0000", "1111", "1111")
    assert bench(tmp_path, "pin", "t1") == 1
    typed(monkeypatch, "2580", "1111", "1111")
    assert bench(tmp_path, "pin", "t1") == 0
    assert pin_matches(settings(tmp_path).pin_hashes["t1"], "1111")


def test_nobody_gets_a_pin_who_is_not_of_the_bench(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert bench(tmp_path, "pin", "zz") == 1
    assert "'zz' is not among the people" in capsys.readouterr().err

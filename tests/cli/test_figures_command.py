"""Are the figures printed as they are, and is it said what there is where something else was asked for?"""

import json
from datetime import date
from pathlib import Path

import pytest
from counted import COUNTED, NOTHING, PANEL, CountedArchive
from rig import Rig, settings

from passcheck.cli.arguments import parser
from passcheck.cli.figures import show_figures
from passcheck.cli.main import main
from passcheck.errors import BenchFailed
from passcheck.job.figures import NAMES
from passcheck.job.settings import BenchSettings


def given(*arguments: str, archive: CountedArchive | None = None, bench: BenchSettings | None = None) -> int:
    asked = parser("").parse_args(["figures", *arguments])
    return show_figures(Rig(settings_now=bench).shop, asked, archive or CountedArchive())


def test_all_figures_fit_eighty_columns(capsys: pytest.CaptureFixture[str]) -> None:
    assert given("--until", "2032-04-02") == 0
    said = capsys.readouterr().out
    assert max(map(len, said.splitlines())) <= 80
    assert said.startswith("FIGURES of all boards: 15 jobs, 5204 attempts\n")
    for name in NAMES:
        assert f"\n{name.upper()}   " in said
    assert "  OV-24P      7 of 9 (45 to 94 %)" in said


def test_one_board_and_one_figure(capsys: pytest.CaptureFixture[str]) -> None:
    archive = CountedArchive()
    assert given("ov-24p", "--only", "failing", archive=archive) == 0
    said = capsys.readouterr().out
    assert said.startswith("FIGURES of OV-24P: 14 jobs")
    assert "FAILING   Which steps fail?" in said
    assert "RETURNS" not in said
    assert archive.asked[-1][0] == PANEL


def test_a_board_without_jobs_is_told_which_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    assert given("XY-9\x1b[2J") == 2
    said = capsys.readouterr().err
    assert "There are jobs of: OV-24P, TH-12." in said
    assert "\x1b" not in said
    assert given("XY-9", archive=CountedArchive(NOTHING)) == 2
    assert "There is no job yet." in capsys.readouterr().err


def test_a_figure_that_isn_t_one_is_told_which_there_are(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--logs", str(tmp_path), "figures", "--only", "profit"]) == 2
    assert "There are: first-try, failing, blocks," in capsys.readouterr().err


def test_a_spreadsheet_takes_one_table_with_all_its_rows(capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    assert given("--csv") == 2
    assert b"--only NAME" in capsysbinary.readouterr().err
    assert given("--csv", "--only", "time") == 0
    table = capsysbinary.readouterr().out.decode("utf-8-sig")
    assert table.splitlines()[:2] == [
        'BOARD,STEP,ATTEMPTS,"MEDIAN, s","9 OF 10 WITHIN, s"',
        "OV-24P,Fuel marks,10,95,120",
    ]


def test_units_are_followed_up_to_today_by_the_bench_s_clock(capsys: pytest.CaptureFixture[str]) -> None:
    assert given("--json", "--only", "returns") == 0
    assert json.loads(capsys.readouterr().out)["until"] == "2031-04-02"


def test_the_instruments_found_out_of_tolerance_are_handed_to_the_archive() -> None:
    meter = {"title": "Hand meter", "due": date(2031, 12, 1), "fills": {"voltmeter": "1 %"}}
    members = {"M2": {**meter, "doubtful_since": date(2031, 11, 1)}, "M3": meter}
    archive = CountedArchive()
    given("--only", "review", archive=archive, bench=settings(instruments=members))
    assert {key: str(day) for key, day in archive.asked[0][1].items()} == {"M2": "2031-11-01"}


def test_journals_that_can_t_be_read_are_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert given("--only", "months", archive=CountedArchive(COUNTED, left_out=("A31-0007",))) == 0
    assert capsys.readouterr().err == (
        "A31-0007 is left out: its journal can't be read. 'passcheck verify A31-0007' says what is wrong.\n"
    )


def test_a_disk_that_refuses_and_a_shop_without_an_archive_are_said() -> None:
    with pytest.raises(BenchFailed, match="No room"):
        given(archive=CountedArchive(fault="No room left on the disk."))
    with pytest.raises(BenchFailed, match="no archive"):
        show_figures(Rig().shop, parser("").parse_args(["figures"]), None)

"""`passcheck history`: a unit's visits in words and for programs, and words found in notes and complaints."""

import argparse
import json
import os
from pathlib import Path

import pytest
from rig import Rig
from unit_visits import HeldArchive, told_unit

from passcheck.bench.shop import Shop
from passcheck.cli.history import history
from passcheck.cli.main import main
from passcheck.errors import BenchFailed
from passcheck.sequence.faults import cells

SAMPLES = Path(__file__).parents[1] / "samples" / "json"


def assert_as_kept(name: str, printed: str) -> None:
    path = SAMPLES / f"{name}.json"
    if os.environ.get("PASSCHECK_WRITE_SAMPLES"):
        path.write_text(printed, encoding="utf-8")
    assert json.loads(printed)["format"] == 1
    assert printed.isascii()
    assert printed == path.read_text(encoding="utf-8")


def asked(serial: str | None = None, search: list[str] | None = None, *, as_json: bool = False) -> argparse.Namespace:
    return argparse.Namespace(serial=serial, search=search, json=as_json)


def bench_with(archive: HeldArchive | None) -> Rig:
    rig = Rig()
    rig.shop.archive = archive
    rig.clock.pass_time(minutes=13 * 24 * 60)  # three days after the third arrival
    return rig


def told(shop: Shop, what: argparse.Namespace) -> int:
    return history(shop, what, shop.archive)


def test_every_visit_stands_there_with_what_was_touched_and_what_reads_otherwise(
    capsys: pytest.CaptureFixture[str],
) -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    assert told(rig.shop, asked("7q22051")) == 0
    said = capsys.readouterr().out
    words = " ".join(said.split())
    for piece in (
        "UNIT 7Q22051 OV-24P rev 3",
        "3rd visit, here for 3 days. Last released 2031-03-02 (A31-0392), back after 41 days.",
        "Touched then: BEEP, LAMP, PWR.",
        "1ST VISIT A30-0211 2030-12-05 to 2030-12-20, signed off",
        "touched: PWR (rework 1, 2)",
        "back after 61 days",
        "other block: BEEP, LAMP; at the visit before PWR was reworked",
        "sequence revision 2 then, 3 now",
        "touched: PWR (incident 1), BEEP (rework 1), LAMP (rework 2)",
        "3rd visit, as found: FAIL 4.81 V, margin -27 %, 2031-04-12 t1 M4",
        "since it left: changed by -0.21 V ± 0.06 V; read with M1, now with M4",
        "since it left: no change beyond what these readings can tell (± 0.06 V)",
        "higher at each of 2 returns that can be compared, each time by more than these readings can tell",
        "an instrument may have been adjusted between them",
        "reason (2031-03-02 t1): LS1 open, Kälte said the owner",
    ):
        assert piece in words
    assert max(map(cells, said.splitlines())) <= 80


def test_what_people_wrote_acts_on_no_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    assert told(rig.shop, asked("7Q22051")) == 0
    said = capsys.readouterr().out
    assert "\x1b" not in said
    assert "[red]panel[/red] is ␛[31mdark" in said


def test_the_listing_for_programs_stays_as_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    assert told(rig.shop, asked("7Q22051", as_json=True)) == 0
    assert_as_kept("history", capsys.readouterr().out)


def test_a_find_for_programs_stays_as_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    assert told(rig.shop, asked(search=["needle"], as_json=True)) == 0
    assert_as_kept("history-search", capsys.readouterr().out)


def test_an_unknown_serial_is_a_sentence_and_status_1(capsys: pytest.CaptureFixture[str]) -> None:
    assert told(bench_with(HeldArchive()).shop, asked("7Q22099")) == 1
    heard = capsys.readouterr()
    assert heard.out == ""
    assert heard.err.startswith("7Q22099: no visit of this unit is on record.")


async def test_found_words_come_with_job_unit_and_time_the_latest_first(capsys: pytest.CaptureFixture[str]) -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    bench = await rig.job()
    (row,) = [one for one in told_unit() if one.job.job == "A30-0211"]
    assert bench.job.id == "A31-0001"
    assert told(rig.shop, asked(search=["KALTE", "LS1"])) == 0
    assert capsys.readouterr().out == (
        "A31-0392  unit 7Q22051  2031-03-02 08:00 UTC\n reason (2031-03-02 t1): LS1 open, Kälte said the owner\n"
    )
    assert told(rig.shop, asked(search=["bulged"])) == 0
    assert "note (2030-12-20 t1, ripple-5v): C1 bulged" in capsys.readouterr().out
    assert row.said[1].step == "ripple-5v"


def test_words_that_nobody_wrote_are_told_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert told(bench_with(HeldArchive(*told_unit())).shop, asked(search=['"fuel', "OR", "beeper"])) == 0
    assert capsys.readouterr().out == 'Nobody wrote all of these words: "fuel OR beeper\n'


@pytest.mark.parametrize("given", [asked(), asked("7Q22051", ["fuel"]), asked(search=[" "])])
def test_a_serial_or_words_but_not_both(given: argparse.Namespace, capsys: pytest.CaptureFixture[str]) -> None:
    assert told(bench_with(HeldArchive()).shop, given) == 2
    assert "write a serial, or --search and words, and not both" in capsys.readouterr().err


def test_jobs_that_could_not_be_read_are_named(capsys: pytest.CaptureFixture[str]) -> None:
    rig = bench_with(HeldArchive(*told_unit(), unread=("A31-0009",)))
    assert told(rig.shop, asked("7Q22051")) == 0
    assert "Left out, because they can't be read: A31-0009." in capsys.readouterr().err


@pytest.mark.parametrize("archive", [None, HeldArchive(fault="No rights to read the archive.")])
def test_an_archive_that_is_missing_or_fails_is_the_bench_s_fault(archive: HeldArchive | None) -> None:
    with pytest.raises(BenchFailed):
        told(bench_with(archive).shop, asked("7Q22051"))


def test_the_command_line_knows_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--logs", str(tmp_path), "history"]) == 2
    assert "write a serial" in capsys.readouterr().err


def test_practice_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    rig.shop.practice = True
    assert told(rig.shop, asked("7Q22051")) == 0
    assert capsys.readouterr().out.startswith("PRACTICE")
    assert told(rig.shop, asked("7Q22051", as_json=True)) == 0
    assert json.loads(capsys.readouterr().out)["practice"] is True

"""Is it told what became of so many simulated units, in words and for other programs?"""

import json
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from lamp_box import folders

from passcheck.bench.bench import Bench
from passcheck.cli.folders import Folders, practice_folders
from passcheck.cli.main import main
from passcheck.cli.practice_auto import KeptWorkshop, practice_auto, workshop_on
from passcheck.errors import FileFault
from passcheck.job.arrival import Arrive
from passcheck.practice.auto import totals, visits
from passcheck.practice.clock import SteppedClock
from passcheck.practice.fault import NATURES
from passcheck.practice.technician import ENDS
from passcheck.practice.visit import START, WORKS

JOBS = 10


@pytest.fixture
def here(tmp_path: Path) -> Folders:
    """A folder whose only board is the lamp box."""
    return folders(tmp_path)


def told(capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """What was printed for other programs."""
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_ten_units_are_told_in_words(here: Folders, capsys: pytest.CaptureFixture[str]) -> None:
    assert practice_auto(here, JOBS, 3, as_json=False) == 0
    said = capsys.readouterr()
    lines = said.out.splitlines()
    assert lines[0] == "10 simulated units of 1 boards, repaired by a robot technician (seed 3)."
    assert lines[2].split() == ["THE", "UNIT", "WAS", "GOOD", "FAULTY", "ALL"]
    rows = [line.rsplit(maxsplit=3) for line in lines[3 : 3 + len(ENDS)]]
    assert [row[0] for row in rows] == [
        "released",
        "given back unrepaired",
        "given back undecided",
        "left on the shelf",
    ]
    assert sum(int(row[3]) for row in rows) == JOBS
    assert all(int(row[1]) + int(row[2]) == int(row[3]) for row in rows)
    assert lines[-1] == "Simulated units say how the rules work, and nothing about a real one."
    assert said.err == ""


def test_ten_units_are_told_to_other_programs(here: Folders, capsys: pytest.CaptureFixture[str]) -> None:
    assert practice_auto(here, JOBS, 3, as_json=True) == 0
    printed = told(capsys)
    assert set(printed) == {"format", "practice", "totals"}
    assert [one["number"] for one in printed["practice"]] == list(range(1, JOBS + 1))
    assert {one["board"] for one in printed["practice"]} == {"LB-1"}
    assert {one["ended"] for one in printed["practice"]} <= set(ENDS)
    ends = printed["totals"]["ended"]
    assert set(ends) == {ended.replace(" ", "_") for ended in ENDS}
    assert sum(end["good"] + end["faulty"] for end in ends.values()) == printed["totals"]["visits"] == JOBS
    for name in ("slips", "signatures_refused"):
        assert printed["totals"][name] == sum(one[name] for one in printed["practice"])


def test_the_same_seed_prints_the_same_bytes_and_words_tell_what_the_object_holds(
    here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    first, again, words = (
        (practice_auto(here, JOBS, 4, as_json=as_json), capsys.readouterr().out)[1] for as_json in (True, True, False)
    )
    assert first == again
    summed = json.loads(first)["totals"]
    assert f"Entries typed wrong: {summed['slips']}, of them not kept: {summed['slips_not_kept']}." in words
    assert f"Signatures refused: {summed['signatures_refused']}." in words


def test_what_still_stands_in_a_unit_is_told_with_its_nature(here: Folders) -> None:
    workshop = workshop_on(here)
    every = tuple(visits(workshop, 3, range(1, 31), 1))
    summed = totals(every)
    for one in summed.escaped:
        assert one.told.still
        assert {nature for _name, nature in one.told.still} <= set(NATURES)


def test_a_folder_with_a_faulty_sequence_says_so_and_goes_on(here: Folders, capsys: pytest.CaptureFixture[str]) -> None:
    (here.sequences / "torn.yaml").write_text("sequence: [", encoding="utf-8")
    assert practice_auto(here, 2, 3, as_json=True) == 0
    said = capsys.readouterr()
    assert json.loads(said.out)["totals"]["visits"] == 2
    assert "torn.yaml is left out: " in said.err


def test_a_folder_without_a_usable_sequence_is_one_sentence_and_status_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    nothing = Folders(tmp_path / "logs", tmp_path / "boards")
    nothing.sequences.mkdir()
    (nothing.sequences / "torn.yaml").write_text("sequence: [", encoding="utf-8")
    with pytest.raises(FileFault, match="no sequence here can be used"):
        practice_auto(nothing, 2, 3, as_json=False)
    capsys.readouterr()
    assert main(["practice", "--auto", "--jobs", "2", "--sequences", str(nothing.sequences)]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert (
        said.err.splitlines()[-1] == f"{nothing.sequences}: no sequence here can be used. 'passcheck check' says why."
    )
    assert "Traceback" not in said.err


def test_kept_journals_tell_the_visits_that_were_printed(here: Folders, capsys: pytest.CaptureFixture[str]) -> None:
    assert practice_auto(here, 2, 3, as_json=True) == 0
    in_memory = told(capsys)
    assert practice_auto(here, 2, 3, as_json=True, keep=True) == 0
    assert told(capsys)["practice"] == in_memory["practice"]
    kept = list((practice_folders(here).logs / "jobs").rglob("*.jsonl"))
    assert len(kept) == 2
    assert not (here.logs / "jobs").exists()


async def test_a_kept_bench_s_latency_is_as_fresh_at_its_hundredth_visit_as_at_its_first(here: Folders) -> None:
    plain = workshop_on(here)
    workshop = KeptWorkshop(plain.boards, plain.faults, plain.settings, here)
    (board,) = workshop.boards.listed()
    for number, serial in ((1, "4C00001"), (200, "4C00002")):
        start = workshop.start_of(number)
        assert start == START + timedelta(days=number)
        shop = workshop.shop(SteppedClock(start), lambda: 0.5)
        bench = await shop.arrive(Arrive(WORKS, board.name, serial, "dark", "seal whole"))
        assert isinstance(bench, Bench), bench
        assert bench.outside().latency_at(bench.moment()).said == ""
        await shop.close()

"""Do the commands say of a job what its journal says?"""

import asyncio
import json
from pathlib import Path

import pytest
from lamp_box import JOB, lamp_box_job

from passcheck.bench.bench import Done
from passcheck.cli.blockers import blockers
from passcheck.cli.jobs import jobs
from passcheck.cli.plan import plan
from passcheck.cli.show import show
from passcheck.job import commands, gate


def test_the_shelf_s_line_names_unit_board_and_what_it_waits_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop, _ = lamp_box_job(tmp_path)
    assert jobs(shop, as_json=False) == 0
    head, line = capsys.readouterr().out.splitlines()
    assert head.split()[:3] == ["JOB", "UNIT", "BOARD"]
    assert line.split()[:5] == [JOB, "7Q22051", "LB-1", "rev", "2"]
    assert line.endswith("Lamp stays dark")


def test_the_card_shows_every_attempt_and_strikes_the_stale_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop, _ = lamp_box_job(tmp_path)
    assert show(shop, JOB.lower(), as_json=False) == 0
    said = capsys.readouterr().out
    assert "(FAIL 3.2 Ω t1) rework 1" in said
    assert "PASS 0.20 Ω t1" in said
    assert "note: tarnished" in said
    assert "photo: photos/holder.jpg" in said
    assert said.count(" UTC  as-found  ") == 2
    assert said.count(" UTC  acceptance  ") == 1


def test_under_the_attempts_stand_before_and_after_with_the_change(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop, _ = lamp_box_job(tmp_path)
    assert show(shop, JOB, as_json=False) == 0
    said = capsys.readouterr().out.splitlines()
    at = next(number for number, line in enumerate(said) if line.startswith("BEFORE AND AFTER"))
    assert said[at + 1 : at + 6] == [
        " F1 in circuit",
        "   as found: FAIL 3.2 Ω  (attempt 2)",
        "   as left: PASS 0.20 Ω  (attempt 3)",
        "   changed by -3.0 Ω ± 0.2 Ω",
        "",
    ]


def test_work_proposals_agreements_and_what_is_to_be_put_back_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop, _ = lamp_box_job(tmp_path)

    async def go_on() -> None:
        bench = await shop.open(JOB, "t1")
        for command in (
            commands.CloseRun("t1"),
            commands.Propose("t1", ("[b]fuse holder renewed[/b]", "F1 renewed")),
            commands.AgreeOwner("t1", "the fuse holder only", "Ms Orme, by telephone"),
            commands.LogRework("t1", ("PWR",), ("F1",), "leg lifted", "is the track open?", repair=True),
        ):
            done = await bench.do(command)
            assert isinstance(done, Done), done
        await shop.close()

    asyncio.run(go_on())
    assert show(shop, JOB, as_json=False) == 0
    said = capsys.readouterr().out
    assert "rework 2: a repair, not as drawn." in said
    assert "the fuse holder only (Ms Orme, by telephone)" in said
    assert "PROPOSED TO THE OWNER" in said
    assert "- [b]fuse holder renewed[/b]\n   - F1 renewed\n" in said
    assert "rework 1: cleaned F1 (PWR). tarnished contacts" in said
    assert "F1: a leg was lifted (rework 2) and has to be soldered back" in said
    assert show(shop, JOB, as_json=True) == 0
    (item,) = json.loads(capsys.readouterr().out)["show"]
    assert [(one["rework"], one["repair"]) for one in item["reworks"]] == [(1, False), (2, True)]
    assert [one["lines"] for one in item["proposed"]] == [["[b]fuse holder renewed[/b]", "F1 renewed"]]
    assert item["agreed"][0]["who"] == "Ms Orme, by telephone"
    assert [one["change"] for one in item["put_back"]] == ["rework 2"]


def test_the_plan_leaves_out_what_passes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shop, _ = lamp_box_job(tmp_path)
    assert plan(shop, JOB, as_json=False) == 0
    said = capsys.readouterr().out
    assert "power-up" in said
    assert "fuse" not in said


def test_the_blockers_are_the_gate_s_own_sentences(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shop, _ = lamp_box_job(tmp_path)
    job = shop.look(JOB)
    wanted = gate.blockers(job, shop.outside(job), shop.clock())
    assert blockers(shop, JOB, as_json=False) == 1
    said = capsys.readouterr().out.splitlines()
    assert said[0::2] == [blocker.sentence for blocker in wanted]
    assert [line.strip() for line in said[1::2]] == [blocker.lift for blocker in wanted]


def test_a_job_whose_journal_was_altered_stays_on_the_list_and_is_refused_elsewhere(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop, where = lamp_box_job(tmp_path)
    journal = where.logs / "jobs" / "2031" / f"{JOB}.jsonl"
    journal.write_bytes(journal.read_bytes().replace(b"3.2", b"0.2", 1))
    assert jobs(shop, as_json=False) == 0
    assert "damaged" in capsys.readouterr().out

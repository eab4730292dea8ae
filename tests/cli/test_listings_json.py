"""Do other programs get the same listings as last time?

`PASSCHECK_WRITE_SAMPLES=1 python -m pytest tests/cli/test_listings_json.py` writes them anew after a wanted change.
"""

import json
import os
from pathlib import Path

import pytest
from counted import UNTIL, CountedArchive
from lamp_box import JOB, folders, lamp_box_job
from rig import START, Rig
from standings import every_standing

from passcheck.cli.arguments import parser
from passcheck.cli.bench_show import show_bench
from passcheck.cli.blockers import blockers
from passcheck.cli.check import check
from passcheck.cli.figures import show_figures
from passcheck.cli.folders import Folders
from passcheck.cli.jobs import jobs
from passcheck.cli.plan import plan
from passcheck.cli.show import show
from passcheck.cli.verify import verify

SAMPLES = Path(__file__).parents[1] / "samples" / "json"
FAULTY = "sequence: LB-2\nrevision: two\ntitle: Lamp box\nsupplies: {}\nblocks: {}\nstepps: []\n"


def assert_as_kept(name: str, printed: str) -> None:
    path = SAMPLES / f"{name}.json"
    if os.environ.get("PASSCHECK_WRITE_SAMPLES"):
        path.write_text(printed, encoding="utf-8")
    assert json.loads(printed)["format"] == 1
    assert printed.isascii()
    assert printed == path.read_text(encoding="utf-8")


@pytest.mark.parametrize("command", ["jobs", "show", "plan", "blockers", "bench"])
def test_a_listing_for_programs_stays_as_it_is(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop, _ = lamp_box_job(tmp_path)
    status = {
        "jobs": lambda: jobs(shop, as_json=True),
        "show": lambda: show(shop, JOB, as_json=True),
        "plan": lambda: plan(shop, JOB, as_json=True),
        "blockers": lambda: blockers(shop, JOB, as_json=True),
        "bench": lambda: show_bench(shop.settings(), START.date(), as_json=True),
    }[command]()
    assert status == (1 if command == "blockers" else 0)
    assert_as_kept(command, capsys.readouterr().out)


def test_the_faults_of_a_file_for_programs_stay_as_they_are(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "faulty.yaml").write_text(FAULTY, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert check(["faulty.yaml"], Folders(tmp_path, tmp_path), as_json=True) == 1
    assert_as_kept("check", capsys.readouterr().out)


def test_the_figures_for_programs_stay_as_they_are(capsys: pytest.CaptureFixture[str]) -> None:
    asked = parser("").parse_args(["figures", "--json", "--until", UNTIL])
    assert show_figures(Rig().shop, asked, CountedArchive()) == 0
    assert_as_kept("figures", capsys.readouterr().out)


def test_how_records_stand_for_programs_stays_as_it_is(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    every_standing(tmp_path / "logs")
    assert verify((), folders(tmp_path), practice=False, as_json=True) == 13
    assert_as_kept("verify", capsys.readouterr().out)

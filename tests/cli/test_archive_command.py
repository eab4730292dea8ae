"""Does the command say how the archive stands, and see to it?"""

import csv
import json
import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import fields
from pathlib import Path

import pytest
from archive_shop import STORIES, ArchiveShop, contents

from passcheck.cli.main import main
from passcheck.job.archive_rows import TABLES

ROOT = Path(__file__).parents[2]
JOB = "A31-0001"
STARTS = (
    "from passcheck.cli.main import main; main(['--version'])",
    "from passcheck.cli.main import main; main(['jobs'])",
    "import passcheck.app.start, passcheck.cli.shelf",
)


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ArchiveShop:
    """The folder one stands in, with two jobs in its records."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("PASSCHECK_LOGS", raising=False)
    monkeypatch.delenv("PASSCHECK_SEQUENCES", raising=False)
    shop = ArchiveShop(tmp_path / "logs")
    shop.whole_job()
    shop.goes_on(shop.begins(STORIES[1]), 5)
    return shop


def printed(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    status = main(["archive", *arguments])
    told = capsys.readouterr()
    return status, told.out, told.err


def listed(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, dict[str, object]]:
    status, out, _err = printed(capsys, *arguments, "--json")
    told = json.loads(out)
    assert (list(told)[:2], told["format"]) == (["format", "archive"], 1)
    (item,) = told["archive"]
    return status, item


def test_it_says_how_it_stands_before_and_after_it_was_made(
    shop: ArchiveShop, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "catch-up' makes it from 2 journals" in printed(capsys)[1]
    assert printed(capsys, "catch-up")[:2] == (0, "Made anew from 2 journals.\n")
    assert printed(capsys, "catch-up")[:2] == (0, "Nothing has changed since last time.\n")
    shop.goes_on("A31-0002", 1)
    status, item = listed(capsys)
    assert (status, item["jobs"], item["behind"], item["unread"], item["unusable"]) == (0, 2, 1, [], None)
    assert printed(capsys, "catch-up")[1] == "Taken in: 1 journal.\n"
    assert printed(capsys, "rebuild")[:2] == (0, "Made anew from 2 journals.\n")


def test_a_bench_without_jobs_has_nothing_to_see_to(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert printed(capsys)[:2] == (0, "No jobs yet.\n")
    assert not (tmp_path / "logs").exists()


def test_a_journal_that_can_t_be_believed_is_named_and_makes_the_exit_status_1(
    shop: ArchiveShop, capsys: pytest.CaptureFixture[str]
) -> None:
    shop.alter(JOB)
    status, _out, err = printed(capsys, "catch-up")
    assert status == 1
    assert f"Left out: {JOB}.jsonl, line 1" in err
    status, item = listed(capsys)
    assert (status, item["jobs"], [one["job"] for one in item["unread"]]) == (1, 1, [JOB])  # type: ignore[attr-defined]
    assert listed(capsys, "rebuild")[0] == 1
    shop.take_away(JOB)
    status, out, err = printed(capsys, "catch-up")
    assert (status, out) == (0, "Taken in: 0 journals.\n")
    assert f"{JOB}: its journal is gone" in err


def test_what_is_no_archive_is_told(shop: ArchiveShop, capsys: pytest.CaptureFixture[str]) -> None:
    shop.archive().path.write_bytes(b"somebody's notes, and a long line of them at that")
    status, _out, err = printed(capsys)
    assert (status, "not a database" in err) == (1, True)
    status, out, err = printed(capsys, "catch-up")
    assert (status, out) == (0, "Made anew from 2 journals.\n")
    assert "is archive.sqlite.set-aside now" in err


def test_a_check_tells_what_differs(shop: ArchiveShop, capsys: pytest.CaptureFixture[str]) -> None:
    assert printed(capsys, "check")[0] == 1
    main(["archive", "catch-up"])
    capsys.readouterr()
    assert printed(capsys, "check")[:2] == (0, "2 journals compared, and every row agrees.\n")
    with closing(sqlite3.connect(shop.archive().path)) as connection:
        connection.execute("UPDATE job SET serial = 'another' WHERE job = ?", (JOB,))
        connection.commit()
    status, item = listed(capsys, "check")
    told = [f"{JOB}, table job: 1 row is otherwise than the journal says."]
    assert (status, item["compared"], item["differences"]) == (1, 2, told)
    assert main(["archive", "check"]) == 1


def test_every_table_leaves_as_a_file_and_never_among_the_records(
    shop: ArchiveShop, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "out" / "tables"
    status, item = listed(capsys, "export", str(folder))
    assert (status, [one["file"] for one in item["files"]]) == (0, [f"{name}.csv" for name in TABLES])  # type: ignore[attr-defined]
    kept = contents(shop.archive().path)
    for name, kind in TABLES.items():
        with (folder / f"{name}.csv").open(encoding="utf-8-sig", newline="") as file:
            heads, *rows = csv.reader(file)
        assert tuple(heads) == tuple(one.name for one in fields(kind))
        assert len(rows) == len(kept[name])
    assert sorted(path.name for path in folder.iterdir()) == sorted(f"{name}.csv" for name in TABLES)
    assert printed(capsys, "export", str(shop.root / "tables"))[0] == 1
    assert not (shop.root / "tables").exists()


def test_practice_has_an_archive_of_its_own(shop: ArchiveShop, capsys: pytest.CaptureFixture[str]) -> None:
    ArchiveShop(shop.root, practice=True).begins()
    status, out, _err = printed(capsys, "catch-up", "--practice")
    assert (status, out.splitlines()[0][:8], out.splitlines()[1]) == (0, "PRACTICE", "Made anew from 1 journal.")
    assert listed(capsys, "--practice")[1]["jobs"] == 1
    assert not shop.archive().path.exists()


@pytest.mark.parametrize("program", STARTS)
def test_no_start_loads_a_database(program: str, tmp_path: Path) -> None:
    checked = f"import sys\ntry:\n    {program}\nexcept SystemExit: pass\nassert 'sqlite3' not in sys.modules"
    done = subprocess.run(
        [sys.executable, "-c", checked],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": str(ROOT), "PATH": ""},
    )
    assert done.returncode == 0, done.stderr

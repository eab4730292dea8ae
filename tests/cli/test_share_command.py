"""`passcheck archive publish`, and history and figures over what several benches published."""

from pathlib import Path

import psycopg
import pytest
from postgres_server import PostgresServer
from sample_rig import FiledRig

from passcheck.cli.main import main
from passcheck.cli.publisher import Publisher
from passcheck.job.commands import MapComplaint, ReturnUnrepaired
from passcheck.records.archive_intake import Rows
from passcheck.records.shared_archive import SharedArchive

BOARD = (Path(__file__).parents[1] / "samples" / "lamp-box.yaml").read_text(encoding="utf-8")
BENCH = """\
letter: {letter}
people: {{t1: {{name: First technician}}}}
instruments: {{}}
known_source: {{title: 9 V battery, limits: 8.5 V .. 9.8 V}}
"""


@pytest.fixture
def shared(postgres_server: PostgresServer, monkeypatch: pytest.MonkeyPatch) -> str:
    """An empty shared archive, as the environment names it to every bench."""
    with psycopg.connect(postgres_server.where, autocommit=True) as connection:
        connection.execute("DROP SCHEMA IF EXISTS passcheck CASCADE")
    monkeypatch.setenv("PASSCHECK_SHARED_ARCHIVE", postgres_server.where)
    return postgres_server.where


async def bench_of(folder: Path, letter: str) -> str:
    """A bench with one unit that went back as it came; the same unit was at every bench."""
    rig = FiledRig(folder, BOARD, letter=letter)
    bench = await rig.job(serial="7Q22051", complaint=f"Dark since Monday, {letter}")
    await rig.do(bench, MapComplaint("t1", ()), ReturnUnrepaired("t1", "not worth it"))
    await rig.leave()
    (folder / "bench.yaml").write_text(BENCH.format(letter=letter), encoding="utf-8")
    return str(folder)


async def test_what_two_benches_published_is_told_at_either(
    shared: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    benches = [await bench_of(tmp_path / letter, letter) for letter in "AB"]
    for logs in benches:
        assert main(["--logs", logs, "archive", "publish"]) == 0
        assert capsys.readouterr().out == "Published: 1 job; there already: no job.\n"
    assert main(["--logs", benches[0], "archive", "publish", "--json"]) == 0
    assert '"there_already": 1' in capsys.readouterr().out
    assert main(["--logs", benches[0], "history", "7Q22051"]) == 0
    assert "B31-0001" not in capsys.readouterr().out
    assert main(["--logs", benches[0], "history", "7Q22051", "--shared"]) == 0
    told = capsys.readouterr().out
    assert "A31-0001" in told
    assert "B31-0001" in told
    assert main(["--logs", benches[0], "history", "--shared", "--search", "monday", "b"]) == 0
    assert "B31-0001" in capsys.readouterr().out
    assert main(["--logs", benches[0], "figures", "--shared", "--only", "months"]) == 0
    assert "2" in capsys.readouterr().out
    assert main(["--logs", benches[0], "archive", "check", "--shared"]) == 0
    assert main(["--logs", benches[0], "archive", "rebuild", "--shared"]) == 0
    assert "2 journals" in capsys.readouterr().out
    del shared


async def test_a_changed_row_is_told_with_status_1(
    shared: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    logs = await bench_of(tmp_path, "A")
    main(["--logs", logs, "archive", "publish"])
    with psycopg.connect(shared, autocommit=True) as connection:
        connection.execute("UPDATE passcheck.job SET serial = '7Q99999'")
    assert main(["--logs", logs, "archive", "check", "--shared"]) == 1
    assert "A31-0001: its rows in 'job'" in capsys.readouterr().err


async def test_without_a_shared_archive_it_says_how_to_name_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("PASSCHECK_SHARED_ARCHIVE", raising=False)
    logs = await bench_of(tmp_path, "A")
    for asked in (["archive", "publish"], ["history", "7Q22051", "--shared"], ["archive", "check", "--shared"]):
        assert main(["--logs", logs, *asked]) == 1
        assert "shared_archive:" in capsys.readouterr().err


def no_rows(_journal: bytes) -> Rows:
    return ()


async def test_while_it_is_away_the_bench_is_told_in_one_sentence_and_goes_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    nowhere = f"host={tmp_path} user=nobody dbname=none"
    logs = await bench_of(tmp_path, "A")
    monkeypatch.setenv("PASSCHECK_SHARED_ARCHIVE", nowhere)
    assert main(["--logs", logs, "archive", "publish"]) == 3
    assert "Nothing of this bench is lost" in capsys.readouterr().err
    assert main(["--logs", logs, "history", "7Q22051"]) == 0
    assert "go on working" in Publisher(lambda: SharedArchive(nowhere, no_rows), tuple).publish()
    assert Publisher(lambda: None, tuple).publish() == ""

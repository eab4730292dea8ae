"""Does something else under a journal's name end every command in a sentence, at once, and hide no other job?"""

import asyncio
import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from lamp_box import JOB, lamp_box_job

from passcheck.bench.bench import Bench
from passcheck.cli.folders import Folders
from passcheck.cli.main import main
from passcheck.job.arrival import Arrive

OTHER = "A31-0002"


def pipe(path: Path) -> None:
    path.unlink()
    os.mkfifo(path)


def link(path: Path) -> None:
    elsewhere = path.rename(path.with_name("elsewhere"))
    path.symlink_to(elsewhere)


def dead_link(path: Path) -> None:
    path.unlink()
    path.symlink_to("nowhere")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Folders:
    """The folder one stands in, with two jobs."""
    monkeypatch.chdir(tmp_path)
    for name in ("PASSCHECK_LOGS", "PASSCHECK_SEQUENCES", "PASSCHECK_KEY"):
        monkeypatch.delenv(name, raising=False)
    shop, where = lamp_box_job(tmp_path)

    async def take_in() -> None:
        assert isinstance(await shop.arrive(Arrive("t1", "LB-1", "7Q22052", "Lamp stays dark")), Bench)
        await shop.close()

    asyncio.run(take_in())
    return where


def journal(where: Folders, job: str = JOB) -> Path:
    return where.logs / "jobs" / "2031" / f"{job}.jsonl"


@pytest.mark.parametrize("put", [pipe, link, dead_link])
@pytest.mark.parametrize(
    "command",
    [
        ["show", JOB],
        ["plan", JOB],
        ["blockers", JOB],
        ["verify", JOB],
        ["sign", JOB],
        ["export", JOB, "--json"],
        ["export", JOB, "--to", "out"],
    ],
    ids=" ".join,
)
def test_it_is_one_sentence_that_says_what_lies_there(
    command: list[str], put: Callable[[Path], None], here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    put(journal(here))
    assert main(command) == 3
    said = capsys.readouterr().err
    what = "pipe or a device" if put is pipe else "link"
    assert f"{JOB}.jsonl: it can't be used (it is a {what} and not a file). Look at what lies in " in said
    assert said.count("\n") == 1
    assert not Path("out").exists()


@pytest.mark.parametrize("put", [pipe, link, dead_link])
def test_no_other_job_is_hidden(put: Callable[[Path], None], here: Folders, capsys: pytest.CaptureFixture[str]) -> None:
    put(journal(here))
    (here.logs / "shelf.json").unlink(missing_ok=True)
    assert main(["jobs", "--json"]) == 0
    rows = {row["job"]: row for row in json.loads(capsys.readouterr().out)["jobs"]}
    assert (rows[JOB]["serial"], rows[OTHER]["serial"]) == ("", "7Q22052")
    assert main(["verify"]) == 3
    said = capsys.readouterr()
    assert [line[:8] for line in said.out.splitlines() if line.startswith("A31")] == [OTHER]


@pytest.mark.parametrize("put", [pipe, link])
def test_a_signature_or_a_ledger_is_read_from_a_file_too(
    put: Callable[[Path], None], here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    signature = journal(here).with_name(f"{JOB}.jsonl.sig")
    signature.write_bytes(b"no signature")
    put(signature)
    assert main(["verify"]) == 3
    said = capsys.readouterr()
    assert f"{JOB}.jsonl.sig: it can't be used" in said.err
    assert [line[:8] for line in said.out.splitlines() if line.startswith("A31")] == [OTHER]
    signature.unlink()
    put(here.logs / "ledger.jsonl")
    assert main(["verify"]) == 3
    assert "ledger.jsonl: it can't be used" in capsys.readouterr().err


def test_records_that_lie_behind_a_link_to_their_folder_are_read(
    here: Folders, capsys: pytest.CaptureFixture[str]
) -> None:
    here.logs.rename("other-disk")
    here.logs.symlink_to("other-disk")
    assert main(["verify", JOB]) == 10
    assert capsys.readouterr().err == ""

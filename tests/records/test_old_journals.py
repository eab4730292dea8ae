"""Do the journals of earlier days still open, mean what they meant, and stay as they are?

The samples in `tests/samples/journals` are kept for ever. When one of these tests fails after a change of the program,
the change is wrong, or a rule was changed on purpose; the sample is never made anew.
"""

import asyncio
import shutil
from pathlib import Path

import pytest
from kept_state import digest_of, state_of
from sample_jobs import make_all
from sample_rig import FiledRig
from sample_set import JOURNALS, files_in, logs_of, rig_of, sample_set, sets

from passcheck.bench.bench import Done
from passcheck.job.commands import AddNote, Refusal
from passcheck.job.ending import SEALING_EVENTS
from passcheck.records.journal_file import State, read_journal

JOBS = [(name, job) for name in sets() for job in sample_set(name).about]
NEWEST = sets()[-1]
each_job = pytest.mark.parametrize(("name", "job"), JOBS, ids=[f"{name}-{job}" for name, job in JOBS])


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """A copy of the newest set, to write in."""
    return Path(shutil.copytree(JOURNALS / NEWEST, tmp_path / "logs"))


def test_there_is_a_sample_of_each_way_a_job_can_end() -> None:
    endings = {line.event for _, job in JOBS for line in logs_of(JOURNALS / NEWEST, job).read_job(job)[-1:]}
    assert len(JOBS) >= 12
    assert endings > SEALING_EVENTS
    assert {"resumed", "mended", "moved"} <= {
        line.event for name, job in JOBS for line in logs_of(JOURNALS / name, job).read_job(job)
    }


@pytest.mark.parametrize("name", sets())
def test_the_samples_are_byte_for_byte_what_they_were(name: str) -> None:
    assert files_in(JOURNALS / name) == sample_set(name).files


@each_job
def test_an_old_journal_folds_to_the_state_that_was_written_down(name: str, job: str) -> None:
    kept = sample_set(name)
    now = digest_of(state_of(rig_of(kept.folder, job).shop, job), kept.members)
    assert now == kept.digests[job], f"{name}, {job} ({kept.about[job]}) means something else now"


@each_job
def test_nothing_is_wrong_with_an_old_journal_but_the_end_that_a_crash_tore(name: str, job: str) -> None:
    kept = sample_set(name)
    logs, file = logs_of(kept.folder, job), read_journal(kept.journal(job))
    torn = "a crash left" in kept.about[job]
    assert file.state is (State.TORN if torn else State.WHOLE)
    assert [f"{job}.jsonl, {file.fault}" in said for said in logs.intact(job)] == [True] * torn


def test_looking_at_old_journals_leaves_every_byte_and_every_name_in_the_folder(copied: Path) -> None:
    before = {path: path.stat().st_mtime_ns for path in copied.rglob("*")}
    for job in sample_set(NEWEST).about:
        logs, shop = logs_of(copied, job), rig_of(copied, job).shop
        logs.read_job(job)
        logs.intact(job)
        shop.outside(shop.look(job))
    assert {path: path.stat().st_mtime_ns for path in copied.rglob("*")} == before
    assert files_in(copied) == sample_set(NEWEST).files


@pytest.mark.parametrize("job", sample_set(NEWEST).about)
def test_an_open_job_of_earlier_days_goes_on_behind_its_own_bytes_and_an_ended_one_does_not(
    job: str, copied: Path
) -> None:
    path = logs_of(copied, job).journal_path(job)
    before, ended = path.read_bytes(), read_journal(path).sealed
    answer = asyncio.run(taken_up_and_noted(rig_of(copied, job), job))
    assert isinstance(answer, Refusal if ended else Done)
    after = path.read_bytes()
    assert after == before if ended else after.startswith(before) and len(after) > len(before)
    assert (read_journal(path).state, logs_of(copied, job).intact(job)) == (State.WHOLE, ())


async def taken_up_and_noted(rig: FiledRig, job: str) -> Done | Refusal:
    """What comes of a note by somebody who takes the job up years later."""
    rig.clock.pass_time(hours=20_000)
    bench = await rig.shop.open(job, "t2")
    answer = await bench.do(AddNote("t2", "taken up years later"))
    await rig.shop.close()
    return answer


def test_the_newest_samples_are_what_the_program_of_today_writes(tmp_path: Path) -> None:
    about, kept = make_all(tmp_path), sample_set(NEWEST)
    made = files_in(tmp_path)
    other = sorted(name for name in made.keys() | kept.files.keys() if made.get(name) != kept.files.get(name))
    assert not other, (
        f"today's program writes {', '.join(other)} otherwise. If that is wanted, leave {NEWEST} as it is and make a "
        "new set beside it: python tests/samples/journals/make_samples.py NAME"
    )
    assert about == kept.about

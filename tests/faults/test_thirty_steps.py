"""What is lost of a repair of thirty steps when the disk refuses any one of its calls?

Nothing that was acknowledged; the writer takes nothing more; after a failed sync nobody writes that file again. Here
every so many calls are refused; `tests/benchmarks/crash_images.py` refuses each one.
"""

import errno
from itertools import cycle
from pathlib import Path

import pytest
from crash_runs import Count, Refusal, calls_of, refused, refused_at_the_bench
from thirty_steps import TRIED, thirty_steps

EVERY = 7
"""Calls from one refused to the next: prime to the calls of one append, so that each kind of call has its turn."""
WAYS = [(error, for_ever) for error in (errno.EIO, errno.ENOSPC, errno.EROFS) for for_ever in (False, True)]


def test_the_walk_is_a_repair_of_thirty_steps_with_a_fail_and_a_rework() -> None:
    events = [event for batch in thirty_steps() for event in batch]
    verdicts = [facts["judgement"]["verdict"] for tag, facts in events if tag == "attempt judged"]  # type: ignore[index]
    assert len(verdicts) >= TRIED
    assert "fail" in verdicts
    assert {"caution acknowledged", "rework logged", "made safe", "signed off"} <= {tag for tag, _ in events}


def test_a_refused_call_loses_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    story, count = thirty_steps(), Count()
    calls = range(3, calls_of(tmp_path, story), EVERY)
    for nth, (error, for_ever) in zip(calls, cycle(WAYS), strict=False):
        refused(tmp_path, story, Refusal(nth, error, for_ever), count)
    assert (count.lost, count.wrong) == (0, [])
    assert count.moments == len(calls), "each refusal was met"
    assert len(calls) > TRIED, "more than a call a step"


@pytest.mark.parametrize("for_ever", [False, True], ids=["once", "from then on"])
def test_a_failed_sync_loses_nothing_either(tmp_path: Path, for_ever: bool) -> None:
    story, count = thirty_steps(), Count()
    for nth in range(2 + for_ever, calls_of(tmp_path, story, only="fsync"), EVERY):
        refused(tmp_path, story, Refusal(nth, errno.EIO, for_ever, only="fsync"), count)
    assert (count.lost, count.wrong) == (0, [])
    assert count.moments > 8


@pytest.mark.parametrize("for_ever", [False, True], ids=["once", "from then on"])
async def test_at_the_bench_nothing_that_was_shown_is_lost_and_the_unit_leaves(tmp_path: Path, for_ever: bool) -> None:
    count = Count()
    for nth in range(5, 560, 91):
        await refused_at_the_bench(tmp_path / f"at-{nth}", Refusal(nth, errno.EIO, for_ever), count)
    assert (count.lost, count.wrong) == (0, [])
    assert count.images > 4, "most refusals were met"

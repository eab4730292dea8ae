"""How many acknowledged events are lost to power cuts, kills and refused calls, taken everywhere?

    .venv/bin/python tests/benchmarks/crash_images.py [--seed 1] [--per-crash 64] [--every 1]

A small job is walked on a simulated disk (`tests/fakes/crashing_disk.py`): the power fails at each call and up to
`--per-crash` sets of what got through are opened by the next start, each with three ways for lost sectors to read; it
fails again at each call of each recovery; the program is killed at each call before the power fails; each sync fails
once. Then each call of a repair of thirty steps is refused, with three errors, once and from then on, below the bench
and once more with the whole bench above it. Printed: moments at which something happened, states of the disk that were
opened, acknowledged events lost, which has to be 0, and seconds. The control resumes into the file whose sync failed,
and has to lose. `--every 10` takes a tenth of it.
"""

import argparse
import asyncio
import errno
import random  # noqa: TID251 - seeded by an option
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY), *(str(REPOSITORY / "tests" / folder) for folder in ("fakes", "faults"))]

from crash_runs import (  # noqa: E402 - the paths come first
    NEVER,
    Count,
    Refusal,
    another_job_after_a_kill,
    calls_of,
    dying_in_the_recovery,
    failed_syncs,
    killed_and_then_power_cut,
    power_cut_anywhere,
    power_cut_in_the_recovery,
    refused,
    refused_at_the_bench,
)
from crash_walk import BRIEF_JOB  # noqa: E402
from thirty_steps import thirty_steps  # noqa: E402

SECOND = 3
"""Sets of what got through at a second power cut: there are a hundred times as many of those."""
FEW = 2
"""Sets of the first power cut that the second follows: nothing of what was not synced, and one drawn."""
ERRORS = (errno.EIO, errno.ENOSPC, errno.EROFS)


def refused_everywhere(root: Path, every: int) -> Count:
    """Each call of the repair of thirty steps, then each sync."""
    story, count = thirty_steps(), Count()
    for only, errors in (("", ERRORS), ("fsync", ERRORS[:1])):
        for nth in range(0, calls_of(root, story, only), every):
            for error in errors:
                for for_ever in (False, True):
                    refused(root, story, Refusal(nth, error, for_ever, only), count)
    return count


def refused_everywhere_at_the_bench(root: Path, every: int) -> Count:
    """Each call of the same repair, with the whole bench above the records."""

    async def each() -> Count:
        calls = await refused_at_the_bench(root / "sound", Refusal(NEVER, errno.EIO, for_ever=False), Count())
        count = Count()
        for nth in range(0, calls, every):
            for for_ever in (False, True):
                await refused_at_the_bench(root / f"{nth}-{for_ever}", Refusal(nth, errno.EIO, for_ever), count)
        return count

    return asyncio.run(each())


def told(name: str, live: Callable[[Path], Count]) -> Count:
    """Live through one kind of misfortune, and print its line."""
    begun = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        count = live(Path(folder))
    seconds = time.perf_counter() - begun
    print(f"{name:<58} {count.moments:>8,} {count.images:>9,} {count.lost:>7,} {seconds:>8.1f}", flush=True)
    for sentence in count.wrong[:3]:
        print(f"    {sentence}")
    return count


def main() -> int:
    """Everything, one line a kind; 1 when anything was lost or wrong, or the control lost nothing."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--per-crash", type=int, default=64)
    parser.add_argument("--every", type=int, default=1)
    asked = parser.parse_args()
    every, most = asked.every, asked.per_crash
    chance = random.Random(asked.seed)  # noqa: S311 - a simulation
    print(f"{'':<58} {'MOMENTS':>8} {'IMAGES':>9} {'LOST':>7} {'SECONDS':>8}")
    counts = [
        told("power cut at each call", lambda root: power_cut_anywhere(root, most, chance)),
        told(
            "power cut, and another in the recovery",
            lambda root: power_cut_in_the_recovery(root, every, FEW, SECOND, chance),
        ),
        told(
            "killed at each call, then power cut", lambda root: killed_and_then_power_cut(root, every, SECOND, chance)
        ),
        told(
            "killed at each call, another unit first, then power cut",
            lambda root: another_job_after_a_kill(root, every, SECOND, chance),
        ),
        told("a failed sync, then power cut", lambda root: failed_syncs(root, every, SECOND, chance)),
        told(
            "killed, the disk dies at a sync and is looked after",
            lambda root: dying_in_the_recovery(root, every, BRIEF_JOB),
        ),
        told("each call of thirty steps refused", lambda root: refused_everywhere(root, every)),
        told(
            "the same with the bench (images: refusals told)", lambda root: refused_everywhere_at_the_bench(root, every)
        ),
    ]
    control = told("CONTROL: resumed into the file whose sync failed", lambda root: forgetful(root, every, chance))
    lost, wrong = sum(count.lost for count in counts), sum(len(count.wrong) for count in counts)
    print(f"Acknowledged events lost: {lost}; anything else wrong: {wrong}; lost by the control: {control.lost:,}.")
    return 1 if lost or wrong or not control.lost else 0


def forgetful(root: Path, every: int, chance: random.Random) -> Count:
    """The control, whose sentences nobody needs to read."""
    count = failed_syncs(root, every, 1, chance, forgets=True)
    count.wrong.clear()
    return count


if __name__ == "__main__":
    raise SystemExit(main())

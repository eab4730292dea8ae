"""Is any truncation, any single bit, any byte and any line of the sample journals changed without being noticed?

    .venv/bin/python tests/benchmarks/every_byte.py [--flips 8] [--stride 1] [--workers 2] [--only A31-0001]

Every journal and ledger of `tests/samples/journals` is cut after each of its bytes, opened at its last whole line,
written on with and read again; each of its bytes has each of its bits changed, is taken out, and has another put before
it; each of its lines is dropped, and doubled, swapped and moved to every other place. At every line feed it is cut in a
copy of its folder, and the records are asked whether all is well and whether it may be written on.

    altered   refused as changed outside the program
    torn      called torn: a crash can leave it; of a changed byte that is allowed in the last line and the line feed
              before it only
    torn yet  in bytes that were torn before, in which nobody believes
    ledger    whole by itself, and contradicted by the ledger, which had named a later byte
    nobody    whole by itself, with nothing in the ledger against it: listed below the table. Of a ledger that is cut,
              the journals say so instead: the row `in folder` counts it
    missed    what should have been noticed and wasn't: 0, or the status is 1

One case in 199 is read once more from its first byte, to show that nothing is owed to what vouches for its beginning.
"""

import argparse
import multiprocessing
import shutil
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

REPOSITORY = Path(__file__).parents[2]
sys.path[:0] = [str(REPOSITORY), str(REPOSITORY / "tests" / "fakes")]

from damage import (  # noqa: E402 - the paths come first
    Found,
    cut,
    cut_in_its_folder,
    flipped,
    ledger_cut_in_its_folder,
    lines_changed,
    put_in_or_out,
)
from sample_set import JOURNALS, all_samples, damaged, logs_of  # noqa: E402

BYTES_A_TASK = 1500
KINDS = ("cuts", "flips", "bytes", "lines", "in folder")
LEDGER = "ledger.jsonl"


class Task(NamedTuple):
    """A share of the work: one kind of damage to a stretch of one file."""

    kind: str
    name: str
    place: str
    first: int
    behind: int
    stride: int
    bits: int


def tasks(flips: int, stride: int, only: str) -> Iterator[Task]:
    """All the work in shares of a few seconds."""
    for name, place in all_samples():
        if only and only not in place:
            continue
        size = len(damaged(name, place).data)
        for first in range(0, size, BYTES_A_TASK):
            behind = min(size, first + BYTES_A_TASK)
            for kind in ("cuts", "flips", "bytes"):
                yield Task(kind, name, place, first, behind, stride, flips)
        yield Task("lines", name, place, 0, size, stride, flips)
        yield Task("in folder", name, place, 0, size, stride, flips)


def done(task: Task) -> tuple[Task, Found]:
    """Carry out one share."""
    sample = damaged(task.name, task.place)
    places = range(task.first, task.behind, task.stride)
    match task.kind:
        case "cuts":
            found = cut(sample, places)
        case "flips":
            found = flipped(sample, places, task.bits)
        case "bytes":
            found = put_in_or_out(sample, places)
        case "lines":
            found = lines_changed(sample, every=task.stride)
        case _:
            with tempfile.TemporaryDirectory() as folder:
                copied = Path(shutil.copytree(JOURNALS / task.name, Path(folder) / "logs"))
                if task.place.endswith(LEDGER):
                    logs = logs_of(copied, "P" if task.place.startswith("practice") else "A")
                    found = ledger_cut_in_its_folder(sample, logs, sample.line_ends())
                else:
                    found = cut_in_its_folder(sample, logs_of(copied, sample.name), sample.line_ends())
    return task, found


def label(name: str, place: str) -> str:
    """A file as the table calls it."""
    path = Path(place)
    return f"{name} {'practice ' if path.parts[0] == 'practice' and path.name == LEDGER else ''}{path.stem}"


def print_table(found: dict[tuple[str, str], dict[str, Found]]) -> Found:
    """A row a file; give the sum."""
    heads = ("file", "bytes", "cuts", "altered", "torn", "ledger", "nobody", "flips", "altered", "torn", "torn yet")
    print(f"{heads[0]:<22}" + "".join(f"{head:>9}" for head in heads[1:]) + f"{'in, out':>9}{'lines':>8}{'missed':>8}")
    total = Found()
    for (name, place), kinds in sorted(found.items()):
        cuts, flips = kinds["cuts"], kinds["flips"]
        row = (
            *(len(damaged(name, place).data), cuts.cases, cuts.altered, cuts.torn, cuts.ledger, cuts.nobody),
            *(flips.cases, flips.altered, flips.torn, flips.not_believed),
        )
        missed = sum(len(one.missed) for one in kinds.values())
        rest = f"{kinds['bytes'].cases:>9}{kinds['lines'].cases:>8}{missed:>8}"
        print(f"{label(name, place):<22}" + "".join(f"{count:>9}" for count in row) + rest)
        for one in kinds.values():
            total.add(one)
    return total


def print_cuts(found: dict[tuple[str, str], dict[str, Found]]) -> None:
    """The cuts that nothing notices, honestly."""
    print("\nCUTS THAT NOTHING NOTICES (a journal is whole by itself, and behind the ledger's last word about it)")
    for (name, place), kinds in sorted(found.items()):
        losses = kinds["cuts"].lines_lost
        if place.endswith(LEDGER) or not losses:
            continue
        lines, most = damaged(name, place).file.lines, max(losses)
        lost = f"up to {most} of {len(lines)} lines, from '{lines[-most].event}' on" if most else ""
        nothing = f"{losses.count(0)} of them no line, but a line feed or torn bytes" if 0 in losses else ""
        print(f"{label(name, place):<22}{len(losses):>4}   {'; '.join(filter(None, (lost, nothing)))}")


def print_sums(found: dict[tuple[str, str], dict[str, Found]]) -> None:
    """What was done, kind by kind."""
    print()
    for kind in KINDS:
        total = Found()
        for kinds in found.values():
            total.add(kinds[kind])
        counts = (
            f"altered {total.altered}, torn {total.torn}, torn yet {total.not_believed}, "
            f"ledger {total.ledger}, nobody {total.nobody}; read once more {total.proved}"
        )
        print(f"{kind:<10} {total.cases:>9}   {counts}; missed {len(total.missed)}")


def main() -> int:
    """Do all of it; give the exit status."""
    parser = argparse.ArgumentParser(description="Damage the sample journals at every byte.")
    parser.add_argument("--flips", type=int, default=8, help="bits of each byte to change, 1 to 8")
    parser.add_argument("--stride", type=int, default=1, help="try every n-th byte only")
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--only", default="", help="files with this in their name")
    asked = parser.parse_args()
    found: dict[tuple[str, str], dict[str, Found]] = defaultdict(lambda: defaultdict(Found))
    begun = time.perf_counter()
    with multiprocessing.Pool(asked.workers) as pool:
        for task, one in pool.imap_unordered(done, tasks(asked.flips, asked.stride, asked.only)):
            found[task.name, task.place][task.kind].add(one)
    total = print_table(found)
    print_cuts(found)
    print_sums(found)
    for sentence in total.missed[:20]:
        print(f"MISSED {sentence}")
    print(f"\n{total.cases} cases in {time.perf_counter() - begun:.0f} s; missed {len(total.missed)}")
    return 1 if total.missed else 0


if __name__ == "__main__":
    sys.exit(main())

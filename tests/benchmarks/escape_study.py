"""How often does a faulty unit leave with a signature, and how often is a good one kept back?

    .venv/bin/python tests/benchmarks/escape_study.py [--jobs 20000] [--seed 1] [--markdown]

A robot technician repairs so many simulated units of the demo boards over the program's own bench: as found, rework,
retest, acceptance, burn-in, signature. The same seed gives the same table. What is wrong with the units is told in
`escape_planted.py`, the simpler ways beside it in `escape_policies.py`. Two cores take some twenty minutes for 20,000.
"""

import argparse
import asyncio
import os
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from random import Random  # noqa: TID251 - a simulation draws from a seed

from escape_planted import Planted, plant
from escape_policies import POLICIES, Hands, released_by

from passcheck.cli.folders import Folders, demo_boards
from passcheck.cli.practice_auto import workshop_on
from passcheck.job.judging import instrument_role, needs_accuracy
from passcheck.judge.first_pass_yield import first_pass_yield
from passcheck.practice.eyes import WithMeter
from passcheck.practice.manner import drawn_manner
from passcheck.practice.meter import Meters
from passcheck.practice.person import draw_person
from passcheck.practice.unit import SimulatedUnit
from passcheck.practice.visit import Visit, Workshop, sequence_of, walked
from passcheck.sequence.model import Step

CHUNK = 16
FAR = 4.0
"""From so many uncertainties beyond the limit a steady fault is promised to be caught."""
STATED = 0.05  # the risk at the limit that the rule states


@dataclass(frozen=True, slots=True)
class Case:
    """One unit of the study: what was planted, what became of it here, and what the simpler ways made of it.

    `others` holds for each policy the steps at which the released unit departs, None where it was given back.
    """

    planted: Planted
    visit: Visit
    others: tuple[tuple[str, ...] | None, ...]

    @property
    def is_faulty(self) -> bool:
        """Was something wrong on arrival? At its limit and inside it nothing is."""
        distance = self.planted.distance
        return self.planted.case != "nothing" and (distance is None or distance > 0)

    @property
    def escaped(self) -> bool:
        """Was it released and isn't as its sequence wants it?"""
        return self.visit.told.ended == "released" and bool(self.visit.told.departing)

    @property
    def at_limit_released(self) -> bool:
        """Was it released with what was planted still in it, whether that counts as wrong or not?"""
        left = {name for name, _nature in self.visit.told.still}
        return (
            self.visit.told.ended == "released" and self.planted.faults[0].name in left if self.planted.step else False
        )


@cache
def _workshop() -> Workshop:
    return workshop_on(Folders(Path("no logs"), demo_boards()))


def case(seed: int, number: int) -> Case:
    """Draw a unit, have it repaired, and see what the simpler ways would have done with it."""
    workshop = _workshop()
    draw = Random(f"study/{seed}/{number}")  # noqa: S311 - a simulation
    board = draw.choice(workshop.boards.listed())
    sequence = sequence_of(board)
    planted = plant(sequence, workshop.settings, draw)
    manner = drawn_manner(draw)
    visit = asyncio.run(walked(workshop, board, planted.faults, manner, draw, number))
    others = []
    for policy in POLICIES:
        again = Random(f"others/{seed}/{number}")  # noqa: S311 - the same unit and hands for each
        unit = SimulatedUnit(sequence, planted.faults, again)
        meters = Meters(workshop.settings.instruments, again)
        hands = Hands(draw_person(again), partial(_meter, workshop, meters, again), manner.finds_it, again)
        others.append(released_by(policy, unit, hands))
    return Case(planted, visit, tuple(others))


def _meter(workshop: Workshop, meters: Meters, draw: Random, step: Step) -> WithMeter | None:
    role = instrument_role(step)
    if role is None or not needs_accuracy(step):
        return None
    able = [(name, it.fills[role]) for name, it in workshop.settings.instruments.items() if role in it.fills]
    return WithMeter(meters, *able[-1], draw)


# Tables


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table: a name and the units that belong to it."""

    name: str
    cases: tuple[Case, ...]


def by(cases: Iterable[Case], name_of: Callable[[Case], str | None]) -> list[Row]:
    """Sort units into lines; None leaves one out."""
    found: dict[str, list[Case]] = defaultdict(list)
    for one in cases:
        name = name_of(one)
        if name is not None:
            found[name].append(one)
    return [Row(name, tuple(members)) for name, members in found.items()]


HEADS = ("", "units", "released faulty", "95 % bounds", "undecided", "given back", *(p.name for p in POLICIES))


def escapes(row: Row, released: Callable[[Case], bool] = lambda one: one.escaped) -> tuple[str, ...]:
    """A line of the escape tables."""
    count = len(row.cases)
    out = sum(map(released, row.cases))
    share = first_pass_yield(out, count)
    bounds = f"{100 * share.low:.2f} to {100 * share.high:.2f} %"
    ends = [sum(one.visit.told.ended == ended for one in row.cases) for ended in ("in doubt", "returned")]
    others = [sum(bool(one.others[nth]) for one in row.cases) for nth in range(len(POLICIES))]
    return (row.name, str(count), str(out), bounds, *map(str, ends), *(f"{100 * it / count:.1f} %" for it in others))


GOOD_HEADS = ("", "units", "released", "kept back", "95 % bounds", "worked on for nothing", "tries", "hours of hands")


def kept_back(row: Row) -> tuple[str, ...]:
    """A line of the table of good units."""
    count = len(row.cases)
    kept = sum(one.visit.told.ended != "released" for one in row.cases)
    share = first_pass_yield(kept, count)
    worked = sum(one.visit.told.reworks > 0 for one in row.cases)
    tries = sum(one.visit.tries for one in row.cases) / count
    hours = sum(one.visit.hands_on_min for one in row.cases) / count / 60
    bounds = f"{100 * share.low:.1f} to {100 * share.high:.1f} %"
    return (row.name, str(count), str(count - kept), str(kept), bounds, str(worked), f"{tries:.0f}", f"{hours:.1f}")


def far(one: Case) -> bool:
    """A steady number at least FAR beyond its limit."""
    return one.planted.case == "at a distance" and (one.planted.distance or 0) >= FAR


def untouched(one: Case) -> bool:
    """No wrong entry made a pass of a fail, and no rework broke anything: those have lines of their own."""
    return not one.visit.mistyped_to_pass and not _broke(one)


def tables(cases: tuple[Case, ...]) -> list[tuple[str, tuple[str, ...], list[tuple[str, ...]]]]:
    """Title, heads and lines of every table."""
    steady = [one for one in cases if one.planted.case == "at a distance" and untouched(one)]
    beyond = [one for one in steady if (one.planted.distance or 0) > 0]
    in_order = sorted(beyond, key=lambda one: one.planted.distance or 0)
    by_kind = sorted(filter(far, steady), key=lambda one: one.planted.kind)
    at_limit = sorted((one for one in steady if one.planted.distance == 0), key=lambda one: one.planted.kind)
    natures = {
        "plain": "steady, without a number (a dark lamp, a code, a count)",
        "warm": "only after 20 min at power",
        "intermittent": "intermittent, 10 to 90 % of the tries",
    }
    slips = Row("a wrong entry made a pass of a fail", tuple(one for one in cases if one.visit.mistyped_to_pass))
    broke = Row("broken by the first rework", tuple(one for one in cases if _broke(one)))
    others = [escapes(row) for row in by(filter(untouched, cases), lambda one: natures.get(one.planted.case))]
    others += [escapes(row) for row in (slips, broke) if row.cases]
    good = [one for one in cases if not one.is_faulty and not _broke(one)]
    inside = sorted(good, key=lambda one: (one.planted.distance is None, one.planted.distance or 0))
    return [
        ("Steady faults, by distance beyond the limit in standard uncertainties", HEADS,
         [escapes(row) for row in by(in_order, lambda one: f"{one.planted.distance:g} u beyond")]),
        (f"Steady faults {FAR:g} u and more beyond the limit, by kind of step", HEADS,
         [escapes(row) for row in (*by(by_kind, lambda one: one.planted.kind), Row("all kinds", tuple(by_kind)))]),
        ("Units exactly at their limit that were released as they came", HEADS[: -len(POLICIES)],
         [escapes(row, lambda one: one.at_limit_released)[: -len(POLICIES)]
          for row in (*by(at_limit, lambda one: one.planted.kind), Row("all kinds", tuple(at_limit)))]),
        ("Other faults", HEADS, others),
        ("Good units", GOOD_HEADS, [kept_back(row) for row in by(inside, _how_good)]),
    ]  # fmt: skip


def _how_good(one: Case) -> str:
    distance = one.planted.distance
    if not distance:
        return "nothing near a limit" if distance is None else "one value exactly at its limit"
    return f"one value {-distance:g} u inside"


def _broke(one: Case) -> bool:
    return one.visit.told.reworks > 0 and any(fault.born for fault in one.planted.faults)


def promises(cases: tuple[Case, ...]) -> list[str]:
    """What was promised, and what was seen."""
    clear = [one for one in cases if far(one) and untouched(one)]
    out = sum(one.escaped for one in clear)
    bound = first_pass_yield(out, len(clear)).high
    limit = [one for one in cases if one.planted.case == "at a distance" and one.planted.distance == 0]
    limit = [one for one in limit if untouched(one)]
    near = sum(one.at_limit_released for one in limit)
    share = first_pass_yield(near, len(limit))
    return [
        f"Steady faults {FAR:g} u and more beyond the limit: {out} of {len(clear)} released; "
        f"at most {100 * bound:.2f} % (95 %).",
        f"Exactly at the limit: {near} of {len(limit)} released as they came, {100 * share.share:.1f} % "
        f"({100 * share.low:.1f} to {100 * share.high:.1f} %); stated: at most {100 * STATED:g} %.",
    ]


def printed(heads: tuple[str, ...], rows: list[tuple[str, ...]], *, markdown: bool) -> str:
    """A table as text, or for the README."""
    if markdown:
        lines = [heads, tuple("---" if nth == 0 else "--:" for nth in range(len(heads))), *rows]
        return "\n".join(f"| {' | '.join(line)} |" for line in lines)
    widths = [max(len(line[nth]) for line in (heads, *rows)) for nth in range(len(heads))]
    padded = ([cell.ljust(width) for cell, width in zip(line, widths, strict=True)] for line in (heads, *rows))
    return "\n".join("  ".join(line).rstrip() for line in padded)


def main() -> int:
    """Walk the units and print what came of them."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("--jobs", type=int, default=20_000)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    asked.add_argument("--markdown", action="store_true", help="tables as the README has them")
    given = asked.parse_args()
    begun = time.perf_counter()
    cases = []
    with ProcessPoolExecutor(given.processes) as pool:
        for one in pool.map(partial(case, given.seed), range(1, given.jobs + 1), chunksize=CHUNK):
            cases.append(one)
            if len(cases) % 500 == 0:
                print(f"{len(cases)} of {given.jobs}", file=sys.stderr)
    every = tuple(cases)
    for title, heads, rows in tables(every):
        print(f"\n**{title}**\n" if given.markdown else f"\n{title}")
        print(printed(heads, rows, markdown=given.markdown))
    print()
    for line in promises(every):
        print(line)
    stuck = [one for one in every if one.visit.told.ended == "stuck"]
    print(f"The robot knew no further with {len(stuck)} of {len(every)}.")
    print(f"{given.jobs} jobs, seed {given.seed}, {given.processes} processes: {time.perf_counter() - begun:.0f} s.")
    for one in every:
        if one.escaped and far(one) and untouched(one):
            print(
                "LOOK AT", one.visit.number, one.visit.board, one.planted.kind, one.planted.step, one.planted.distance
            )
    for one in stuck[:5]:
        print(f"Look at {one.visit.number}: {one.visit.board} {one.planted.step}: {one.visit.told.why}")
    return 0


if __name__ == "__main__":
    sys.exit(main())

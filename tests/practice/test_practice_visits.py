"""Do many visits add up, and are they the same by however many processes, under whatever hash seed?"""

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any

import demo_boards
import pytest
import robot

import passcheck
import sequences
from passcheck.practice.auto import FEWEST_FOR_MORE, totals, visits
from passcheck.practice.fault import Effect
from passcheck.practice.technician import ENDS, Ended, Told
from passcheck.practice.visit import Visit, Workshop

SMALL = Workshop(
    robot.workshop(sequences.with_soak()).boards,
    {"LB-3": (robot.broken(Effect("DS1", "dark"), block="LAMP", name="dark"),)},
    robot.demo_workshop().settings,
)
TWELVE = 12
WALKER = f"""
import json
from dataclasses import asdict
from pathlib import Path
from passcheck.cli.folders import Folders, demo_boards
from passcheck.cli.practice_auto import workshop_on
from passcheck.practice.auto import visits
walked = visits(workshop_on(Folders(Path("no logs"), demo_boards())), 12, range(1, {TWELVE + 1}))
print(json.dumps([asdict(one) for one in walked]))
"""


def a_visit(ended: Ended = "released", departing: tuple[str, ...] = (), **members: Any) -> Visit:
    """A visit that ended so."""
    told = Told(ended, "", departing, (("it", "steady"),) if departing else (), 1)
    counts: Mapping[str, Any] = {"slips": 0, "caught": 0, "slipped_through": 0, "signatures_refused": 0}
    none: Mapping[str, int] = {}
    wrong = {"passed_wrongly": none, "failed_wrongly": none, "mistyped_to_pass": none, "refused": none}
    size = {"tries": 10, "hands_on_min": 60.0, "days": 1.0}
    facts = {"number": 1, "board": "LB-3", "serial": "7Q22051", "faults": ()}
    return Visit(**{**facts, "told": told, **size, **counts, **wrong, **members})


def test_visits_are_counted_by_their_ends_and_by_what_is_true_of_the_unit() -> None:
    escaped = a_visit(departing=("rail",), number=3)
    every = (a_visit(), a_visit(), escaped, a_visit("returned", ("rail",)), a_visit("in doubt"), a_visit("stuck"))
    summed = totals(every)
    assert summed.visits == 6
    assert summed.by_end == {"released": (2, 1), "returned": (0, 1), "in doubt": (1, 0), "stuck": (1, 0)}
    assert tuple(summed.by_end) == ENDS
    assert sum(sum(pair) for pair in summed.by_end.values()) == summed.visits
    assert summed.escaped == (escaped,)


def test_counts_are_added_and_sizes_are_means() -> None:
    one = a_visit(slips=3, caught=2, slipped_through=1, signatures_refused=1)
    other = a_visit(slips=1, caught=1, tries=20, hands_on_min=120.0, days=3.0)
    summed = totals((one, other))
    assert (summed.slips, summed.caught, summed.slipped_through, summed.signatures_refused) == (4, 3, 1, 1)
    assert (summed.tries, summed.hands_on_min, summed.days) == (15, 90, 2)


def test_no_visit_at_all_adds_up_to_nothing() -> None:
    summed = totals(())
    assert (summed.visits, summed.tries, summed.escaped) == (0, 0, ())
    assert list(visits(SMALL, 1, ())) == []


@pytest.mark.filterwarnings("ignore:This process:DeprecationWarning")  # other tests of this run may have left threads
def test_one_process_and_two_walk_the_same_visits_in_the_same_order() -> None:
    numbers = range(1, FEWEST_FOR_MORE + 4)
    alone = tuple(visits(SMALL, 5, numbers, 1))
    assert tuple(visits(SMALL, 5, numbers, 2)) == alone
    assert [one.number for one in alone] == list(numbers)
    assert len(set(map(repr, alone))) == len(alone)


def test_a_few_visits_are_walked_here() -> None:
    assert [one.number for one in visits(SMALL, 5, (4, 2, 9), 2)] == [4, 2, 9]


def test_a_hash_seed_changes_no_byte_of_what_came_of_the_five_boards() -> None:
    root = str(Path(passcheck.__file__).parent.parent)
    walkers = [
        subprocess.Popen(
            [sys.executable, "-c", WALKER],
            stdout=subprocess.PIPE,
            env=os.environ | {"PYTHONPATH": root, "PYTHONHASHSEED": seed},
        )
        for seed in ("1", "2")
    ]
    first, second = (walker.communicate(timeout=120)[0] for walker in walkers)
    assert [walker.returncode for walker in walkers] == [0, 0]
    assert first == second
    told = json.loads(first)
    assert [one["number"] for one in told] == list(range(1, TWELVE + 1))
    assert {one["board"] for one in told} == set(demo_boards.NAMES)
    here = next(iter(visits(robot.demo_workshop(), 12, (TWELVE,))))
    assert told[-1] == json.loads(json.dumps(asdict(here))), "the last of twelve is what it is alone"

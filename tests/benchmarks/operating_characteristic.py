"""How often does the sequential rule for tapped response times pass, fail and doubt, and do its intervals cover?

    PYTHONPATH=. throwaway/bin/python tests/benchmarks/operating_characteristic.py [--operators 40000] [--seed 1]

Needs numpy, which is no dependency of passcheck, so it runs in an environment that can be thrown away:

    python -m venv throwaway && throwaway/bin/pip install numpy

The rule is coded here once more, for whole rows of operators at a time; the first line holds it against passcheck's
own functions, operator by operator. Who taps is told in tapping_people.py; two cores take about 50 s.
"""

import argparse
import math
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from multiprocessing import Pool
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "fakes"))  # the reference cases, as the tests read them

import numpy as np  # type: ignore[import-not-found, unused-ignore]
from reference_cases import reference_case
from tapping_people import Array, People, reference_block, some_people, unit_trials

from passcheck.judge.latency import UNMEASURED, Latency
from passcheck.judge.response_taps import (
    INFLATION,
    LOOK_SHARE,
    LOOKS,
    U_MODEL_LEARNING_MEASURED_S,
    U_MODEL_S,
    decide_by_taps,
    learned_s,
    stray_trials_forbid_a_pass,
)
from passcheck.judge.screening import STRAY_SCALES
from passcheck.judge.student import student_quantile
from passcheck.judge.sweep_taps import FAMILY_ALPHA, sweep_by_taps

LIMIT_S = 0.5
U_LATENCY_S = 0.0017
GOING_ON, PASS, FAIL, DOUBT = 0, 1, 2, 3
VERDICTS = {"more trials": GOING_ON, "pass": PASS, "fail": FAIL, "in doubt": DOUBT}
ROWS = 10_000
"""Operators that are computed at once, for the memory's sake."""


@dataclass(frozen=True)
class Scenario:
    """What happens at the benches, and how the rule is set; `looks` beyond 8 are whole blocks done again."""

    delay_s: float
    u_model_s: float = U_MODEL_LEARNING_MEASURED_S
    learned: str = "none"
    subtract_learning: bool = False
    reference: int = 20
    looks: tuple[int, ...] = LOOKS
    assumed: tuple[float, float] | None = None  # latency and its uncertainty where nobody filmed it
    lapses: float = 0.03
    mismatch_sd: float = 0.012
    latency_s: tuple[float, float] = (0.030, 0.100)


def scale(reference: Array) -> tuple[Array, int]:
    """The winsorised scale of each row."""
    count = reference.shape[1]
    drawn_in = math.floor(0.2 * count)
    ordered = np.sort(reference, axis=1)
    low, high = ordered[:, [drawn_in]], ordered[:, [count - 1 - drawn_in]]
    return np.clip(reference, low, high).std(axis=1, ddof=1) / 0.6, count - 2 * drawn_in - 1


def shift(values: Array, others: Array) -> Array:
    """The median of all differences of each row."""
    return np.median((values[:, :, None] - others[:, None, :]).reshape(len(values), -1), axis=1)


@cache
def factor_table(p: float, least_nu: int) -> tuple[Array, Array]:
    """Student's factor over 1/nu, filled by passcheck's own function; straight lines between are off by under 1e-5."""
    steps = np.linspace(0, 1 / least_nu, 61)
    return steps, np.array([student_quantile(p, 1 / step if step else math.inf) for step in steps])


def factor(p: float, nu: Array, least_nu: int) -> Array:
    """Student's factor of each row."""
    return np.interp(1 / nu, *factor_table(p, least_nu))


def fewest_degrees(reference: int) -> int:
    """Degrees of freedom of the scale of so many reference trials."""
    return reference - 2 * math.floor(0.2 * reference) - 1


def delay_and_u(
    trials: Array, reference: Array, latency: Array, u_latency: float, u_model: float
) -> tuple[Array, Array, Array, Array]:
    """Delay, u, nu and scale of each row of trials."""
    s_w, df = scale(reference)
    scatter = INFLATION * s_w**2 * (1 / trials.shape[1] + 1 / reference.shape[1])
    u = np.sqrt(scatter + u_latency**2 + u_model**2)
    return shift(trials, reference) + latency, u, u**4 / (scatter**2 / df), s_w


def decisions(
    trials: Array,
    reference: Array,
    latency: Array,
    u_latency: float,
    scenario: Scenario,
) -> tuple[Array, Array]:
    """Verdict and number of trials of each row, look after look."""
    rows = len(trials)
    verdict, used = np.zeros(rows, int), np.full(rows, scenario.looks[-1])
    left = np.arange(rows)
    for look in scenario.looks:
        taken, block = trials[left, :look], reference[left]
        delay, u, nu, s_w = delay_and_u(taken, block, latency[left], u_latency, scenario.u_model_s)
        k = factor(1 - LOOK_SHARE, nu, fewest_degrees(scenario.reference))
        early = (taken < (np.median(taken, axis=1) - STRAY_SCALES * s_w)[:, None]).sum(axis=1)
        corrected = taken + (latency[left] - np.median(block, axis=1))[:, None]
        late = (corrected > (LIMIT_S + STRAY_SCALES * s_w)[:, None]).sum(axis=1)
        counts = range(look + 1)
        barred = np.array([[stray_trials_forbid_a_pass(look, e, o) for o in counts] for e in counts])[early, late]
        found = np.where((delay + k * u < LIMIT_S) & ~barred, PASS, GOING_ON)
        found[(found == GOING_ON) & (look >= 5) & (delay - k * u >= LIMIT_S)] = FAIL
        verdict[left] = found
        used[left[found != GOING_ON]] = look
        left = left[found == GOING_ON]
        if not len(left):
            break
    verdict[left] = DOUBT
    return verdict, used


def bench(
    draw: Any, rows: int, scenario: Scenario, trials: int, around_s: float = LIMIT_S
) -> tuple[People, Array, Array, Array, float]:
    """People, their reference blocks, unit trials, latencies as known with their uncertainty."""
    people = some_people(draw, rows, scenario.lapses, scenario.mismatch_sd, scenario.latency_s)
    reference = reference_block(draw, people, around_s, scenario.reference)
    earlier = {"none": 0.0, "20 ms": 0.020, "0..40 ms": draw.uniform(0, 0.040, rows)}[scenario.learned]
    values = unit_trials(draw, people, scenario.delay_s, trials, earlier)
    if scenario.assumed is None:
        latency, u_latency = people.latency + draw.normal(0, U_LATENCY_S, rows), U_LATENCY_S
    else:
        latency, u_latency = np.full(rows, scenario.assumed[0]), scenario.assumed[1]
    if scenario.subtract_learning:
        constant = unit_trials(draw, people, LIMIT_S, 5, earlier) - LIMIT_S
        constant = constant - people.mismatch[:, None] + people.latency[:, None]
        latency = latency + np.maximum(0, -shift(constant, reference))
    return people, reference, values, latency, u_latency


def characteristic(job: tuple[Scenario, int, int]) -> tuple[float, float, float, float]:
    """Shares of pass, fail and doubt, and the mean number of trials."""
    scenario, operators, seed = job
    draw = np.random.default_rng([seed, round(1000 * scenario.delay_s)])
    verdicts, trials = [], []
    for start in range(0, operators, ROWS):
        rows = min(ROWS, operators - start)
        _people, reference, values, latency, u_latency = bench(draw, rows, scenario, scenario.looks[-1])
        verdict, used = decisions(values, reference, latency, u_latency, scenario)
        verdicts.append(verdict)
        trials.append(used)
    all_verdicts = np.concatenate(verdicts)
    shares = [float((all_verdicts == word).mean()) for word in (PASS, FAIL, DOUBT)]
    return shares[0], shares[1], shares[2], float(np.concatenate(trials).mean())


def coverage(job: tuple[float, float, int, int, int]) -> tuple[float, float, float, float]:
    """Bias and spread of the delay in ms, mean u in ms and the share of 95 % intervals that hold the true delay."""
    delay_s, around_s, trials, operators, seed = job
    draw = np.random.default_rng([seed, trials, round(1000 * delay_s)])
    scenario = Scenario(delay_s)
    found = []
    for start in range(0, operators, ROWS):
        rows = min(ROWS, operators - start)
        _people, reference, values, latency, u_latency = bench(draw, rows, scenario, trials, around_s)
        delay, u, nu, _s_w = delay_and_u(values, reference, latency, u_latency, scenario.u_model_s)
        found.append(
            np.stack(
                [
                    delay - delay_s,
                    u,
                    np.abs(delay - delay_s) <= factor(0.975, nu, fewest_degrees(scenario.reference)) * u,
                ]
            )
        )
    off, u, inside = np.concatenate(found, axis=1)
    return 1000 * float(off.mean()), 1000 * float(off.std()), 1000 * float(u.mean()), float(inside.mean())


def disagreements(operators: int, seed: int) -> int:
    """How many operators get another verdict or number of trials from passcheck's own functions; it should be none."""
    draw = np.random.default_rng(seed)
    count = 0
    for delay_s in (0.3, 0.42, 0.5, 0.6):
        scenario = Scenario(delay_s, looks=(*LOOKS, 16))
        _people, reference, values, latency, u_latency = bench(draw, operators, scenario, 16)
        verdicts, used = decisions(values, reference, latency, u_latency, scenario)
        for row in range(operators):
            known = Latency(float(latency[row]), u_latency)
            mine = one_by_one(list(values[row]), list(reference[row]), known, scenario)
            count += mine != (int(verdicts[row]), int(used[row]))
    constant = unit_trials(draw, some_people(draw, 20), 0.5, 5)
    mine_learned = [learned_s(list(row), list(row[:3] + 0.02)) for row in constant]
    count += int(not np.allclose(mine_learned, np.maximum(0, -shift(constant, constant[:, :3] + 0.02))))
    return count


def one_by_one(
    values: Sequence[float], reference: Sequence[float], latency: Latency, scenario: Scenario
) -> tuple[int, int]:
    """The same decision by passcheck's own functions."""
    for look in scenario.looks:
        finding = decide_by_taps(values[:look], reference, latency, LIMIT_S, scenario.u_model_s)
        if finding.verdict in ("pass", "fail"):
            return VERDICTS[finding.verdict], look
    return DOUBT, scenario.looks[-1]


def hesitation_false_alarm(job: tuple[int, float, int, int]) -> float:
    """Share of smooth sweeps called hesitating, by passcheck's own function."""
    segments, segment_s, sweeps, seed = job
    draw = np.random.default_rng([seed, segments])
    marks = np.arange(segments + 1) * segment_s
    called = sum(
        sweep_by_taps(list(marks + draw.normal(0, 0.03, segments + 1)), 0.03, FAMILY_ALPHA).hesitation
        for _ in range(sweeps)
    )
    return called / sweeps


def tables(pool: Any, operators: int, seed: int) -> None:
    """Print everything."""
    sample = 100
    print(f"Verdicts that differ from passcheck's own functions, of {4 * sample}: {disagreements(sample, seed)}\n")
    _print_coverage(pool, operators, seed)
    _print_characteristic(pool, operators, seed)
    _print_cases(pool, operators, seed)
    _print_stress(pool, operators, seed)
    print("Smooth sweeps called hesitating, tap noise 30 ms, family alpha 1 %")
    jobs = [(segments, 2.0 / segments, operators, seed) for segments in (2, 3, 4, 6, 8)]
    for job, share in zip(jobs, pool.map(hesitation_false_alarm, jobs), strict=True):
        print(f"  {job[0]} segments of {job[1]:.2f} s: {100 * share:.2f} %")


def _print_coverage(pool: Any, operators: int, seed: int) -> None:
    print("95 % intervals, latency measured, u_mod 12 ms; reference block around 0.5 s, and around the delay")
    print("   D s   n   bias  sd   u   cover %      bias  sd   u   cover %")
    jobs = [
        (delay, around, trials, operators, seed)
        for delay in (0.3, 0.5, 1.0, 2.0)
        for trials in (3, 5, 8)
        for around in (LIMIT_S, delay)
    ]
    rows = pool.map(coverage, jobs)
    for job, at_limit, at_delay in zip(jobs[::2], rows[::2], rows[1::2], strict=True):
        cells = "      ".join(
            f"{b:5.1f} {sd:4.1f} {u:4.1f} {100 * cover:6.1f}" for b, sd, u, cover in (at_limit, at_delay)
        )
        print(f"  {job[0]:4.2f}  {job[2]:2d}  {cells}")
    print()


def _print_characteristic(pool: Any, operators: int, seed: int) -> None:
    delays = (0.10, 0.20, 0.30, 0.35, 0.40, 0.425, 0.45, 0.475, 0.50, 0.525, 0.55, 0.60, 0.65)
    for u_model in (U_MODEL_LEARNING_MEASURED_S, U_MODEL_S):
        print(f"Limit {LIMIT_S} s, u_mod {1000 * u_model:.0f} ms, latency measured")
        print("   D s    pass    fail   doubt  trials")
        jobs = [(Scenario(delay, u_model), operators, seed) for delay in delays]
        for (scenario, _n, _seed), row in zip(jobs, pool.map(characteristic, jobs), strict=True):
            print(f"  {scenario.delay_s:5.3f}  {row[0]:.4f}  {row[1]:.4f}  {row[2]:.4f}  {row[3]:.2f}")
        print()


def _print_stress(pool: Any, operators: int, seed: int) -> None:
    default, blocks = {"u_model_s": U_MODEL_S}, {2: (*LOOKS, 16), 3: (*LOOKS, 16, 24)}
    every = tuple(range(9, 25))
    unmeasured = {"assumed": (UNMEASURED.value_s, UNMEASURED.u_s), "latency_s": (0.03, 0.2)}
    scenes: dict[str, dict[str, Any]] = {
        "u_mod 25": default,
        "u_mod 25, 20 ms learned on the unit": default | {"learned": "20 ms"},
        "u_mod 25, 0..40 ms learned on the unit": default | {"learned": "0..40 ms"},
        "u_mod 12, 20 ms learned on the unit": {"learned": "20 ms"},
        "u_mod 12, 20 ms learned, measured and subtracted": {"learned": "20 ms", "subtract_learning": True},
        "u_mod 12, 0..40 ms learned, measured and subtracted": {"learned": "0..40 ms", "subtract_learning": True},
        "u_mod 12, nothing learned, measured and subtracted": {"subtract_learning": True},
        "u_mod 12, two blocks pooled": {"looks": blocks[2]},
        "u_mod 12, three blocks pooled": {"looks": blocks[3]},
        "u_mod 25, three blocks pooled": default | {"looks": blocks[3]},
        "u_mod 25, three blocks pooled, 20 ms learned": default | {"looks": blocks[3], "learned": "20 ms"},
        "u_mod 25, a look after every trial from 8 to 24": default | {"looks": (*LOOKS, *every)},
        "u_mod 25, the same, 20 ms learned": default | {"looks": (*LOOKS, *every), "learned": "20 ms"},
        "u_mod 25, latency not measured, 30..200 ms": default | unmeasured,
        "u_mod 12, latency not measured, 30..200 ms": unmeasured,
        "u_mod 25, 15 reference trials": default | {"reference": 15},
        "u_mod 25, 12 reference trials": default | {"reference": 12},
        "u_mod 12, 8 reference trials": {"reference": 8},
        "u_mod 25, 10 % lapses": default | {"lapses": 0.10},
        "u_mod 25, mismatch sd 20 ms": default | {"mismatch_sd": 0.020},
    }
    delays = (0.5, 0.4, 0.35)
    jobs = [(Scenario(delay, **scene), operators, seed) for scene in scenes.values() for delay in delays]
    rows = [row[0] for row in pool.map(characteristic, jobs)]
    print(f"Passed, % of operators{'':34}at 0.50  at 0.40  at 0.35 s")
    for place, name in enumerate(scenes):
        cells = "  ".join(f"{100 * share:7.2f}" for share in rows[3 * place : 3 * place + 3])
        print(f"  {name:54}{cells}")
    print()


def _print_cases(pool: Any, operators: int, seed: int) -> None:
    """Hold the reference cases against the same simulation."""
    inputs, expected, tolerance = reference_case("B08")
    jobs = [(Scenario(delay), operators, seed + 1) for delay in inputs["delays_s"]]
    rows = pool.map(characteristic, jobs)
    for name, place, allowed in (("p_pass", 0, "p"), ("p_fail", 1, "p"), ("mean_trials", 3, "mean_trials")):
        off = max(abs(row[place] - wanted) for row, wanted in zip(rows, expected[name], strict=True))
        print(f"Case B08, {name}: off by {off:.4f} at most, {tolerance[allowed]} allowed")
    at_limit = rows[inputs["delays_s"].index(LIMIT_S)][0]
    print(f"Case B08, false pass at the limit: {at_limit:.4f}, {tolerance['false_accept_max']} allowed")
    _inputs, expected, tolerance = reference_case("B12")
    known = {
        "FA_measured": None,
        "FA_assumed_65ms_u20ms": (0.065, 0.020),
        "FA_assumed_but_u3ms": (0.065, 0.003),
        "FA_not_corrected": (0.0, 0.003),
    }
    jobs = [(Scenario(LIMIT_S, assumed=assumed), operators, seed + 1) for assumed in known.values()]
    for name, row in zip(known, pool.map(characteristic, jobs), strict=True):
        allowed = tolerance.get(name, tolerance["abs"])
        print(f"Case B12, {name}: {row[0]:.4f}, {expected[name]} expected, {allowed} allowed")
    print()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--operators", type=int, default=40_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--processes", type=int, default=2)
    asked = parser.parse_args()
    began = time.perf_counter()
    with Pool(asked.processes) as pool:
        tables(pool, asked.operators, asked.seed)
    print(f"\n{asked.operators} operators a row, {time.perf_counter() - began:.0f} s")


if __name__ == "__main__":
    main()

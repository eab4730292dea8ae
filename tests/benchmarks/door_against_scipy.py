"""Does the door answer as other people's statistics do? Random questions, computed a second time with numpy and scipy.

Needs numpy and scipy, which are no dependencies of passcheck, so it runs in an environment that can be thrown away:

    python -m venv throwaway && throwaway/bin/pip install scipy
    PYTHONPATH=. throwaway/bin/python tests/benchmarks/door_against_scipy.py [--rounds 20] [--seed 1]

Nothing of `passcheck.judge` is called but through the door. The formulas are written anew from their sources, the
distributions and tests are scipy's. Prints, for each computation, how many figures were
compared and the largest relative difference; the exit status is 1 when a figure or a word differs.
"""

import argparse
import itertools
import json
import math
import random  # noqa: TID251 - questions drawn from a seed
import sys
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

import numpy as np  # type: ignore[import-not-found, unused-ignore]
from scipy import optimize, stats  # type: ignore[import-not-found, import-untyped, unused-ignore]

from passcheck.cli.door.answering import answer_line

RELATIVE = 1e-6
ABSOLUTE = 1e-15
KELVIN = 273.15
BOLTZMANN_EV = 8.617333e-5

Question = dict[str, Any]
Expected = dict[str, Any]
Asked = tuple[str, Question, Expected]


def reading(draw: random.Random) -> Iterator[Asked]:
    count = draw.choice((1, 2, 3, 5, 10))
    values = [round(12 + draw.gauss(0, 0.02), 2) for _ in range(count)]
    percent, counts, digit, ambient = (
        draw.choice((0.1, 0.5, 1)),
        draw.choice((1, 2, 3)),
        0.01,
        draw.choice((10, 22, 35)),
    )
    low, high = 11.8, draw.choice((12.05, 12.2))
    mean = float(np.mean(values))
    a = (mean * percent / 100 + counts * digit) * (1 + 0.1 * max(0, ambient - 28, 18 - ambient))
    u_b = a / math.sqrt(3)
    u_a = max(float(stats.sem(values)), digit / math.sqrt(12)) if count > 1 else 0.0
    u = math.hypot(u_a, u_b)
    nu = (count - 1) * (u / u_a) ** 4 if u_a else None
    of = stats.norm if nu is None else stats.t(nu)
    p = float(of.cdf((high - mean) / u) - of.cdf((low - mean) / u))
    verdict = "pass" if p >= 0.95 else "fail" if p <= 0.05 and not low <= mean <= high else "in doubt"
    question = {"readings": values, "percent": percent, "counts": counts, "digit": digit, "ambient_c": ambient}
    answer = {"value": mean, "u_a": u_a, "u_b": u_b, "u": u, "nu": nu, "p_conform": p, "verdict": verdict}
    yield "reading", {**question, "low": low, "high": high}, answer


def derived(draw: random.Random) -> Iterator[Asked]:
    a = {"value": 12.06, "percent": 0.5, "counts": 3, "digit": 0.01}
    b = {"value": round(draw.uniform(1, 11), 2), "percent": 0.8, "counts": 2, "digit": 0.01}
    u_a, u_b = ((it["value"] * it["percent"] / 100 + it["counts"] * it["digit"]) / math.sqrt(3) for it in (a, b))
    x, y = a["value"], b["value"]
    yield "derived", {"form": "product", "a": a, "b": b}, {"value": x * y, "u": math.hypot(u_a * y, u_b * x)}
    yield "derived", {"form": "ratio", "a": a, "b": b}, {"value": x / y, "u": x / y * math.hypot(u_a / x, u_b / y)}
    yield "derived", {"form": "drop", "a": a, "b": b}, {"value": x - y, "u": math.hypot(u_a, u_b)}
    shared = {"form": "drop", "a": a, "b": {**a, "value": y}, "same_meter": True}
    yield "derived", shared, {"value": x - y, "u": math.sqrt(((x - y) * 0.005) ** 2 / 3 + 2 * 0.03**2 / 3)}


def response(draw: random.Random) -> Iterator[Asked]:
    def hand() -> float:
        return 0.2 + draw.gauss(0, 0.02) + draw.expovariate(25)

    block = [round(hand(), 4) for _ in range(20)]
    delay, count = draw.choice((0.3, 0.4, 0.55, 0.7)), draw.choice((3, 5, 8))
    trials = [round(delay + hand(), 4) for _ in range(count)]
    found = float(np.median(np.subtract.outer(trials, block))) + 0.06
    s_w = float(np.std(stats.mstats.winsorize(np.array(block), (0.2, 0.2)), ddof=1)) / 0.6
    scatter = 1.2 * s_w**2 * (1 / count + 1 / 20)
    u = math.sqrt(scatter + 0.005**2 + 0.025**2)
    nu = u**4 / (scatter**2 / 11)
    answer = {"delay_s": found, "s_w_s": s_w, "u_s": u, "nu": nu, "k": float(stats.t.ppf(1 - 0.0110, nu))}
    given = {"latency_s": 0.06, "u_latency_s": 0.005, "u_model_s": 0.025, "limit_s": 0.5}
    yield "response", {"unit_taps_s": trials, "reference_minus_programmed_s": block, **given}, answer


def rates(draw: random.Random) -> Iterator[Asked]:
    failures, hours, confidence = draw.randrange(9), draw.uniform(10, 9e4), draw.choice((0.6, 0.9, 0.95))
    upper = float(stats.chi2.ppf(confidence, 2 * failures + 2)) / 2 / hours
    lower = float(stats.chi2.ppf(1 - confidence, 2 * failures)) / 2 / hours if failures else 0.0
    bounds = {"rate_per_h": failures / hours, "lower_per_h": lower, "upper_per_h": upper, "factor": upper * hours}
    yield "rate-bound", {"failures": failures, "hours": hours, "confidence": confidence}, bounds
    k, level = draw.randrange(51), draw.choice((0.9, 0.95))
    wilson = stats.binomtest(k, 50).proportion_ci(level, "wilson")
    yield "yield", {"k": k, "n": 50, "level": level}, {"share": k / 50, "low": wilson.low, "high": wilson.high}
    b, c = draw.randrange(1, 14), draw.randrange(14)
    yield "mcnemar", {"b": b, "c": c}, {"p_exact": float(stats.binomtest(b, b + c).pvalue)}


def before_after(draw: random.Random) -> Iterator[Asked]:
    before = [round(draw.gauss(5, 0.1), 3) for _ in range(8)]
    after = [round(value + draw.gauss(0.03, 0.05), 3) for value in before]
    test = stats.ttest_rel(after, before)
    mean = float(np.mean(np.subtract(after, before)))
    yield "paired", {"before": before, "after": after}, {"mean_difference": mean, "t": test.statistic, "p": test.pvalue}


def course(draw: random.Random) -> Iterator[Asked]:
    count = draw.choice((12, 17, 30))
    hours, values, away = [place / 2 for place in range(count)], [], 0.0
    for hour in hours:
        away = 0.6 * away + draw.gauss(0, 0.01)
        values.append(round(5 + 0.001 * hour + away, 4))
    line = stats.linregress(hours, values)
    left = np.array(values) - line.intercept - line.slope * np.array(hours)
    r1 = float((left[:-1] * left[1:]).sum() / (left**2).sum())
    phi = min(0.95, max(0.0, r1 + (1 + 4 * r1) / count))
    se, df = line.stderr * math.sqrt((1 + phi) / (1 - phi)), max(1.5, count * (1 - phi) / (1 + phi) - 2)
    plain = {"slope_per_h": line.slope, "se": line.stderr, "df": count - 2, "p": line.pvalue, "phi": phi}
    corrected = {"se_corrected": se, "df_corrected": df, "p_corrected": 2 * stats.t.sf(abs(line.slope / se), df)}
    yield "drift", {"hours": hours, "values": values}, {**plain, **corrected}


def returns(draw: random.Random) -> Iterator[Asked]:
    days = [draw.randrange(1, 40) for _ in range(15)]
    came_back = [draw.random() < 0.4 for _ in days]
    if not any(came_back):
        return
    out = [day for day, back in zip(days, came_back, strict=True) if not back]
    home = [day for day, back in zip(days, came_back, strict=True) if back]
    curve = stats.ecdf(stats.CensoredData(uncensored=home, right=out)).sf
    share = float(curve.evaluate(25))
    yield "returns", {"days": days, "returned": came_back, "at_days": 25}, {"survival": share, "return_rate": 1 - share}


def ageing(draw: random.Random) -> Iterator[Asked]:
    ea, use, stress = draw.uniform(0.3, 1), draw.uniform(10, 40), draw.uniform(50, 120)
    cold, hot = 1 / (use + KELVIN), 1 / (stress + KELVIN)
    heat = math.exp(ea / BOLTZMANN_EV * (cold - hot))
    arrhenius = {"model": "arrhenius", "ea_ev": ea, "use_c": use, "stress_c": stress}
    yield "acceleration", arrhenius, {"factor": heat}
    swing = {"model": "coffin-manson", "use_dt": 30, "stress_dt": 80, "exponent": 2.2}
    yield "acceleration", swing, {"factor": (80 / 30) ** 2.2}
    p, mean, hours = draw.uniform(0.01, 0.3), draw.uniform(50, 500), draw.uniform(1, 100)
    shows = stats.expon(scale=mean / 4)
    hidden = p * shows.sf(hours) / (1 - p + p * shows.sf(hours))
    question = {"p_latent": p, "mean_h": mean, "factor": 4, "soak_h": hours}
    yield "latent", question, {"p_after": float(hidden), "p_caught": float(shows.cdf(hours))}
    units = draw.randrange(1, 50)
    equal = heat * hours * units
    upper = float(stats.chi2.ppf(0.9, 2)) / 2 / equal
    soak = {"hours": hours, "units": units, "failures": 0, "soak_c": stress, "use_c": use, "ea_ev": ea}
    evidence = {"factor": heat, "equivalent_h": equal, "upper_per_h": upper, "mtbf_lower_h": 1 / upper}
    yield "soak-evidence", {**soak, "confidence": 0.9}, evidence


def pointer(draw: random.Random) -> Iterator[Asked]:
    marks = np.array([0.0, 25, 50, 75, 100])
    up = marks + np.array([draw.gauss(0, 1) for _ in marks])
    error = up - marks
    ends = error[0] + (error[-1] - error[0]) * marks / 100
    fitted = np.polyval(np.polyfit(marks, up, 1), marks)
    rows = [[sign * x, sign, -1] for sign in (1, -1) for x in marks]
    band = optimize.linprog([0, 0, 1], A_ub=rows, b_ub=[*up, *-up], bounds=[(None, None), (None, None), (0, None)])
    answer = {
        "error_percent": list(error),
        "terminal_based_percent": max(abs(error - ends)),
        "least_squares_percent": max(abs(up - fitted)),
        "independent_percent": band.fun,
        "end_low_percent": error[0],
        "end_high_percent": error[-1],
    }
    yield "marks", {"expected": list(marks), "up": list(up), "span": 100}, answer


def suspects(draw: random.Random) -> Iterator[Asked]:
    blocks, steps = ["A", "B", "C", "D"], [f"s{place}" for place in range(6)]
    prior = {block: draw.uniform(0.02, 0.2) for block in blocks}
    q = {block: {step: draw.choice((0.95, 0.75, 0.35, 0.08)) for step in steps} for block in blocks}
    out = {"s0": 1.0, "s1": 0.0, "s2": draw.uniform(0.1, 0.9)}
    sets = [chosen for size in (1, 2, 3) for chosen in itertools.combinations(blocks, size)]

    def fails(step: str, chosen: Sequence[str]) -> float:
        return 1 - 0.97 * math.prod(1 - q[block][step] for block in chosen)

    def weight(chosen: Sequence[str]) -> float:
        found = math.prod(prior[block] if block in chosen else 1 - prior[block] for block in blocks)
        seen = (p * fails(step, chosen) + (1 - p) * (1 - fails(step, chosen)) for step, p in out.items())
        return found * math.prod(seen)

    weights = np.array([weight(chosen) for chosen in sets])
    after = weights / weights.sum()
    posterior = {b: sum(p for p, chosen in zip(after, sets, strict=True) if b in chosen) for b in blocks}
    results = {"s0": "fail", "s1": "pass", "s2": out["s2"]}
    asked = {"blocks": blocks, "steps": steps, "prior": prior, "q": q, "leak": 0.03, "results": results}
    yield "suspects", asked, {"posterior": posterior, "ranking": sorted(blocks, key=lambda block: -posterior[block])}
    gain = {step: _information(after, [fails(step, chosen) for chosen in sets]) for step in steps[3:]}
    yield "next-step", {**asked, "minutes": dict.fromkeys(steps, 2)}, {"gain_bit": gain}


def _information(posterior: Sequence[float], fails: Sequence[float]) -> float:
    total = float(np.dot(posterior, fails))
    apart = [p * float(stats.entropy([f, 1 - f], base=2)) for p, f in zip(posterior, fails, strict=True)]
    return float(stats.entropy([total, 1 - total], base=2)) - sum(apart)


ASKED: tuple[Callable[[random.Random], Iterator[Asked]], ...] = (
    reading,
    derived,
    response,
    rates,
    before_after,
    course,
    returns,
    ageing,
    pointer,
    suspects,
)


def differences(answer: Any, expected: Any) -> Iterator[float]:
    """Yield the relative difference of each figure; infinity for a word, a name or a length that differs."""
    if isinstance(expected, Mapping):
        for name, value in expected.items():
            yield from differences(answer.get(name), value) if isinstance(answer, Mapping) else (math.inf,)
    elif isinstance(expected, list):
        if not isinstance(answer, list) or len(answer) != len(expected):
            yield math.inf
            return
        for one, other in zip(answer, expected, strict=True):
            yield from differences(one, other)
    elif expected is None or isinstance(expected, str):
        yield 0.0 if answer == expected else math.inf
    elif answer is None:
        yield math.inf
    else:
        away = abs(float(answer) - float(expected))
        yield 0.0 if away <= ABSOLUTE else away / max(abs(float(expected)), 1e-300)


def main() -> int:
    parser = argparse.ArgumentParser(description="The door's answers beside those of numpy and scipy.")
    parser.add_argument("--rounds", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    draw = random.Random(given.seed)  # noqa: S311 - a simulation
    found: dict[str, list[float]] = defaultdict(list)
    for _ in range(given.rounds):
        for ask in ASKED:
            for name, question, expected in ask(draw):
                answer = json.loads(answer_line(json.dumps({"compute": name, **question}))[0])
                found[name].extend(differences(answer, expected))
    print(f"{'compute':14}  figures  largest relative difference")
    for name, away in found.items():
        print(f"{name:14}  {len(away):7}  {max(away):.1e}")
    return 1 if any(max(away) > RELATIVE for away in found.values()) else 0


if __name__ == "__main__":
    sys.exit(main())

"""How often is a steady value called drifting or moved? Tables for readings that hang together.

    python tests/benchmarks/drift_false_alarm.py [--trials 20000] [--seed 1]

Readings follow each other with an autocorrelation of 0.6 (or 0, independent) and don't drift. Shown are the shares in
which the plain test and the corrected one call a slope at 5 %, and those in which a drift would be told: corrected,
and more than a quarter of the way to a limit within 100 readings, for limits at 6 and at 60 standard deviations.
Below, the shares in which a cumulative sum signals after its base, and the mean readings until it does.
"""

import argparse
import math
import random  # noqa: TID251 - a simulation from a seed
from collections.abc import Iterator

from passcheck.judge.cusum import DECISION_SIGMAS, SLACK_SIGMAS, cusum
from passcheck.judge.drift import drift
from passcheck.judge.run_length import run_length

SIGNIFICANT = 0.05
LIMITS_SIGMAS = (6.0, 60.0)
SERVICE_READINGS = 100
SHARE_OF_MARGIN = 0.25


def readings(draw: random.Random, count: int, phi: float) -> list[float]:
    """Return readings with a standard deviation of 1 and that autocorrelation."""
    value, values = draw.gauss(0, 1), []
    for _ in range(count):
        values.append(value)
        value = phi * value + math.sqrt(1 - phi * phi) * draw.gauss(0, 1)
    return values


def drift_row(draw: random.Random, count: int, phi: float, trials: int) -> list[float]:
    """Return the shares called by the plain test, by the corrected one, and told as a drift."""
    hours = [float(place) for place in range(count)]
    calls = [0, 0, 0, 0]
    for _ in range(trials):
        values = readings(draw, count, phi)
        found = drift(hours, values)
        sure = found.p_corrected < SIGNIFICANT
        way = abs(found.slope_per_h) * SERVICE_READINGS
        margins = [limit - math.copysign(1, found.slope_per_h) * values[-1] for limit in LIMITS_SIGMAS]
        told = [sure and way > SHARE_OF_MARGIN * margin for margin in margins]
        calls = [so_far + call for so_far, call in zip(calls, [found.p < SIGNIFICANT, sure, *told], strict=True)]
    return [call / trials for call in calls]


def cusum_row(draw: random.Random, base: int, after: int, trials: int) -> tuple[float, float]:
    """Return the shares in which independent readings signal: target and sigma from the base, or sigma alone.

    The second watches upward only around the true mean: the smallest share that a base so short can be said to give.
    """
    signals = one_sided = 0
    for _ in range(trials):
        start = readings(draw, base, 0)
        target = sum(start) / base
        sigma = math.sqrt(sum((each - target) ** 2 for each in start) / (base - 1))
        k, h = SLACK_SIGMAS * sigma, DECISION_SIGMAS * sigma
        values = readings(draw, after, 0)
        signals += cusum(values, target, k, h).first_signal is not None
        one_sided += max(cusum(values, 0, k, h).up) > h
    return signals / trials, one_sided / trials


def table(trials: int, seed: int) -> Iterator[str]:
    """Yield the lines of both tables."""
    draw = random.Random(seed)  # noqa: S311 - a simulation
    yield f"{trials} steady values a row, seed {seed}"
    yield "DRIFT  readings  autocorrelation  plain test  corrected  told, 6 sd  told, 60 sd"
    for phi in (0.0, 0.6):
        for count in (5, 9, 12, 17, 25, 49):
            plain, corrected, near, far = drift_row(draw, count, phi, trials)
            yield f"       {count:8}  {phi:15.1f}  {plain:10.1%}  {corrected:9.1%}  {near:10.1%}  {far:11.1%}"
    yield "CUSUM  base  readings after it  signals  upward only, mean known"
    for base, after in ((3, 5), (6, 12), (12, 5), (12, 12), (12, 36)):
        both, upward = cusum_row(draw, base, after, trials)
        yield f"       {base:4}  {after:17}  {both:7.1%}  {upward:23.1%}"
    yield "CUSUM  shift in sigma  mean readings until it signals (target and sigma known)"
    for shift in (0.0, 0.5, 1.0, 2.0):
        yield f"       {shift:14.1f}  {run_length(SLACK_SIGMAS, DECISION_SIGMAS, shift):10.1f}"


def main() -> None:
    parser = argparse.ArgumentParser(description="False alarms of drift and of a cumulative sum, as tables.")
    parser.add_argument("--trials", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    for line in table(asked.trials, asked.seed):
        print(line)


if __name__ == "__main__":
    main()

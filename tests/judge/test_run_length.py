"""How soon does a cumulative sum signal?"""

import math
import random  # noqa: TID251 - readings of a steady and of a moved value, from fixed seeds

import pytest

from passcheck.judge.cusum import DECISION_SIGMAS, SLACK_SIGMAS, cusum
from passcheck.judge.run_length import run_length


def test_a_steady_value_signals_once_in_465_readings_and_a_step_of_one_sigma_after_ten() -> None:
    assert run_length(SLACK_SIGMAS, DECISION_SIGMAS) == pytest.approx(465.44, abs=0.05)
    assert run_length(SLACK_SIGMAS, DECISION_SIGMAS, shift=1) == pytest.approx(10.376, abs=0.002)


@pytest.mark.parametrize(
    ("h", "shift", "published"),
    [(4, 0, 168), (4, 0.5, 26.6), (4, 1, 8.38), (4, 2, 3.34), (5, 0, 465), (5, 0.5, 38.0), (5, 1, 10.4), (5, 2, 4.01)],
)
def test_the_table_of_lucas_and_crosier(h: float, shift: float, published: float) -> None:
    assert run_length(0.5, h, shift) == pytest.approx(published, rel=0.004)


def test_one_side_alone_signals_half_as_often() -> None:
    assert run_length(0.5, 5, two_sided=False) == pytest.approx(2 * run_length(0.5, 5))
    assert run_length(0.5, 5, two_sided=False) == pytest.approx(930.89, abs=0.1)


def test_both_directions_of_a_step_are_seen_alike() -> None:
    assert run_length(0.5, 5, -1) == pytest.approx(run_length(0.5, 5, 1))


def test_a_walk_through_the_sum_itself_takes_as_long() -> None:
    """The chain and `cusum` share no arithmetic; 4000 walks are known to 1.2 %."""
    draw = random.Random(31)  # noqa: S311 - readings, no secrets
    lengths = [_readings_until_signal(draw, shift=1.0) for _ in range(4000)]
    error = math.sqrt(sum((each - 10.376) ** 2 for each in lengths)) / len(lengths)
    assert sum(lengths) / len(lengths) == pytest.approx(run_length(0.5, 5, 1), abs=4 * error)


def test_a_slack_or_decision_value_that_cannot_be_is_refused() -> None:
    for k, h in ((-0.5, 5), (0.5, 0)):
        with pytest.raises(ValueError, match="slack"):
            run_length(k, h)


def _readings_until_signal(draw: random.Random, shift: float) -> int:
    values = [draw.gauss(shift, 1) for _ in range(120)]
    signal = cusum(values, 0, 0.5, 5).first_signal
    assert signal is not None
    return signal

"""Is no more said about a soak than its readings bear?"""

from decimal import Decimal

import pytest

from passcheck.judge.limits import parse_limits
from passcheck.judge.soak_trend import soak_trend

RAIL = parse_limits("4.85 V .. 5.15 V")
NOISE = [0, 1, -1, 1, 0, -1, 0, 1, -1, 0, 1, -1, 0, 1, 0, -1]


def row(count: int, per_hour: str, noise: str = "0.001") -> tuple[list[float], list[Decimal]]:
    hours = [float(hour) for hour in range(count)]
    return hours, [Decimal("5.00") + Decimal(per_hour) * hour + Decimal(noise) * NOISE[hour] for hour in range(count)]


def test_under_twelve_readings_only_first_last_change_and_distance_are_told() -> None:
    trend = soak_trend(*row(11, "0.010"), u=0.004, limits=RAIL, service_h=1000)
    assert (trend.drifts, trend.line) == (None, None)
    assert trend.sentence == (
        "11 readings after warm-up: first 5.000 V, last 5.101 V, change 101 mV ± 11 mV, 49 mV from the limit of "
        "4.85 V .. 5.15 V. Too few readings to say whether it drifts."
    )


def test_a_slope_that_matters_is_called_a_drift() -> None:
    trend = soak_trend(*row(12, "0.002"), u=0.004, limits=RAIL, service_h=1000)
    assert trend.drifts is True
    assert trend.sentence.endswith(
        "It drifts: 2 V within 1000 h at this slope, more than a quarter of the way to its limit."
    )


def test_a_slope_that_does_not_matter_is_no_drift() -> None:
    trend = soak_trend(*row(12, "0.002"), u=0.004, limits=RAIL, service_h=10)
    assert trend.drifts is False
    assert trend.sentence.endswith("It moves, but by less than a quarter of the way to its limit within 10 h.")


@pytest.mark.parametrize(("service_h", "drifts"), [(15, False), (17, True)])
def test_a_quarter_of_the_way_to_the_limit_is_what_matters(service_h: float, *, drifts: bool) -> None:
    """At 2 mV/h and 128 mV from the limit a quarter of the way is gone in 16 h."""
    hours = [float(hour) for hour in range(12)]
    values = [Decimal("5.000") + Decimal("0.002") * hour for hour in range(12)]
    trend = soak_trend(hours, values, 0.004, RAIL, service_h)
    assert trend.distance == Decimal("0.128")
    assert trend.drifts is drifts


def test_the_change_has_the_uncertainty_of_two_readings() -> None:
    assert soak_trend(*row(5, "0"), u=0.004, limits=RAIL, service_h=100).u_change == pytest.approx(0.005656854)


def test_a_reading_without_uncertainty_is_told_as_it_is() -> None:
    trend = soak_trend([0, 1], [Decimal("5.00"), Decimal("5.15")], 0.0, RAIL, 100)
    assert trend.sentence.startswith(
        "2 readings after warm-up: first 5 V, last 5.15 V, change 0.15 V ± 0 V, 0 V from the limit"
    )


def test_a_value_that_moves_away_from_its_only_limit_does_not_drift() -> None:
    trend = soak_trend(*row(12, "0.002"), u=0.004, limits=parse_limits("at least 4.85 V"), service_h=1e6)
    assert (trend.distance, trend.drifts) == (None, False)
    assert "no limit on that side" in trend.sentence
    assert trend.sentence.endswith("It moves, away from its only limit.")


def test_scatter_is_no_drift() -> None:
    trend = soak_trend(*row(16, "0"), u=0.004, limits=RAIL, service_h=1e6)
    assert trend.drifts is False
    assert trend.sentence.endswith("No drift stands out from the scatter of these readings.")


def test_readings_of_the_warm_up_do_not_count() -> None:
    hours, values = row(14, "0")
    values[0] = values[1] = Decimal("4.90")
    cold, warm = (soak_trend(hours, values, 0.004, RAIL, 1000, warm_up_h) for warm_up_h in (0, 2))
    assert (cold.count, warm.count) == (14, 12)
    assert warm.first == values[2]
    assert soak_trend(hours, values, 0.004, RAIL, 1000, warm_up_h=3).drifts is None


@pytest.mark.parametrize(
    ("limits", "values", "distance"),
    [
        ("4.85 V .. 5.15 V", ["5.00", "5.05"], "0.10"),
        ("4.85 V .. 5.15 V", ["5.05", "5.00"], "0.15"),
        ("4.85 V .. 5.15 V", ["5.05", "5.05"], "0.10"),
        ("at most 5.15 V", ["5.00", "5.20"], "-0.05"),
        ("at most 5.15 V", ["5.10", "5.00"], None),
        ("at least 4.85 V", ["5.00", "5.10"], None),
        ("at least 4.85 V", ["5.10", "5.10"], "0.25"),
    ],
)
def test_the_limit_is_the_one_that_the_value_heads_for(limits: str, values: list[str], distance: str | None) -> None:
    trend = soak_trend([0, 1], [Decimal(each) for each in values], 0.004, parse_limits(limits), 1000)
    assert trend.distance == (None if distance is None else Decimal(distance))


def test_beyond_the_limit_is_said_so() -> None:
    trend = soak_trend([0, 1], [Decimal("5.00"), Decimal("5.20")], 0.004, RAIL, 1000)
    assert "50 mV beyond the limit" in trend.sentence


def test_the_order_of_the_readings_changes_nothing() -> None:
    hours, values = row(13, "0.001")
    back = soak_trend(hours[::-1], values[::-1], 0.004, RAIL, 100)
    assert back == soak_trend(hours, values, 0.004, RAIL, 100)


def test_one_reading_has_no_course() -> None:
    with pytest.raises(ValueError, match="1 readings after warm-up"):
        soak_trend([0], [Decimal(5)], 0.004, RAIL, 1000)

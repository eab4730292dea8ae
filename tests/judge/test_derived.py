"""Is a value worked out from two readings as sure as its readings, and no surer?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.derived import Form, Source, derive, derived_unit

values = st.floats(0.1, 100)


def meter(value: float, percent: float = 0.5, counts: float = 3, digit: float = 0.01) -> Source:
    """A reading of a meter of 0.5 % + 3 digits."""
    return Source(value, abs(value) * percent / 100, counts * digit)


def test_a17_a_drop_read_with_one_meter_is_three_times_surer() -> None:
    inputs, expected, tolerance = reference_case("A17")
    a, b = (meter(inputs[name], inputs["pct"], inputs["counts"], inputs["lsd_V"]) for name in ("V1_V", "V2_V"))
    same, other = derive("drop", a, b, same_range=True), derive("drop", a, b)
    assert same.value == pytest.approx(expected["dV_V"], rel=tolerance["rel"])
    assert same.u == pytest.approx(expected["u_correlated_V"], rel=tolerance["rel"])
    assert other.u == pytest.approx(expected["u_if_independent_V"], rel=tolerance["rel"])


def test_a_power_adds_the_relative_errors_of_voltage_and_current() -> None:
    voltage, current = Source(12.0, 0.06, 0.03), Source(0.5, 0.005, 0.003)
    power = derive("product", voltage, current)
    assert power.value == 6.0
    assert power.u == pytest.approx(6.0 * math.hypot(0.09 / 12, 0.008 / 0.5) / math.sqrt(3))
    assert math.isinf(power.nu)


def test_a_ratio_has_the_same_relative_error() -> None:
    found = derive("ratio", Source(5.0, 0.05, 0.0), Source(2.0, 0.04, 0.02))
    assert found.value == 2.5
    assert found.u / 2.5 == pytest.approx(math.hypot(0.05 / 5, 0.06 / 2) / math.sqrt(3))


def test_a_common_gain_cancels_in_a_ratio_and_adds_up_in_a_product() -> None:
    a, b = Source(8.0, 0.08, 0.0), Source(2.0, 0.02, 0.0)
    assert derive("ratio", a, b, same_range=True).u == pytest.approx(0.0, abs=1e-12)
    assert derive("product", a, b, same_range=True).u == pytest.approx(16 * 0.02 / math.sqrt(3))


def test_scatter_of_few_readings_leaves_few_degrees_of_freedom() -> None:
    found = derive("drop", Source(5.0, 0.0, 0.0, u_a=0.02, nu_a=2), Source(4.0, 0.0, 0.01))
    assert found.u_a == 0.02
    assert found.nu == pytest.approx(2 * (found.u / 0.02) ** 4)
    assert derive("drop", Source(5.0, 0, 0, 0.02, 2), Source(4.0, 0, 0, 0.02, 2)).nu == pytest.approx(4)


def test_a_drop_over_a_negative_reading_still_shares_its_gain() -> None:
    across = derive("drop", Source(1.0, 0.01, 0.0), Source(-1.0, 0.01, 0.0), same_range=True)
    assert across.u == pytest.approx(0.02 / math.sqrt(3))


@given(values, values)
def test_one_meter_never_makes_a_drop_less_sure(a: float, b: float) -> None:
    assert derive("drop", meter(a), meter(b), same_range=True).u <= derive("drop", meter(a), meter(b)).u * (1 + 1e-12)


@given(values, values, st.floats(1e-3, 1e3))
def test_other_units_change_nothing_but_the_scale(a: float, b: float, factor: float) -> None:
    scaled = [meter(each * factor, digit=0.01 * factor) for each in (a, b)]
    drop = derive("drop", meter(a), meter(b), same_range=True)
    assert derive("drop", scaled[0], scaled[1], same_range=True).u == pytest.approx(drop.u * factor)
    assert derive("ratio", scaled[0], scaled[1]).u == pytest.approx(derive("ratio", meter(a), meter(b)).u)


def test_a_ratio_to_zero_has_no_value() -> None:
    with pytest.raises(ValueError, match="zero"):
        derive("ratio", meter(1.0), meter(0.0))


@pytest.mark.parametrize(
    ("form", "a", "b", "found"),
    [
        ("product", "V", "A", ("W", 1.0)),
        ("product", "A", "V", ("W", 1.0)),
        ("ratio", "V", "A", ("Ω", 1.0)),
        ("ratio", "V", "V", ("%", 100.0)),
        ("drop", "V", "V", ("V", 1.0)),
        ("drop", "V", "A", None),
        ("product", "V", "V", None),
        ("ratio", "A", "V", None),
    ],
)
def test_units_follow_from_the_form(form: Form, a: str, b: str, found: tuple[str, float] | None) -> None:
    assert derived_unit(form, a, b) == found

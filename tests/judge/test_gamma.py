"""Does the incomplete gamma function keep the digits of the tables?"""

import json
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.judge.gamma import gamma_shares

TABLE = json.loads((Path(__file__).parents[1] / "samples" / "gamma.json").read_text("utf-8"))


@pytest.mark.parametrize(("shape", "value", "below", "above"), TABLE["rows"])
def test_both_shares_agree_with_250_digits_to_two_parts_in_10_to_the_12(
    shape: float, value: float, below: float, above: float
) -> None:
    lower, upper = gamma_shares(shape, value)
    assert lower == pytest.approx(below, rel=2e-12, abs=1e-300)
    assert upper == pytest.approx(above, rel=2e-12, abs=1e-300)


def test_the_table_names_the_command_that_made_it() -> None:
    maker = Path(__file__).parents[1] / "benchmarks" / "gamma_reference.py"
    assert TABLE["made_by"].endswith("tests/benchmarks/gamma_reference.py > tests/samples/gamma.json")
    assert TABLE["made_by"] in maker.read_text("utf-8")


@given(st.floats(0, 700))
def test_a_shape_of_one_is_the_exponential(x: float) -> None:
    assert gamma_shares(1, x)[1] == pytest.approx(math.exp(-x), rel=1e-12)


@given(st.floats(0.5, 1e5), st.floats(0, 2e5), st.floats(0, 2e5))
def test_more_lies_below_a_larger_value(shape: float, a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert gamma_shares(shape, low)[0] <= gamma_shares(shape, high)[0] + 1e-12


def test_nothing_lies_below_zero_and_all_below_infinity() -> None:
    assert gamma_shares(3, 0) == (0, 1)
    assert gamma_shares(30, 5e-324) == (0, 1)
    assert gamma_shares(3, math.inf) == (1, 0)


@pytest.mark.parametrize(("shape", "value"), [(0, 1), (-1, 1), (1, -1), (math.nan, 1), (1, math.nan), (math.inf, 1)])
def test_what_has_no_distribution_is_refused(shape: float, value: float) -> None:
    with pytest.raises(ValueError, match="a shape above 0"):
        gamma_shares(shape, value)

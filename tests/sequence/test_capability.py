"""Is the ratio of limits to error told for each step that an instrument decides, and only for those?"""

from decimal import Decimal
from pathlib import Path

import pytest

from passcheck.judge.limits import parse_limits
from passcheck.sequence.capability import Capability, capabilities, shown_digit
from passcheck.sequence.load import load_sequence

BOARDS = Path(__file__).parents[2] / "sequences"


def of(board: str) -> list[Capability]:
    return list(capabilities(load_sequence(BOARDS / f"{board}.yaml")[0]))


def test_a_rail_is_four_point_seven_times_as_wide_as_the_error_of_its_voltmeter() -> None:
    [rail] = [it for it in of("ov-24p") if it.step == "a06"]
    u = (5.0 * 0.005 + 3 * 0.001) / 3**0.5  # the middle of 4.85 V .. 5.15 V, a display of four digits
    assert rail.error == pytest.approx(1.96 * u)
    assert rail.ratio == pytest.approx(0.3 / (2 * 1.96 * u))
    assert (rail.limits, rail.instrument, rail.unit) == ("4.85 V .. 5.15 V", "voltmeter", "V")


def test_a_one_sided_limit_has_an_error_at_its_end_and_no_ratio() -> None:
    [fuse] = [it for it in of("ov-24p") if it.step == "a02"]
    assert fuse.ratio is None
    assert fuse.error == pytest.approx(1.96 * (0.5 * 0.01 + 3 * 0.0001) / 3**0.5)


def test_a_table_whose_rows_share_their_limits_is_told_once() -> None:
    assert [it.step for it in of("th-12")].count("d08-width") == 1


def test_what_no_instrument_decides_is_not_told() -> None:
    told = {it.step for it in of("ov-24p")}
    assert not told & {"a01", "a11", "a14-fuel-up", "a17-sw1", "a18-expected"}
    assert len(told) == 12


@pytest.mark.parametrize(
    ("limits", "digit"),
    [
        ("4.85 V .. 5.15 V", "0.001"),
        ("at least 10 kΩ", "10"),
        ("0 V ± 0.02 V", "0.00001"),
        ("at most 0.05 V", "0.00001"),
    ],
)
def test_a_display_has_four_digits_unless_the_limits_are_written_finer(limits: str, digit: str) -> None:
    assert shown_digit(parse_limits(limits)) == Decimal(digit)

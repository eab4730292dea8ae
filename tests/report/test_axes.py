"""Are the numbers along an axis round, and do all points lie between its ends?"""

from hypothesis import given
from hypothesis import strategies as st

from passcheck.report.axes import MOST_TICKS, axis

values = st.lists(st.floats(-1e12, 1e12).map(lambda value: float(f"{value:.6g}")), min_size=1, max_size=20)


def texts(*of: float) -> list[str]:
    """What stands along the axis."""
    return [tick.text for tick in axis(of).ticks]


def test_ticks_are_round_numbers_with_no_more_digits_than_needed() -> None:
    assert texts(4.85, 5.15) == ["4.8", "4.9", "5", "5.1", "5.2"]
    assert texts(0.0, 8.0) == ["0", "2", "4", "6", "8"]
    assert texts(-40.0, 85.0) == ["−50", "0", "50", "100"]
    assert texts(0.0, 0.00042) == ["0", "0.0001", "0.0002", "0.0003", "0.0004", "0.0005"]
    assert texts(0.0, 12000.0) == ["0", "5000", "10000", "15000"]


def test_one_value_alone_has_an_axis_around_it() -> None:
    it = axis([5.0])
    assert 0.0 < it.share(5.0) < 1.0
    assert 0.0 < axis([0.0]).share(0.0) < 1.0


def test_endless_values_and_none_at_all_leave_an_axis() -> None:
    assert len(axis([float("inf"), 1.0, 2.0]).ticks) > 1
    assert axis([1.0, 2.0]).share(float("inf")) == 1.0
    assert len(axis([]).ticks) > 1


@given(values)
def test_every_value_lies_between_the_ends(some: list[float]) -> None:
    it = axis(some)
    assert float(it.low) <= min(some)
    assert float(it.high) >= max(some)
    assert 2 <= len(it.ticks) <= MOST_TICKS + 2
    assert (it.ticks[0].at, it.ticks[-1].at) == (0.0, 1.0)

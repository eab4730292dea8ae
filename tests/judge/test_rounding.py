"""Are numbers written with no more figures than they deserve?"""

import pytest

from passcheck.judge.rounding import counted, finest, rounded


@pytest.mark.parametrize(
    ("value", "figures", "text"),
    [(57.83, 2, "58"), (35.0, 3, "35"), (0.001618, 2, "0.0016"), (1234.5, 2, "1200"), (0, 2, "0"), (-7.25, 2, "-7.2")],
)
def test_figures_end_where_they_stop_saying_something(value: float, figures: int, text: str) -> None:
    assert rounded(value, figures) == text


def test_things_are_counted_as_people_count_them() -> None:
    assert counted(0, "failure") == "no failure"
    assert counted(1, "failure") == "1 failure"
    assert counted(12, "failure") == "12 failures"
    assert counted(2, "box", "boxes") == "2 boxes"


@pytest.mark.parametrize(
    ("value", "u", "shown"),
    [(0.43217, 0.012, 0.43), (12.3456, 0.3, 12.3), (1234.0, 20, 1230.0), (0.43217, 0.0, 0.43217), (5.4321, 0.5, 5.4)],
)
def test_a_value_ends_at_the_decade_of_its_uncertainty(value: float, u: float, shown: float) -> None:
    assert finest(value, u) == pytest.approx(shown, abs=1e-12)

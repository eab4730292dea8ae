"""Is every thing of a row right, or are those named that are not?"""

import pytest

from passcheck.errors import OurBug
from passcheck.judge.each import judge_each

LAMPS = ("L1 (red)", "L2 (amber)", "L3 (green)")


def test_a_row_without_a_fault_passes_as_a_whole() -> None:
    found = judge_each("lamps", LAMPS, {})
    assert (found.verdict, found.value, found.low, found.high) == ("pass", "3", "3", "3")
    assert found.sentence == "3 of 3 lamps as they should be."


def test_the_first_and_the_last_are_named_as_well_as_any_other() -> None:
    found = judge_each("lamps", LAMPS, {3: "stays dark", 1: "flickers"})
    assert (found.verdict, found.value, found.outside) == ("fail", "1", True)
    assert found.sentence == "2 of 3 lamps not as they should be: L1 (red) flickers, L3 (green) stays dark."


@pytest.mark.parametrize("number", [0, 4, -1])
def test_a_number_beside_the_row_is_our_bug(number: int) -> None:
    with pytest.raises(OurBug, match=f"no number {number} among 3"):
        judge_each("lamps", LAMPS, {number: "stays dark"})


def test_an_empty_row_shows_nothing() -> None:
    assert judge_each("lamps", (), {}).verdict == "not measured"

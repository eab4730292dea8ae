"""Text in lines that fit: nothing acts, nothing is wider, nothing is lost."""

from hypothesis import given
from hypothesis import strategies as st

from passcheck.sequence.faults import cells
from passcheck.sequence.text_lines import text_lines


def test_words_stay_whole_where_they_fit_and_own_line_breaks_are_kept() -> None:
    assert text_lines("the fuel needle drops\nwhen warm", 10) == ("the fuel", "needle", "drops", "when warm")
    assert text_lines("", 10) == ("",)
    assert text_lines("A" * 12, 5) == ("AAAAA", "AAAAA", "AA")


def test_wide_signs_count_as_two_cells() -> None:
    assert text_lines("電源が入らない", 6) == ("電源が", "入らな", "い")


@given(st.text(max_size=200), st.integers(2, 40))
def test_no_line_is_wider_and_none_acts_on_the_terminal(text: str, width: int) -> None:
    lines = text_lines(text, width)
    assert lines
    assert all(cells(line) <= width for line in lines)
    assert all(line.isprintable() for line in lines)

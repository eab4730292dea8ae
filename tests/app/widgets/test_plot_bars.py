"""Do bars show values with their intervals, in order below each other?"""

from hypothesis import given
from hypothesis import strategies as st

from passcheck.app.widgets.plot_bars import NARROWEST, bars_rows
from passcheck.job.figure import Bar, Bars
from passcheck.sequence.faults import cells

SHARES = Bars((Bar("OV-24P", 0.8, 0.4, 1.0), Bar("TH-12", 0.0, 0.0, 0.3)), 1.0, "share", "passed")
PARTS = Bars((Bar("C11", 4, None, None), Bar("F1", 1, None, None)), 4, "parts", "parts used")


def text(bars: Bars, width: int) -> list[str]:
    return ["".join(sign for sign, _ink in row) for row in bars_rows(bars, width)]


def test_a_share_stands_in_its_interval() -> None:
    assert text(SHARES, 59) == [
        "passed, %   |--o--| the share and its 95 % interval",
        "OV-24P │····················|-------------------o---------|",
        "TH-12  │o--------------|",
        "       └┬─────────┬─────────┬─────────┬─────────┬─────────┬",
        "        0        20        40        60        80       100",
    ]


def test_a_count_is_a_bar_with_its_number() -> None:
    drawn = text(PARTS, 40)
    assert drawn[0] == "parts used"
    assert drawn[1].endswith("━ 4")
    assert drawn[2].endswith("━ 1")
    assert drawn[1].count("━") == 4 * drawn[2].count("━") or abs(drawn[1].count("━") - 4 * drawn[2].count("━")) <= 2


def test_without_room_or_bars_there_is_no_plot() -> None:
    assert bars_rows(SHARES, NARROWEST - 1) == ()
    assert bars_rows(Bars((), 1.0, "share"), 80) == ()


def test_a_label_from_a_file_is_cleaned_and_cut() -> None:
    drawn = text(Bars((Bar("\x1b[2J" + "long " * 20, 0.5, 0.4, 0.6),), 1.0, "share"), 60)[1]
    assert "\x1b" not in drawn
    assert drawn.index("│") == 21


@given(st.lists(st.tuples(st.text(max_size=20), st.floats(0, 1)), min_size=1, max_size=8), st.integers(NARROWEST, 130))
def test_no_bar_is_wider_than_the_window(bars: list[tuple[str, float]], width: int) -> None:
    drawn = Bars(tuple(Bar(label, value, value / 2, (value + 1) / 2) for label, value in bars), 1.0, "share", "x")
    assert all(cells(line) <= width for line in text(drawn, width)[1:])

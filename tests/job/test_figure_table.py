"""Does a table fit the columns that there are?"""

from hypothesis import given
from hypothesis import strategies as st

from passcheck.job.figure import Figure
from passcheck.job.figure_table import NARROWEST, cut, table_lines
from passcheck.sequence.faults import cells

ROWS = (("OV-24P", "5 V logic rail with all lamps on", "105"), ("TH-12", "Sensor", "7"))


def figure(*rows: tuple[str, ...]) -> Figure:
    return Figure("time", "How long?", ("BOARD", "STEP", "s"), (False, False, True), rows, (), long=("STEP",))


def test_where_there_is_room_nothing_is_cut_and_numbers_stand_to_the_right() -> None:
    assert table_lines(figure(*ROWS), 80) == (
        "BOARD   STEP                                s",
        "OV-24P  5 V logic rail with all lamps on  105",
        "TH-12   Sensor                              7",
    )


def test_long_texts_are_cut_before_anything_else() -> None:
    assert table_lines(figure(*ROWS), 27) == (
        "BOARD   STEP              s",
        "OV-24P  5 V logic…s on  105",
        "TH-12   Sensor            7",
    )


def test_a_table_without_rows_has_no_heads() -> None:
    assert table_lines(figure(), 80) == ()


def test_what_came_from_a_file_is_cleaned() -> None:
    line = table_lines(figure(("LB", "\x1b[2J", "1")), 80)[1]
    assert "\x1b" not in line


@given(
    st.lists(st.tuples(*[st.text(max_size=30)] * 3), min_size=1, max_size=4),
    st.integers(3 * NARROWEST + 4, 60),
)
def test_no_line_is_wider_than_asked(rows: list[tuple[str, ...]], width: int) -> None:
    assert all(cells(line) <= width for line in table_lines(figure(*rows), width))


def test_titles_that_differ_at_their_end_are_told_apart_when_cut() -> None:
    assert cut("Terminal rise at 1 kW, zone 3", 18) == "Terminal ri…zone 3"
    assert cut("Terminal rise at 1 kW, zone 4", 18) == "Terminal ri…zone 4"
    assert cut("Terminal rise", 11) == "Terminal r…"


def test_a_wide_letter_takes_two_cells() -> None:
    assert cut("温度計", 5) == "温度…"
    assert cut("温度計", 4) == "温…"
    assert cut("abc", 0) == ""

"""Does a paper's text say what the page says, in eighty columns?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from some_paper import COLUMNS, EVERY_PART, RAIL, some_paper

from passcheck.report.document import (
    Box,
    Boxes,
    Cell,
    Column,
    Facts,
    Heading,
    NumberLine,
    Outcome,
    Part,
    Said,
    Table,
    Together,
    ToWrite,
    Words,
    texts,
)
from passcheck.report.fill import filled
from passcheck.report.plain import BRACKETS, WIDTH, plain_text
from passcheck.sequence.faults import cells

any_text = st.text(max_size=40) | st.sampled_from(["wordy " * 30, "W" * 200, "針" * 90, "Strömungs" * 12, "a\nb"])
columns = st.lists(st.builds(Column, any_text, st.floats(0.1, 5), st.booleans()), min_size=1, max_size=6).map(tuple)


def squeezed(text: str) -> str:
    """The text without what breaking it into lines adds."""
    return "".join(text.split())


@st.composite
def tables(draw: st.DrawFn) -> Table:
    heads = draw(columns)
    row = st.tuples(*(st.builds(Cell, any_text, st.booleans(), st.booleans()) | any_text for _ in heads))
    return Table(heads, tuple(draw(st.lists(row | any_text, max_size=5))))


@pytest.mark.parametrize("part", EVERY_PART, ids=lambda part: type(part).__name__)
def test_every_text_of_a_part_is_written(part: Part) -> None:
    said = squeezed(plain_text(some_paper(part))).casefold()
    for text in texts((part,)):
        assert squeezed(text).casefold() in said


@given(st.lists(st.builds(Words, any_text, st.sampled_from(["plain", "quote", "small", "notice"])), max_size=4))
def test_no_line_is_wider_than_eighty_columns(words: list[Words]) -> None:
    parts: list[Part] = [*words, *(Facts(((one.text, one.text),)) for one in words)]
    parts += [Outcome(one.text, one.text) for one in words] + [Heading(one.text) for one in words]
    parts += [Together((Boxes((Box(one.text, 0.2), Said(one.text, 0.3), Box(one.text, 0.9))),)) for one in words]
    assert all(cells(line) <= WIDTH for line in plain_text(some_paper(*parts)).splitlines())


@given(tables())
def test_no_row_of_a_table_is_wider_than_eighty_columns(table: Table) -> None:
    assert all(cells(line) <= WIDTH for line in plain_text(some_paper(table)).split("\n"))


@given(st.text(max_size=80))
def test_nothing_in_a_text_acts_on_a_terminal(text: str) -> None:
    said = plain_text(some_paper(Words(text), Facts(((text, text),)), Table(COLUMNS[:1], (text, (text,)))))
    assert all(line.isprintable() for line in said.split("\n"))
    assert said.endswith("\n")


@given(any_text, st.integers(2, 90))
def test_filling_keeps_every_character_in_order(text: str, width: int) -> None:
    lines = filled(text, width)
    assert squeezed("".join(lines)) == squeezed(text)
    assert all(cells(line) <= width for line in lines)


def test_words_stay_whole_where_they_fit() -> None:
    assert filled("the fuel needle drops", 10) == ("the fuel", "needle", "drops")
    assert filled("", 10) == ("",)
    assert filled("first\nsecond", 20) == ("first", "second")


def test_a_struck_stamp_stands_in_brackets_and_says_what_they_mean() -> None:
    struck = plain_text(some_paper(Table(COLUMNS[:2], (("5 V rail", Cell("FAIL 4.70 V", struck=True)),))))
    assert "(FAIL 4.70 V)" in struck
    assert BRACKETS in struck
    assert BRACKETS not in plain_text(some_paper(Table(COLUMNS[:2], (("5 V rail", "FAIL 4.70 V"),))))


def test_a_number_line_is_said_in_its_words() -> None:
    assert RAIL.words in plain_text(some_paper(Table((Column("Between its limits"),), ((RAIL,),))))


def test_numbers_stand_at_the_right_of_their_column() -> None:
    table = Table((Column("Step"), Column("Value", right=True)), (("rail", "5.01 V"), ("ripple", "142.0 mV")))
    assert "rail      5.01 V\nripple  142.0 mV\n" in plain_text(some_paper(table))


def test_lines_for_a_pen_are_as_wide_as_the_paper() -> None:
    said = plain_text(some_paper(ToWrite((("Technician", 0.6), ("Date", 0.4), ("Owner", 1.0)))))
    lines = [line for line in said.splitlines() if "____" in line]
    assert [line.split(":")[0] for line in lines] == ["Technician", "Owner"]
    assert "Date: ____" in lines[0]
    assert all(70 <= len(line) <= WIDTH for line in lines)


def test_a_paper_of_practice_says_so_first_and_last() -> None:
    lines = plain_text(some_paper(practice=True)).splitlines()
    assert lines[0].startswith("PRACTICE")
    assert lines[-2].startswith("PRACTICE")
    assert "PRACTICE" not in plain_text(some_paper())


def test_what_only_the_page_carries_is_named() -> None:
    assert "not in this text: A31-0417.jsonl" in plain_text(some_paper())


def test_the_same_paper_gives_the_same_text() -> None:
    assert plain_text(some_paper()) == plain_text(some_paper())


def test_a_number_and_its_unit_stay_on_one_line_where_they_have_room() -> None:
    assert filled("Inside 4.85 V .. 5.15 V by 150 mV.", 12) == ("Inside", "4.85 V ..", "5.15 V by", "150 mV.")
    assert filled("500000.25 kΩ", 10) == ("500000.25", "kΩ")


def test_a_drawing_whose_numbers_stand_beside_it_is_not_said_again() -> None:
    columns = (Column("Step"), Column("Seen"), Column("Limits"), Column("Between"))
    row = (
        "Rail",
        Cell("PASS 5.01 V"),
        "4.85 V .. 5.15 V",
        NumberLine(5.01, 0.02, 4.85, 5.15, "5.01 V, 4.85 V .. 5.15 V"),
    )
    shown = plain_text(some_paper(Table(columns, (row,))))
    assert "Between" not in shown
    assert shown.count("5.01 V") == 1
    other = ("Rail", Cell("PASS"), "4.85 V .. 5.15 V", row[3])
    assert "5.01 V, 4.85 V .. 5.15 V" in " ".join(plain_text(some_paper(Table(columns, (row, other)))).split())


def test_the_shorter_words_of_a_wide_table_stay_whole() -> None:
    columns = tuple(Column(head) for head in ("Run", "Purpose", "Begun", "By", "Ambient", "Serial", "Text", "Outcome"))
    row = (
        "1",
        "acceptance",
        "2031-04-02",
        "t1 (First technician)",
        "22 °C",
        "7Q22051",
        "(bb145fff)",
        "intermittent: 2 of 3",
    )
    shown = plain_text(some_paper(Table(columns, (row,))))
    assert all(word in shown for word in ("acceptance", "2031-04-02", "(bb145fff)", "7Q22051"))


def test_a_form_s_boxes_stand_behind_the_words_that_they_are_of() -> None:
    items = (Said("Pins straight", 0.3), Box("seen, 1", 0.2), Said("Lens clear", 0.3), Box("seen, 1", 0.2))
    said = plain_text(some_paper(Together((Boxes(items), Words("next")))))
    assert "\nPins straight           seen, 1: ________\nLens clear              seen, 1: ________\nnext\n" in said


def test_words_that_leave_a_box_no_room_stand_above_it() -> None:
    items = (Said("word " * 18, 0.4), Box("volts", 0.6))
    lines = plain_text(some_paper(Boxes(items))).splitlines()
    at = next(n for n, line in enumerate(lines) if line.startswith("volts: ___"))
    assert lines[at - 2].startswith("word word")

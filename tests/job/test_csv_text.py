import csv
import io
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.job.csv_text import BYTE_ORDER_MARK, LONGEST_CELL, Head, csv_text, text_cell

TEXTS_THAT_ACT = [
    "=1+1",
    "=HYPERLINK(A1)",
    "+1",
    "-1+cmd",
    "@SUM(A1)",
    "|calc",
    "%0",
    " =1",
    "\t=1",
    "\r\n=1",
    "\u00a0=1",
    "\u2003 +1",
    "\u200b=1",
    "\ufeff=1",
    "\x00=1",
    "＝1+1",
    "＋1",
    "－1",
    "＠SUM",
    "｜x",
    "％x",
    "﹦1",
    "-12.5 V",
]
TEXT = st.text(st.characters(exclude_categories=["Cs"]))


def read(table: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(table.removeprefix(BYTE_ORDER_MARK), newline="")))


def acts(cell: str) -> bool:
    """Would a spreadsheet that forgives blanks run it?"""
    seen = next((one for one in cell if not one.isspace()), "")
    return unicodedata.normalize("NFKC", seen)[:1] in tuple("=+-@|%")


@pytest.mark.parametrize("text", TEXTS_THAT_ACT)
def test_a_text_that_a_spreadsheet_would_run_gets_an_apostrophe(text: str) -> None:
    assert text_cell(text).startswith("'")


@pytest.mark.parametrize("text", ["", "fuse", "7Q22051", "3.2 Ω", "a = b", "'=1", "½ full", "1-2", "needle (-3 %)"])
def test_a_text_that_acts_nowhere_stays_as_it_is(text: str) -> None:
    assert text_cell(text) == text


@given(TEXT, TEXT)
def test_no_cell_acts_wherever_a_spreadsheet_splits_it(before: str, after: str) -> None:
    for text in (after, f"={after}", f"{before};={after}", f"{before}; \u00a0+{after}"):
        table = csv_text([Head("note"), Head("value", number=True)], [[text, text]])
        for cell in read(table)[1]:
            assert not any(acts(part) for part in cell.split(";")[1:]), cell
            # A plain negative number in a column of numbers is the one thing that may begin so.
            assert not acts(cell) or cell.removeprefix("-").replace(".", "", 1).isdecimal(), cell


@given(st.lists(st.lists(TEXT, min_size=2, max_size=2), max_size=4))
def test_every_row_is_one_line_of_printable_text_and_reads_back_as_one_row(rows: list[list[str]]) -> None:
    table = csv_text([Head("note"), Head("value", number=True)], rows)
    assert len(read(table)) == 1 + len(rows)
    lines = table.removeprefix(BYTE_ORDER_MARK).split("\r\n")
    assert lines[-1] == ""
    assert len(lines) == 2 + len(rows)
    assert all(line.isprintable() for line in lines)


def test_a_number_stays_a_number_and_what_is_none_is_a_text() -> None:
    heads = [Head("value", number=True)]
    for number in ("-12.5", "0", "142", "0.000142", ""):
        assert read(csv_text(heads, [[number], ["x"]]))[1] == ([number] if number else [""])
    for other in ("=1", "-1+1", "1e5", "nan", "- 1", "٣", "-", "-1\n"):
        assert read(csv_text(heads, [[other]]))[1] == [text_cell(other)]


def test_line_breaks_are_flattened_and_control_characters_shown() -> None:
    assert text_cell("dark\r\nsince Monday\u2028again") == "dark / since Monday / again"
    assert text_cell("a\x1b]0;x\x07\u202eb\x9b") == "a␛]0;x␇<202E>b<009B>"


def test_a_comma_and_a_quote_are_quoted_as_rfc_4180_has_it() -> None:
    assert csv_text([Head("note")], [['up, "down"']]) == '\ufeffnote\r\n"up, ""down"""\r\n'


def test_a_cell_is_no_longer_than_a_spreadsheet_takes() -> None:
    assert LONGEST_CELL <= len(text_cell(";=" * 40_000)) <= LONGEST_CELL + 1 <= 32_767

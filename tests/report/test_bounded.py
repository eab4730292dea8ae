"""Does a text keep to the room that it was given, in any script and whatever is in it?"""

from hypothesis import given
from hypothesis import strategies as st

from passcheck.report.bounded import cut, listed, room
from passcheck.sequence.show_text import CUT


@given(st.text(), st.integers(3, 200))
def test_a_text_that_was_cut_takes_no_more_room_than_it_has(text: str, most: int) -> None:
    shown = cut(text, most)
    assert room(shown) <= most
    assert shown == text.strip() or shown.endswith(CUT)


@given(st.text(alphabet="abc ,.", max_size=40))
def test_a_text_that_has_room_stays_as_it_is(text: str) -> None:
    assert cut(text, 80) == text.strip()


@given(st.lists(st.text(max_size=60), max_size=30), st.integers(1, 8), st.integers(45, 200))
def test_a_list_keeps_to_its_room_and_counts_what_it_leaves_out(texts: list[str], most: int, room_for: int) -> None:
    shown = listed(texts, most, room_for)
    every = dict.fromkeys(text.strip() for text in texts if text.strip())
    assert room(shown) <= room_for
    assert bool(shown) == bool(every)
    assert len(every) <= 1 or len(every) <= most or "more, see the test record" in shown


def test_a_wide_script_and_a_line_break_take_the_room_that_they_take_on_a_page() -> None:
    assert room("針") == room("W") == 2
    assert room("a\nb") == 92
    assert room("\u202e") == len("<202E>")


def test_a_short_list_is_said_whole_and_a_long_one_is_not() -> None:
    parts = [f"C{number}" for number in range(9)]
    assert listed(parts[:3], 6, 40) == "C0, C1, C2"
    assert listed(parts, 4, 60) == "C0, C1, C2, C3 and 5 more, see the test record"
    assert listed(parts, 4, 60, more="") == "C0, C1, C2, C3 and 5 more"
    assert listed([], 4, 40) == ""

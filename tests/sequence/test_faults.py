"""A fault is shown with its place, its line and a caret, and nothing in the file acts on the screen."""

from hypothesis import given
from hypothesis import strategies as st

from passcheck.errors import FileFault
from passcheck.sequence.faults import Fault, SequenceFaults, cells


def test_a_fault_shows_its_place_its_line_and_a_caret() -> None:
    fault = Fault(3, 9, "error", "the unit is missing", "limits: 0.5")
    assert fault.show("board.yaml") == "board.yaml:3:9: the unit is missing\n    limits: 0.5\n            ^"


def test_a_warning_says_that_it_is_one() -> None:
    assert Fault(1, 1, "warning", "it is long", "a").show("b.yaml").startswith("b.yaml:1:1: warning: it is long\n")


def test_the_caret_stands_under_its_place_after_wide_characters() -> None:
    caret = Fault(1, 5, "error", "here", "日本: x").show("b").splitlines()[2]
    assert caret == "    " + " " * 6 + "^"


def test_a_tab_and_an_escape_take_the_room_of_their_pictures() -> None:
    shown = Fault(1, 3, "error", "here", "\t\x1bx").show("b\x1b[2J\n.yaml")
    assert shown == "b␛[2J␊.yaml:1:3: here\n    ␉␛x\n      ^"


def test_a_long_line_is_cut_around_the_place() -> None:
    shown = Fault(1, 5001, "error", "here", "a" * 5000 + "X" + "b" * 5000).show("b").splitlines()
    assert max(len(line) for line in shown) < 200
    assert shown[1][shown[2].index("^")] == "X"


def test_an_empty_line_has_no_caret() -> None:
    assert Fault(1, 1, "error", "the file is empty", "").show("b") == "b:1:1: the file is empty"


def test_all_faults_are_in_the_exception_and_a_flood_is_counted() -> None:
    faults = tuple(Fault(n, 1, "error", "wrong", "x") for n in range(1, 151))
    refused = SequenceFaults("b.yaml", faults)
    assert isinstance(refused, FileFault)
    assert refused.faults == faults
    assert str(refused).splitlines()[-1] == "b.yaml: and 50 more; mend these first"


@given(st.text(max_size=400), st.integers(min_value=1, max_value=401))
def test_whatever_the_line_holds_only_printable_text_is_shown(source: str, column: int) -> None:
    shown = Fault(1, column, "error", "here", source).show("b")
    assert all(line.isprintable() for line in shown.split("\n"))


def test_wide_characters_take_two_cells_and_marks_none() -> None:
    assert (cells("ab"), cells("日本"), cells("e\u0301")) == (2, 4, 1)

"""The card fits any width, its stamps say in words what they are, and nothing in them acts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from rig import Rig

from passcheck.app.widgets.card_lines import card_lines, head_lines, ruling
from passcheck.app.widgets.stamp import box, fit
from passcheck.job.traveller import Stamp, card


def drawn(stamp: Stamp | None, width: int = 19) -> list[str]:
    return ["".join(text for text, _ink in line).rstrip() for line in box(stamp, width).lines]


def test_a_pass_stands_in_a_frame_and_a_fail_is_a_block() -> None:
    assert drawn(Stamp("PASS", "5.01 V", "t1", tries=1)) == ["▌PASS 5.01 V t1▐"]
    fail = box(Stamp("FAIL", "142 mV", "t1", tries=1), 19)
    assert fail.lines[0][0] == (" FAIL 142 mV t1 ", "fail")


def test_a_struck_stamp_says_by_what() -> None:
    assert drawn(Stamp("FAIL", "142 mV", "t1", struck_by="rework 1", tries=1)) == [
        " FAIL 142 mV t1",
        " struck: rework 1",
    ]
    assert box(Stamp("PASS", "5 V", "t1", struck_by="void"), 19).lines[0][0][1] == "struck"


def test_an_unexplained_pass_carries_its_count() -> None:
    assert drawn(Stamp("PASS", "5.01 V", "t1", question="2/5")) == ["▌PASS 5.01 V t1▐", " 2/5 repeats"]


def test_a_doubt_and_a_probe_that_touched_nothing_have_words_of_their_own() -> None:
    assert "DOUBT" in drawn(Stamp("DOUBT", "59 mV", "t1"))[0]
    assert "NOT MEASURED" in drawn(Stamp("NOT MEASURED", "", "t1"))[0]


def test_a_blank_box_holds_dashes_and_a_box_that_is_not_there_a_dot() -> None:
    assert drawn(Stamp("----"))[0].strip() == "----"
    assert drawn(None)[0].strip() == "·"


@pytest.mark.parametrize("struck", ["rework 12", "incident 12", "new revision 14", "case opened 10"])
@pytest.mark.parametrize("width", [10, 13, 19])
def test_a_struck_stamp_keeps_its_number_however_narrow_the_box(struck: str, width: int) -> None:
    said = " ".join(" ".join(drawn(Stamp("FAIL", "142 mV", "t1", struck_by=struck), width)).split())
    assert said.endswith(struck)


def test_in_a_narrow_box_words_and_units_move_down_and_are_not_cut() -> None:
    assert drawn(Stamp("NOT MEASURED", "", "t1"), 10) == ["(NOT)", "(MEASURED)", "(t1)"]
    assert drawn(Stamp("FAIL", "-12.345 mV", "t1"), 10) == [" FAIL", " -12.345", " mV t1"]


@given(st.text(max_size=80), st.text(max_size=60), st.integers(min_value=8, max_value=40))
def test_every_line_of_a_box_is_exactly_as_wide_as_the_box(value: str, struck: str, width: int) -> None:
    for line in box(Stamp("NOT MEASURED", value, "t1", struck_by=struck or None), width).lines:
        assert cell_len("".join(text for text, _ink in line)) == width


@given(st.text(max_size=200), st.integers(min_value=0, max_value=60))
def test_fitted_text_is_exactly_as_wide_as_asked(text: str, width: int) -> None:
    assert cell_len(fit(text, width)) == width


@pytest.mark.parametrize("width", [20, 40, 58, 66, 78, 120, 200])
async def test_the_whole_card_fits_the_width(width: int) -> None:
    rig = Rig()
    bench = await rig.walk(await rig.job(), "as-found")
    facts = card(bench.job, bench.outside(), bench.moment())
    ruled = ruling(facts, width)
    if width >= 58:
        for pieces in (*head_lines("A board [b]with[/b] a long name", "LB-3 rev 1", ruled),):
            assert cell_len("".join(text for text, _ink in pieces)) == width
        for line in card_lines(facts, ruled):
            assert cell_len("".join(text for text, _ink in line.pieces)) + (2 if line.step else 0) == width
    assert any(line.first for line in card_lines(facts, ruled))

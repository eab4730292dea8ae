"""Does the table of results say of each step how it was found, how it was left, and how sure that is?"""

from decimal import Decimal

import pytest
from paper_parts import row, rows, section, text
from recorded_jobs import record_of, recorded
from story import Story
from told_stories import BOARDS, story_of

import sequences
from passcheck.job.commands import LogRework
from passcheck.job.standing import counted
from passcheck.report.document import Cell, NumberLine, Table
from sequences import GUARD, RAIL

TITLE = "Results"
STEP, FOUND, LEFT, LIMITS, LINE, CHANGE, WITH = range(7)


def test_a_step_that_failed_as_found_and_passed_as_left_has_both_with_their_uncertainty() -> None:
    ripple = row(record_of(story_of("OV-24P")), TITLE, "Ripple on 5 V")
    assert text(ripple[FOUND]) == "FAIL 142 mVpp ± 6 mVpp, t1; rework 1"
    assert text(ripple[LEFT]) == "PASS 24 mVpp ± 2 mVpp, t1"
    assert text(ripple[LIMITS]) == "at most 60 mVpp"


def test_a_stamp_that_something_struck_is_struck_and_says_by_what() -> None:
    ripple = row(record_of(story_of("OV-24P")), TITLE, "Ripple on 5 V")
    found, left = ripple[FOUND], ripple[LEFT]
    assert isinstance(found, Cell)
    assert isinstance(left, Cell)
    assert (found.struck, left.struck) == (True, False)


def test_the_change_from_as_found_to_as_left_stands_with_its_uncertainty() -> None:
    paper = record_of(story_of("OV-24P"))
    assert text(row(paper, TITLE, "Ripple on 5 V")[CHANGE]) == "-118 mVpp ± 4 mVpp"
    assert text(row(paper, TITLE, "3.3 V rail")[CHANGE]) == "no change (± 0.05 V)"


def test_the_number_line_is_in_base_units_with_the_reading_as_found_beside_it() -> None:
    line = row(record_of(story_of("OV-24P")), TITLE, "Ripple on 5 V")[LINE]
    assert isinstance(line, NumberLine)
    assert (line.value, line.low, line.high, line.before) == (0.024, None, 0.06, 0.142)
    assert line.words == "24 mVpp ± 2 mVpp, at most 60 mVpp; as found 142 mVpp ± 6 mVpp"


def test_the_number_line_s_span_is_the_95_percent_of_the_kept_uncertainty() -> None:
    told = story_of("OV-24P")
    rail = next(one for step, one in counted(told.job) if step.id == "a06")
    line = row(record_of(told), TITLE, "5 V logic rail")[LINE]
    assert rail is not None
    assert isinstance(line, NumberLine)
    assert (line.value, line.low, line.high) == (5.01, 4.85, 5.15)
    assert line.within == pytest.approx(1.96 * float(Decimal(rail.judgement.u or "0")), rel=1e-3)


@pytest.mark.parametrize("board", BOARDS)
def test_each_number_line_has_the_number_and_the_limits_that_count(board: str) -> None:
    told = story_of(board)
    lines = {text(it[STEP]): it[LINE] for it in rows(section(record_of(told), TITLE))}
    for step, attempt in counted(told.job):
        line = lines[step.title]
        if attempt is None or attempt.judgement.value is None or not isinstance(line, NumberLine):
            continue
        judged = attempt.judgement
        ends = tuple(None if end is None else float(end) for end in (judged.low, judged.high))
        assert (line.value, line.low, line.high) == (float(judged.value or "0"), *ends)


def test_a_pointer_has_a_row_for_each_of_its_marks() -> None:
    half = row(record_of(story_of("OV-24P")), TITLE, "· ½ rising")
    assert [text(it) for it in half[FOUND:LINE]] == ["1 % ± 1 %", "0 % ± 1 %", "-3 % .. 3 %"]
    line = half[LINE]
    assert isinstance(line, NumberLine)
    assert (line.value, line.before, line.low, line.high) == (0.0, 1.0, -3.0, 3.0)


def test_the_numbers_of_a_struck_stamp_are_struck_with_it() -> None:
    _step, found, left, *_rest = row(record_of(story_of("OV-24P")), TITLE, "· ½ rising")
    assert found == Cell("1 % ± 1 %", struck=True)
    assert left == Cell("0 % ± 1 %")


def test_several_numbers_of_which_none_changed_say_so_in_one_clause() -> None:
    assert text(row(record_of(story_of("OV-24P")), TITLE, "Fuel marks")[CHANGE]) == "no change in any of 10"


def test_rows_stand_in_the_groups_of_the_traveller() -> None:
    table = next(it for it in section(record_of(story_of("OV-24P")), TITLE) if isinstance(it, Table))
    groups = [it for it in table.rows if isinstance(it, str)]
    assert groups[:3] == ["Before power", "Supply", "Low line, high line, dip"]


def test_instrument_time_and_initials_stand_in_the_row() -> None:
    rail = row(record_of(story_of("OV-24P")), TITLE, "5 V logic rail")
    assert text(rail[WITH]) == "M1, 2031-04-02 12:22, t1"
    assert ", t1" in text(rail[LEFT])


def test_another_rule_than_the_usual_one_is_named_at_its_limits() -> None:
    paper = record_of(story_of("OV-24P"))
    assert text(row(paper, TITLE, "SW4, ten presses")[LIMITS]) == "10 wanted; rule: all of n"
    assert text(row(paper, TITLE, "5 V logic rail")[LIMITS]) == "4.85 V .. 5.15 V"


def test_a_simple_rule_is_named_where_a_step_says_so() -> None:
    simple = {**sequences.BASE["steps"][1], "rule": "simple"}
    board = sequences.sequence(steps=[sequences.BASE["steps"][0], simple, *sequences.BASE["steps"][2:]])
    story = Story(board).start("as-found").passes(GUARD).passes(RAIL)
    assert "rule: simple" in text(row(recorded(story.job, story.outside), TITLE, story.step(RAIL).title)[LIMITS])


def test_a_fault_that_came_and_went_as_found_does_not_hide_behind_its_last_try() -> None:
    warm = row(record_of(story_of("OV-24P")), TITLE, "Fuel mark, warm")
    assert "2 of 3 tries failed" in text(warm[FOUND])


def test_a_box_that_nobody_filled_is_blank_with_its_limits_beside_it() -> None:
    story = Story()
    rail = row(recorded(story.job, story.outside), TITLE, story.step(RAIL).title)
    assert [text(it) for it in rail[FOUND:LIMITS]] == ["----", "----"]
    assert text(rail[LIMITS]) == "4.85 V .. 5.15 V"


def test_a_pass_that_does_not_count_yet_says_so() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL)
    story.make_safe().start("acceptance").passes(GUARD).passes(RAIL)
    left = row(recorded(story.job, story.outside), TITLE, story.step(RAIL).title)[LEFT]
    assert "doesn't count yet: unexplained, 0/" in text(left)


def test_as_left_shows_the_struck_pass_where_nothing_counts_any_more() -> None:
    story = Story().start("acceptance").passes(GUARD).passes(RAIL)
    story.make_safe().do(LogRework("t1", ("PWR",), ("C1",), "replaced", "leaks"))
    left = row(recorded(story.job, story.outside), TITLE, story.step(RAIL).title)[LEFT]
    assert isinstance(left, Cell)
    assert left.struck
    assert left.text.endswith("; rework 1")


def test_a_fail_and_a_doubt_stand_out() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL)
    found = row(recorded(story.job, story.outside), TITLE, story.step(RAIL).title)[FOUND]
    assert isinstance(found, Cell)
    assert found.strong


def test_an_inspection_on_arrival_stands_as_left_too() -> None:
    arrival = row(record_of(story_of("OV-24P")), TITLE, "As it came in")
    assert text(arrival[LEFT]) == "PASS 5, t1"


def test_what_a_second_person_saw_says_who_saw_it() -> None:
    assert text(row(record_of(story_of("QM-48")), TITLE, "Polarity of C1 to C12")[WITH]).endswith("seen by t2")

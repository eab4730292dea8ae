"""Before and after can be compared at a glance: one scale, words beside every sign, and no line wider than the room."""

import hand
import pytest
from rich.cells import cell_len
from story import Story

import sequences
from passcheck.app.widgets.before_after import comparison, is_comparison
from passcheck.app.widgets.number_line import LIMIT, READING
from passcheck.job.answers import MarksAnswer, SweepAnswer
from passcheck.job.before_after import before_after
from passcheck.job.commands import Attempt
from sequences import GUARD, LAMPS, RAIL

COMMON = {"power": "battery", "proves": ["LAMP"], "needs": [GUARD], "gauge": "fuel"}
MARKS = [{"feed": f"{at} %", "mark": f"mark {at}", "value": f"{at} %"} for at in (0, 50, 100)]
FUEL = {**COMMON, "id": "fuel", "kind": "marks", "title": "Marks", "marks": MARKS, "tolerance": "5 %"}
FUEL_READ = {**FUEL, "readability": "1 %"}
SWEEP = {**COMMON, "id": "sweep", "kind": "sweep", "title": "Sweep", "up": "0.8 s .. 2 s", "down": "0.8 s .. 3 s"}


def drawn(story: Story, step: str, width: int = 78) -> list[str]:
    return [str(line) for line in comparison(story.job, story.step(step), width)]


def found_and_retested(*second: str) -> Story:
    story = Story().start("as-found").passes(GUARD).reads(RAIL, "4.62 V").make_safe()
    story.do(hand.rework("PWR"))
    return story.start("retest").passes(GUARD).reads(RAIL, *second)


def gauge() -> Story:
    """A gauge that hung as found, and is even after a rework."""
    story = Story(sequences.with_steps(FUEL_READ, SWEEP))
    hung = MarksAnswer(("0 %", "41 %", "99 %"), ("1 %", "43 %", "100 %"))
    even = MarksAnswer(("0 %", "50 %", "99 %"), ("1 %", "51 %", "100 %"))
    _walk(story.start("as-found"), hung, SweepAnswer("3.1 s", "1.2 s"))
    story.do(hand.rework("PWR"))
    _walk(story.start(), even, SweepAnswer("1.5 s", "1.2 s"))
    return story


def _walk(story: Story, marks: MarksAnswer, sweep: SweepAnswer) -> None:
    story.passes(GUARD).ready("fuel")
    story.do(Attempt("t1", "fuel", marks, again=marks), Attempt("t1", "sweep", sweep, again=sweep))
    story.make_safe()


def test_one_attempt_is_no_comparison() -> None:
    story = Story().start("as-found").passes(GUARD)
    assert not is_comparison(before_after(story.job, story.step(GUARD)))
    story.passes(GUARD)
    assert not is_comparison(before_after(story.job, story.step(GUARD))), "two as found stand in the list, not here"
    story.start().passes(GUARD)
    assert is_comparison(before_after(story.job, story.step(GUARD)))


def test_every_row_says_in_words_what_its_line_shows() -> None:
    head, found, again, left, figures = drawn(found_and_retested("4.97 V"), RAIL)
    assert head == "BEFORE AND AFTER   changed by +0.35 V ± 0.05 V"
    assert found.startswith("as found FAIL 4.62 V M1 t1 02.04. 10:00 rework 1 ")
    assert again.startswith("retest 1 PASS 4.97 V M1 t1 02.04. 10:00 ")
    assert left == "as left  is retest 1"
    assert figures.split() == ["4.85", "V", "5.15", "V"]


def test_all_rows_share_one_scale() -> None:
    _, found, again, *_ = drawn(found_and_retested("4.97 V"), RAIL)
    assert [column for column, sign in enumerate(found) if sign == LIMIT] == [
        column for column, sign in enumerate(again) if sign == LIMIT
    ]
    assert found.index(READING) < found.index(LIMIT) < again.index(READING) < again.rindex(LIMIT)


def test_a_rework_leaves_nothing_as_left_and_says_so() -> None:
    story = found_and_retested("4.97 V").make_safe()
    story.do(hand.rework("PWR"))
    lines = drawn(story, RAIL)
    assert lines[0] == "BEFORE AND AFTER   nothing counts as left yet"
    assert "rework 2" in lines[2]
    assert lines[3] == "as left  ----  struck by rework 2"


def test_marks_stand_one_a_line_before_and_after_side_by_side_on_one_scale() -> None:
    lines = drawn(gauge(), "fuel")
    assert lines[0] == "BEFORE AND AFTER   2 of 6 changed, most mark 50 rising: +9 % ± 2 %"
    rows = [line for line in lines if line.startswith("mark ")]
    assert len(rows) == 6
    assert all(row.count(READING) == 2 for row in rows)
    assert len({tuple(place for place, sign in enumerate(row) if sign == LIMIT) for row in rows}) == 1
    assert [row.endswith("no change (± 2 %)") for row in rows] == [True, False, True, True, False, True]
    assert lines[-1].split() == ["-5", "%", "5", "%"] * 2


def test_sweeps_of_different_limits_have_a_scale_each() -> None:
    lines = drawn(gauge(), "sweep")
    up, down = (next(line for line in lines if line.startswith(way)) for way in ("up ", "down "))
    assert up.endswith("-1.6 s ± 0.1 s")
    assert down.endswith("no change (± 0.1 s)")
    assert lines[-1] == down, "no figures under limits that differ"


def test_what_has_no_number_has_rows_and_no_lines() -> None:
    story = Story().start("as-found").passes(GUARD).fails(LAMPS).make_safe()
    story.do(hand.rework("PWR"))
    story.start().passes(GUARD).passes(LAMPS)
    head, found, left = drawn(story, LAMPS)
    assert head.endswith("no number to compare: fail before, pass after")
    assert found == "as found FAIL 1 t1 02.04. 10:00 rework 1"
    assert left == "as left  PASS 2 t1 02.04. 10:00"


def test_several_good_units_are_told_apart() -> None:
    story = (
        found_and_retested("4.97 V")
        .make_safe()
        .start("good-unit")
        .passes(GUARD)
        .reads(RAIL, "5.02 V")
        .reads(RAIL, "5.01 V")
    )
    assert [line[:12].strip() for line in drawn(story, RAIL)[4:6]] == ["good unit 1", "good unit 2"]


@pytest.mark.parametrize("width", [20, 40, 56, 76, 78, 98, 200])
def test_no_line_is_wider_than_the_room(width: int) -> None:
    for story, step in ((found_and_retested("4.97 V"), RAIL), (gauge(), "fuel"), (gauge(), "sweep")):
        lines = drawn(story, step, width)
        if width >= 56:
            assert max(map(cell_len, lines)) <= width
        assert lines[0].startswith("BEFORE AND AFTER")


def test_text_of_people_and_files_is_shown_as_it_is() -> None:
    named = [{**mark, "mark": f"[b]{mark['mark']}[/b]\x1b"} for mark in MARKS]
    story = Story(sequences.with_steps({**FUEL_READ, "marks": named, "both_ways": False}))
    marks = MarksAnswer(("0 %", "50 %", "100 %"))
    story.start("as-found").passes(GUARD).ready("fuel").do(Attempt("t1", "fuel", marks))
    story.start().do(Attempt("t1", "fuel", marks))
    text = "\n".join(drawn(story, "fuel"))
    assert "[b]mark 0[/b]" in text
    assert "\x1b" not in text

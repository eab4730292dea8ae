"""Does the record read well with sixty steps, long notes and any alphabet, and is nothing of them lost?"""

from hypothesis import given
from hypothesis import settings as examples
from hypothesis import strategies as st
from paper_parts import row, rows, said, section, text
from recorded_jobs import recorded, source_of
from story import Story

import sequences
from passcheck.job.commands import AddNote, LogRework
from passcheck.report.document import Cell, Column, Table, Words, texts
from passcheck.report.record_long_texts import BELOW, with_rows_that_fit
from sequences import GUARD, RAIL

LONG = "Γραμμή 回路 цепь — " + "solder on the pad, seen under the lens;" * 60
LONGEST_ROW = 3000


def test_a_note_of_two_thousand_characters_stands_in_full_below_the_table() -> None:
    assert len(LONG) > 2000
    story = Story().start("as-found").passes(GUARD, note=LONG)
    paper = recorded(story.job, story.outside)
    assert f"note {BELOW}" in text(row(paper, "Every attempt", "1")[-1])
    parts = section(paper, "Every attempt")
    place = parts.index(Words(LONG, "quote"))
    assert parts[place - 1] == Words("Attempt 1, note:", "small")


def test_a_short_note_stays_in_its_row() -> None:
    story = Story().start("as-found").passes(GUARD, note="short")
    assert "note: short" in text(row(recorded(story.job, story.outside), "Every attempt", "1")[-1])


def test_a_note_of_several_lines_is_one_line_in_its_row() -> None:
    story = Story().start("as-found").passes(GUARD, note="first\nsecond")
    assert "note: first / second" in text(row(recorded(story.job, story.outside), "Every attempt", "1")[-1])


def test_sixty_steps_have_a_row_each() -> None:
    rail = sequences.BASE["steps"][1]
    many = [{**rail, "id": f"rail-{number}", "title": f"Rail {number}"} for number in range(60)]
    story = Story(sequences.sequence(steps=[sequences.BASE["steps"][0], *many], symptoms={}))
    story.start("acceptance").passes(GUARD)
    for number in range(60):
        story.passes(f"rail-{number}")
    paper = recorded(story.job, story.outside)
    titles = [text(it[0]) for it in rows(section(paper, "Results"))]
    assert titles[1:] == [f"Rail {number}" for number in range(60)]


@given(st.text(min_size=1).filter(lambda text: text.strip()))
@examples(max_examples=60, deadline=None)
def test_whatever_somebody_writes_stands_on_the_paper_as_it_was_written(words: str) -> None:
    story = Story()
    story.do(AddNote("t1", words, RAIL))
    (note,) = story.job.notes
    assert note.text in texts(section(recorded(story.job, story.outside), "Notes"))


def test_a_reason_of_twelve_thousand_characters_is_no_row_of_a_table() -> None:
    story = Story()
    reason = "why " * 3000
    story.do(LogRework("t1", ("PWR",), ("C1",), "replaced", reason.strip()))
    paper = recorded(story.job, story.outside)
    assert reason.strip() in said(paper, "Work")
    assert _longest_row(paper.parts) <= LONGEST_ROW


@given(st.lists(st.tuples(st.integers(0, 2000), st.integers(0, 2000)), max_size=6), st.integers(1, 9))
@examples(max_examples=60, deadline=None)
def test_no_row_is_longer_than_a_page_and_no_text_is_lost(lengths: list[tuple[int, int]], share: int) -> None:
    written = tuple((f"a{nth}" * one, Cell(f"b{nth}" * two, struck=True)) for nth, (one, two) in enumerate(lengths))
    parts = with_rows_that_fit((Table((Column("One", share), Column("Two", 3)), written),))
    assert _longest_row(parts) <= LONGEST_ROW + 2 * len(BELOW)
    told = texts(parts)
    assert all(one in told and two.text in told for one, two in written)


def test_a_box_that_points_below_is_struck_as_its_text_was() -> None:
    (table, *_long) = with_rows_that_fit((Table((Column("One"),), ((Cell("x" * 9000, struck=True),),)),))
    assert isinstance(table, Table)
    assert table.rows == ((Cell(BELOW, struck=True),),)


def _longest_row(parts: tuple[object, ...]) -> int:
    tables = [it for it in parts if isinstance(it, Table)]
    return max((sum(len(text(box)) for box in it) for table in tables for it in rows((table,))), default=0)


def test_a_place_for_the_owner_s_name_is_left_to_a_pen() -> None:
    story = Story()
    assert "Owner, by hand: the record names none" in texts(recorded(story.job, source_of(story.job)).parts)

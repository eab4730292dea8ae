"""Which stamp is in which box of the card that rides with the unit?"""

import hand
import pytest
import soaking
from story import Story

import sequences
from passcheck.job.commands import VoidAttempt
from passcheck.job.traveller import COLUMNS, Column, Stamp, card, resolution
from sequences import GUARD, LAMPS, RAIL


def box(story: Story, step: str, column: Column) -> Stamp | None:
    row = next(row for row in card(story.job, story.outside, story.now).rows if row.step.id == step)
    return row.boxes[COLUMNS.index(column)]


def stamp(story: Story, step: str, column: Column = "as left") -> Stamp:
    found = box(story, step, column)
    assert found is not None
    return found


def test_a_step_not_walked_is_dashes() -> None:
    assert stamp(Story(), RAIL) == Stamp("----")


def test_a_column_that_never_walks_the_step_has_no_box() -> None:
    story = Story(sequences.with_soak())
    assert box(story, "soak", "as left") is None
    assert box(story, GUARD, "burn-in") is None
    assert box(story, LAMPS, "burn-in") is None
    assert stamp(story, "soak", "burn-in") == Stamp("----")


def test_what_a_soak_checks_has_a_box_in_burn_in_that_as_left_does_not_fill() -> None:
    story = Story(sequences.with_soak()).start().passes(GUARD).passes(RAIL)
    assert stamp(story, RAIL, "burn-in") == Stamp("----")
    story.make_safe().start("burn-in").power("soak").do(soaking.start(story.job))
    story.reads(RAIL, "5.02 V")
    assert stamp(story, RAIL, "burn-in") == Stamp("PASS", "5.02 V", "t1", tries=1)


def test_a_pass_is_a_word_a_value_and_initials() -> None:
    story = Story().start().passes(GUARD).reads(RAIL, "5.01 V")
    assert stamp(story, RAIL) == Stamp("PASS", "5.01 V", "t1", tries=1)


@pytest.mark.parametrize(("shown", "word"), [("6.00 V", "FAIL"), ("5.14 V", "DOUBT"), ("OL", "NOT MEASURED")])
def test_every_verdict_has_its_word(shown: str, word: str) -> None:
    story = Story().start().passes(GUARD).reads(RAIL, shown)
    assert stamp(story, RAIL).word == word
    assert (stamp(story, RAIL).value == "") == (word == "NOT MEASURED")


def test_no_verdict_is_a_tick_or_a_cross() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL).start().passes(LAMPS)
    for row in card(story.job, story.outside, story.now).rows:
        for one in row.boxes:
            assert one is None or not set("✓✔✗✘xX×") & set(one.word)


def test_each_purpose_stamps_its_own_column() -> None:
    story = Story().start("as-found").passes(GUARD).fails(RAIL).make_safe()
    story.do(hand.rework("PWR"))
    story.start("retest").passes(GUARD).passes(RAIL).make_safe().start().passes(GUARD)
    words = [stamp(story, RAIL, column).word for column in ("as found", "retest", "as left")]
    assert words == ["FAIL", "PASS", "----"]


def test_a_stale_stamp_is_struck_through_by_the_rework() -> None:
    story = Story().start().passes(GUARD).passes(RAIL).make_safe()
    story.do(hand.rework("PWR"))
    assert stamp(story, RAIL).struck_by == "rework 1"
    assert stamp(story, RAIL).word == "PASS", "it stays readable"


def test_a_withdrawn_stamp_is_struck_through_by_its_void() -> None:
    story = Story().start().passes(GUARD)
    story.do(VoidAttempt("t1", 1, "wrong point"))
    assert stamp(story, GUARD).struck_by == "void"


def test_a_fail_whose_void_took_nothing_away_is_not_struck_through() -> None:
    story = Story().start().passes(GUARD).fails(RAIL)
    story.do(VoidAttempt("t1", 2, "slip"))
    assert stamp(story, RAIL).struck_by is None


def test_the_box_shows_the_stamp_that_stands() -> None:
    story = Story().start().passes(GUARD).passes(RAIL).passes(RAIL)
    story.do(VoidAttempt("t1", 3, "wrong point"))
    assert (stamp(story, RAIL).struck_by, stamp(story, RAIL).tries) == (None, 2)


def test_an_unexplained_pass_carries_its_question() -> None:
    story = Story().start().passes(GUARD).fails(RAIL).passes(RAIL)
    assert stamp(story, RAIL).question == "0/5"
    story.passes(RAIL)
    assert stamp(story, RAIL).question == "1/5"


def test_rows_are_the_author_s_steps_under_their_headings() -> None:
    story = Story(sequences.changed_step(RAIL, heading="Rails"))
    rows = card(story.job, story.outside, story.now).rows
    assert [(row.step.id, row.group) for row in rows] == [(GUARD, "Supply"), (RAIL, "Rails"), (LAMPS, "Rails")]


def test_the_card_shows_what_the_gate_says() -> None:
    story = Story()
    assert card(story.job, story.outside, story.now).blockers == story.blocking()


@pytest.mark.parametrize(
    ("u", "digit"), [("0.0324", "0.01"), ("0.4", "0.1"), ("12", "1E+1"), (None, None), ("0", None)]
)
def test_nothing_finer_than_the_uncertainty_is_shown(u: str | None, digit: str | None) -> None:
    found = resolution(u)
    assert (None if found is None else str(found)) == digit

"""Which parts of a group are new, when some were tried and put back, or borrowed?"""

from story import Story

import sequences
from passcheck.job.commands import LogRework
from passcheck.job.events import Action, LeftOld
from passcheck.job.renewed import explained, left_old, renewed

GROUPS = {"PWR": {"title": "Supply", "parts": ["C1", "C2", "C3", "F1"], "renew_together": [["C1", "C2", "C3"]]}}


def told(*entries: tuple[Action, tuple[str, ...]]) -> Story:
    blocks = {**sequences.BASE["blocks"], **GROUPS}
    story = Story(sequences.sequence(blocks=blocks))
    for action, parts in entries:
        donor = "7Q22099" if action == "swapped in" else ""
        story.do(LogRework("t1", ("PWR",), parts, action, "aged", donor=donor))
    return story


def test_what_was_replaced_is_new_and_its_like_is_left_old() -> None:
    job = told(("replaced", ("C1",))).job
    assert renewed(job) == {"C1"}
    assert left_old(job) == (("C2", "C3"),)


def test_a_part_that_was_tried_and_put_back_is_the_old_one_again() -> None:
    story = told(("replaced", ("C1",)), ("put back", ("C1",)))
    assert renewed(story.job) == frozenset()
    assert not any("Renewed together" in one for one in story.blockers())


def test_a_whole_group_of_which_one_was_put_back_blocks_for_that_one() -> None:
    story = told(("replaced", ("C1", "C2", "C3")), ("put back", ("C2",)))
    assert "Renewed together: C2 left old without a stated reason." in story.blockers()


def test_a_borrowed_part_is_no_new_one() -> None:
    assert renewed(told(("replaced", ("C1",)), ("swapped in", ("C1",))).job) == frozenset()


def test_what_is_about_to_be_renewed_looks_at_its_own_group_alone() -> None:
    job = told(("replaced", ("C1",))).job
    assert left_old(job, ("F1",)) == ()
    assert left_old(job, ("C2",)) == (("C3",),)


def test_a_reason_of_blanks_explains_nothing() -> None:
    story = told()
    left = (LeftOld("C2", "renewed last year"), LeftOld("C3", "  "))
    story.do(LogRework("t1", ("PWR",), ("C1",), "replaced", "aged", left_old=left))
    assert explained(story.job) == {"C2"}
    assert "Renewed together: C3 left old without a stated reason." in story.blockers()

"""Do the fails of a unit give the technician something to start a proposal from?"""

from story import Story

import sequences
from passcheck.job.commands import LogRework, Propose
from passcheck.job.decide_work import MOST_PROPOSED
from passcheck.job.proposing import suggestions, to_start_from
from sequences import GUARD, LAMPS, RAIL

RENEW = "Renew C1, C2 together (Supply)"


def as_found(*failing: str) -> Story:
    """Every step walked as found; these fail."""
    story = Story().start("as-found").passes(GUARD)
    for step in (RAIL, LAMPS):
        (story.fails if step in failing else story.passes)(step)
    return story


def test_a_unit_on_which_nothing_fails_suggests_nothing() -> None:
    assert suggestions(as_found().job) == ()


def test_the_group_that_ages_alike_in_the_failing_block_is_suggested_whole() -> None:
    assert suggestions(as_found(RAIL).job) == (RENEW,)


def test_a_fail_in_a_block_without_such_a_group_is_named_by_its_step() -> None:
    (line,) = suggestions(as_found(LAMPS).job)
    title = as_found().step(LAMPS).title
    assert line.startswith(f"Find and mend what fails: {title} (")


def test_a_group_is_suggested_once_however_many_steps_fail_on_it() -> None:
    more = [{**sequences.RAIL_STEP, "id": f"rail-{number}"} for number in range(3)]
    story = Story(sequences.sequence(steps=[*sequences.BASE["steps"], *more])).start("as-found").passes(GUARD)
    for step in more:
        story.fails(step["id"])
    assert suggestions(story.job) == (RENEW,)


def test_no_more_is_suggested_than_may_be_proposed() -> None:
    lamps = sequences.BASE["steps"][-1]
    more = [{**lamps, "id": f"lamps-{number}", "title": f"Lamps {number}"} for number in range(MOST_PROPOSED + 5)]
    story = Story(sequences.sequence(steps=[*sequences.BASE["steps"], *more])).start("as-found").passes(GUARD)
    for step in more:
        story.fails(step["id"])
    lines = suggestions(story.job)
    assert len(lines) == MOST_PROPOSED
    story.do(Propose("t1", lines))


def test_a_group_that_is_new_is_not_suggested_again() -> None:
    story = as_found(RAIL).make_safe()
    story.do(LogRework("t1", ("PWR",), ("C1", "C2"), "replaced", "aged"))
    story.start("retest").passes(GUARD).fails(RAIL)
    assert RENEW not in suggestions(story.job)
    assert any(story.step(RAIL).title in line for line in suggestions(story.job))


def test_the_latest_proposal_is_where_the_next_begins() -> None:
    story = as_found(RAIL)
    assert to_start_from(story.job) == (RENEW,)
    story.do(Propose("t1", ("lens polished",)), Propose("t1", ("lens polished", "F1 renewed")))
    assert to_start_from(story.job) == ("lens polished", "F1 renewed")

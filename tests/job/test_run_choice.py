"""Which runs are offered, what does each say that it walks, and which is the one that comes to mind?"""

import hand
import pytest
from story import Story

import sequences
from passcheck.job.commands import CloseRun, MapComplaint
from passcheck.job.run_choice import RunChoice, choices, suggested
from passcheck.sequence.model import Sequence
from sequences import GUARD, LAMPS, RAIL


def offered(story: Story) -> dict[tuple[str, bool], RunChoice]:
    return {(one.purpose, one.again): one for one in choices(story.job, story.outside, story.now)}


def ids(choice: RunChoice) -> list[str]:
    return [one.step.id for one in choice.planned]


def dim() -> Story:
    """The complaint is matched and confirmed: the rail is low."""
    story = Story(sequences.with_soak())
    story.do(MapComplaint("t1", ("rail-low",)))
    return story.start("as-found").passes(GUARD).fails(RAIL).passes(LAMPS).make_safe()


def closed(story: Story) -> Story:
    story.do(CloseRun("t1"))
    return story


def test_burn_in_is_offered_only_where_the_sequence_has_a_soak() -> None:
    assert [key[0] for key in offered(Story())] == ["as-found", "retest", "acceptance", "good-unit"]
    assert ("burn-in", False) in offered(Story(sequences.with_soak()))


def test_the_failed_symptom_is_offered_again_once_there_is_one() -> None:
    assert ("retest", True) not in offered(Story())
    story = dim()
    story.do(hand.rework("PWR"))
    found = offered(story)
    assert ids(found["retest", True]) == [GUARD, RAIL]
    assert ids(found["retest", False]) == [GUARD, RAIL, LAMPS]


def test_every_choice_counts_the_minutes_of_what_it_walks() -> None:
    for choice in choices(Story().job, Story().outside, Story().now):
        assert choice.minutes == sum(one.minutes for one in choice.planned)
    assert offered(Story().walk())["acceptance", False].minutes == 0


def test_first_the_complaint_is_confirmed() -> None:
    assert suggested(Story().job) == "as-found"
    assert suggested(closed(Story().start("as-found")).job) == "as-found"


@pytest.mark.parametrize("board", [sequences.sequence(), sequences.with_soak()])
def test_readings_of_a_good_unit_confirm_nothing(board: Sequence) -> None:
    story = closed(Story(board).start("good-unit").passes(GUARD))
    assert suggested(story.job) == "as-found"


def test_after_a_rework_the_question_is_whether_it_helped() -> None:
    story = closed(dim())
    assert suggested(story.job) == "acceptance"
    story.do(hand.rework("PWR"))
    assert suggested(story.job) == "retest"
    closed(story.start("good-unit"))
    assert suggested(story.job) == "retest"
    closed(story.start("retest").passes(GUARD).make_safe())
    assert suggested(story.job) == "acceptance"


def test_a_unit_of_which_all_but_the_soak_passes_is_soaked() -> None:
    assert suggested(Story(sequences.with_soak()).walk().job) == "burn-in"
    assert suggested(Story().walk().job) == "acceptance"


def test_the_final_look_comes_after_the_soak() -> None:
    steps = [*sequences.BASE["steps"], sequences.SOAK_STEP, sequences.FINAL_STEP]
    story = Story(sequences.sequence(steps=steps)).start().passes(GUARD).passes(RAIL).passes(LAMPS).make_safe()
    assert suggested(closed(story).job) == "burn-in"

"""What is said, and which act is offered, where no step lies on the bench?"""

from story import Story

import sequences
from passcheck.app.no_step import NoStep, no_step
from passcheck.job.commands import CloseRun, ReturnUnrepaired
from sequences import GUARD, LAMPS, RAIL


def shown(story: Story) -> NoStep:
    return no_step(story.job, story.job.last)


def walked() -> Story:
    return Story().start().passes(GUARD).passes(RAIL).passes(LAMPS)


def test_without_a_run_one_is_offered() -> None:
    assert shown(Story()) == NoStep("No run is open", act="Start a run")


def test_a_walked_run_under_power_is_made_safe_first() -> None:
    found = shown(walked())
    assert (found.state, found.act) == ("DONE", "Make safe (F8)")


def test_a_walked_run_on_a_unit_that_is_off_is_closed() -> None:
    found = shown(walked().make_safe())
    assert (found.state, found.act) == ("DONE", "Close the run")


def test_a_note_that_a_step_still_wants_comes_before_done() -> None:
    story = Story(sequences.changed_step(GUARD, note=True)).start()
    found = shown(story.passes(GUARD).passes(RAIL).passes(LAMPS))
    assert (found.state, found.act) == ("NOTE", "Note or photo (F4)")
    assert found.title == "Every step was walked; 1 note or photo still missing"


def test_a_job_that_has_ended_offers_nothing() -> None:
    story = walked().make_safe()
    story.do(CloseRun("t1"), ReturnUnrepaired("t1", "no parts"))
    assert shown(story) == NoStep("This job has ended: returned unrepaired")

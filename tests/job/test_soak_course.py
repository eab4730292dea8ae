"""What the readings of a soak's looks tell of a value."""

import hand
import soaking
from story import Story

import sequences
from passcheck.job.answers import ReadingAnswer
from passcheck.job.commands import Attempt
from passcheck.job.soak_course import courses, warnings
from sequences import RAIL

LONG = {**sequences.SOAK_STEP, "hours": "30 h", "continuity": "the relay that drops out"}


def soaked(readings: list[str], **soak: str) -> Story:
    """A unit whose rail read these values, one a look."""
    story = Story(sequences.with_steps({**LONG, **soak})).walk().start("burn-in").power("soak")
    story.do(soaking.start(story.job, witness="in"))
    for number, shown in enumerate(readings):
        if number:
            story.clock.pass_time(hours=1)
            story.do(soaking.check(story.job, continuity="in"))
        story.answer(RAIL)
        story.do(Attempt("t1", RAIL, ReadingAnswer((shown,)), again=ReadingAnswer((shown,))))
    return story


def told(story: Story) -> tuple[str, ...]:
    return warnings(story.job, soaking.soak_of(story.job))


def test_a_steady_value_warns_of_nothing() -> None:
    assert told(soaked([f"{5 + 0.01 * (n % 2):.2f} V" for n in range(16)])) == ()


def test_a_value_that_creeps_toward_its_limit_drifts() -> None:
    (warning,) = told(soaked([f"{4.98 + 0.006 * n:.3f} V" for n in range(14)]))
    assert warning.startswith("5 V logic rail drifts. 14 readings after warm-up: first 4.98 V")


def test_a_step_that_stays_has_moved_for_good() -> None:
    (warning,) = told(soaked([f"{5 + 0.001 * (n % 3):.3f} V" for n in range(12)] + ["5.012 V"] * 6))
    assert "5 V logic rail" in warning


def test_under_twelve_readings_nothing_is_said_of_a_drift() -> None:
    story = soaked([f"{4.98 + 0.006 * n:.3f} V" for n in range(8)])
    (course,) = courses(story.job, soaking.soak_of(story.job))
    assert course.warning == ""
    assert course.trend.sentence.endswith("Too few readings to say whether it drifts.")


def test_readings_of_the_warm_up_are_left_out() -> None:
    story = soaked(["5.00 V"] * 5, warm_up="90 min")
    (course,) = courses(story.job, soaking.soak_of(story.job))
    assert len(course.values) == 3


def test_a_rework_begins_a_new_course() -> None:
    story = soaked(["5.00 V"] * 5).make_safe()
    story.do(hand.rework("PWR"))
    assert courses(story.job, soaking.soak_of(story.job)) == ()

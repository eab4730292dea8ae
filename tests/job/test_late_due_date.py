"""Does the calibration due date of a late entry count on the day of its reading, neither earlier nor later?"""

from datetime import date

import pytest
from rig import settings
from story import Story

from passcheck.job.answers import ReadingAnswer
from passcheck.job.commands import Attempt
from passcheck.job.settings import BenchSettings
from sequences import GUARD, RAIL

TODAY = date(2031, 4, 2)
BEFORE_MIDNIGHT, AFTER_MIDNIGHT = "2031-04-02T21:59:00+00:00", "2031-04-02T22:01:00+00:00"  # 23:59 and 00:01 there


def due(day: date, **members: date) -> BenchSettings:
    """The usual bench, its one multimeter due on that day."""
    now = settings()
    meter = now.instruments["M1"].model_copy(update={"due": day, **members})
    return now.model_copy(update={"instruments": {**now.instruments, "M1": meter}})


def late(step: str, shown: str, at: str) -> Attempt:
    return Attempt("t1", step, ReadingAnswer((shown,)), instrument="M1", measured_at=at)


def powered_over_night(last_day: date) -> Story:
    """The rail's supply is on from the evening, and what was written down is entered on the next afternoon."""
    story = Story(settings_now=due(last_day)).start().passes(GUARD).ready(RAIL)
    story.clock.pass_time(hours=30)
    return story


def test_what_was_read_on_the_last_day_is_taken_however_late_it_is_entered() -> None:
    story = powered_over_night(TODAY)
    story.do(late(RAIL, "5.00 V", BEFORE_MIDNIGHT))
    assert story.last_attempt().judgement.verdict == "pass"


def test_what_was_read_after_the_last_day_is_not() -> None:
    refusal = powered_over_night(TODAY).refused(late(RAIL, "5.00 V", AFTER_MIDNIGHT))
    assert (refusal.code, refusal.sentence) == ("instrument", "M1 is overdue since 2031-04-02.")


def test_a_calibration_between_the_reading_and_its_entry_does_not_reach_back() -> None:
    story = powered_over_night(TODAY).with_settings(due(date(2032, 4, 1)))
    assert story.refused(late(RAIL, "5.00 V", AFTER_MIDNIGHT)).sentence == "M1 is overdue since 2031-04-02."


@pytest.mark.parametrize(("at", "stands"), [(BEFORE_MIDNIGHT, False), (AFTER_MIDNIGHT, True)])
def test_the_gate_asks_for_the_same_day(at: str, stands: bool) -> None:
    story = Story(settings_now=due(TODAY)).start()
    story.clock.pass_time(hours=30)
    story.do(late(GUARD, "300 Ω", at))
    against = "5 V rail to 0 V, unpowered: M1 was overdue since 2031-04-02 when it was read."
    assert (against in story.blockers()) == stands


@pytest.mark.parametrize(("since", "stands"), [(TODAY, True), (date(2031, 4, 3), False)])
def test_a_meter_that_became_doubtful_later_takes_nothing_from_an_earlier_reading(since: date, stands: bool) -> None:
    story = Story().start()
    story.clock.pass_time(hours=30)
    story.do(late(GUARD, "300 Ω", BEFORE_MIDNIGHT))
    story.with_settings(due(date(2031, 12, 1), doubtful_since=since))
    assert any("M1, which is doubtful since" in one for one in story.blockers()) == stands

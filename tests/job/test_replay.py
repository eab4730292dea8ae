"""How do the lines of a journal become moments and events again?"""

from datetime import UTC, datetime

from story import Story

from passcheck.job.events import Resumed
from passcheck.job.journal_line import Line
from passcheck.job.moment import Moment
from passcheck.job.replay import recorded, stamp
from passcheck.job.tags import encode


def lines(story: Story) -> list[Line]:
    return [
        Line(one.number, stamp(one.moment), one.by, one.moment.boottime_ms, *encode(one.event)) for one in story.history
    ]


def test_every_line_comes_back_with_its_moment_and_its_person() -> None:
    story = Story().walk()
    assert list(recorded(lines(story))) == story.history


def test_a_line_belongs_to_the_boot_that_was_last_told() -> None:
    story = Story().start()
    story.clock.reboot()
    story.restart()
    boots = [one.moment.boot_id for one in recorded(lines(story))]
    assert boots == ["boot-1", "boot-1", "boot-2"]
    assert isinstance(story.history[-1].event, Resumed)


def test_a_stamp_is_utc_to_the_millisecond() -> None:
    moment = Moment(datetime(2031, 4, 2, 9, 14, 3, 512_999, tzinfo=UTC), 120, 1, "b")
    assert stamp(moment) == "2031-04-02T09:14:03.512Z"
    assert moment.local() == datetime(2031, 4, 2, 11, 14, 3, 512_999)  # noqa: DTZ001 - as the wall shows it

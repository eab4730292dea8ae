"""Which lines close a journal for good, and which carry a failure that the ledger has to know?"""

import hand
import pytest
from story import Story

from passcheck.job.ending import SEALING_EVENTS, is_failure, is_seal
from passcheck.job.events import Event, ReturnedInPart, ReturnedUnrepaired, SignedOff
from passcheck.job.journal_line import Line
from passcheck.job.tags import TAGS, encode
from sequences import GUARD, RAIL


def line(event: Event) -> Line:
    return Line(1, "2031-04-02T08:00:00.000Z", "t1", 0, *encode(event))


@pytest.mark.parametrize(
    "event",
    [SignedOff("7Q22051", "released"), ReturnedUnrepaired("no parts"), ReturnedInPart(("rail",), "owner")],
)
def test_the_three_endings_seal(event: Event) -> None:
    assert is_seal(line(event))


def test_nothing_else_seals() -> None:
    assert set(TAGS) >= SEALING_EVENTS
    assert sum(is_seal(Line(1, "", "t1", 0, tag, {})) for tag in TAGS) == 3


def test_a_fail_is_a_failure_and_a_pass_is_none() -> None:
    story = Story().start()
    (passed,) = story.do(hand.passing(story.job, GUARD))
    assert not is_failure(line(passed))
    (failed,) = story.ready(RAIL).do(hand.failing(story.job, RAIL))
    assert is_failure(line(failed))


def test_a_probe_that_never_touched_is_no_failure() -> None:
    (event,) = Story().start().do(hand.reading(GUARD, "OL"))
    assert not is_failure(line(event))

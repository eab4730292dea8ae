"""Is the time of a reading off a sheet of paper understood as the bench's clock on the wall showed it?"""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from rig import RigClock, settings

import sequences
from passcheck.job.late_entry import can_be_late, late_key, when_measured
from sequences import LAMPS, RAIL

NOW = replace(RigClock()(), utc=datetime(2031, 4, 2, 14, 0, tzinfo=UTC))  # 16:00 on the wall


@pytest.mark.parametrize(
    ("written", "kept"),
    [
        ("14:10", "2031-04-02T12:10:00+00:00"),
        ("16:00", "2031-04-02T14:00:00+00:00"),
        ("23:50", "2031-04-01T21:50:00+00:00"),  # the latest such time was last night
        ("2031-04-02 09:05", "2031-04-02T07:05:00+00:00"),
        ("2031-04-02T09:05Z", "2031-04-02T09:05:00+00:00"),
    ],
)
def test_a_time_is_the_walls_and_is_kept_in_utc(written: str, kept: str) -> None:
    assert when_measured(written, NOW) == kept


@pytest.mark.parametrize("written", ["", "noon", "25:10", "14.10", "0001-01-01T00:00+23:00", "½"])
def test_what_is_no_time_is_none(written: str) -> None:
    assert when_measured(written, NOW) is None


def test_only_a_plain_reading_can_be_late() -> None:
    board = sequences.sequence()
    assert can_be_late(board.step(RAIL))
    assert not can_be_late(board.step(LAMPS))


def test_the_key_is_said_as_a_keyboard_has_it() -> None:
    assert late_key(settings()) == "Ctrl+S"
    assert late_key(settings(keys={"bench.late": "f11"})) == "F11"

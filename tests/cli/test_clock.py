"""Does the bench's clock go forward, in UTC, under a name for this start of the machine?"""

from datetime import timedelta
from pathlib import Path

import pytest

from passcheck.cli import clock


def test_moments_follow_one_another_within_one_start_of_the_machine() -> None:
    first, second = clock.now(), clock.now()
    gone = second.since(first)
    assert gone is not None
    assert gone >= timedelta(0)
    assert first.utc.utcoffset() == timedelta(0)


def test_without_a_name_from_the_system_the_start_is_named_by_its_minute(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(clock, "BOOT_ID", tmp_path / "absent")
    clock.boot_id.cache_clear()
    try:
        assert clock.boot_id().startswith("started-")
        assert clock.boot_id() == clock.boot_id()
    finally:
        clock.boot_id.cache_clear()

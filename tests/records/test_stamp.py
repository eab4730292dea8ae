import re
from datetime import UTC, datetime

from passcheck.records.stamp import machine_stamp


def test_the_machines_moment_has_the_form_of_a_line() -> None:
    first, second = machine_stamp(), machine_stamp()
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z", first.at)
    assert datetime.fromisoformat(first.at).tzinfo == UTC
    assert (second.at, second.clock) >= (first.at, first.clock)
    assert first.clock > 0

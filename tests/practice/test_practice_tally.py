"""Is a verdict held against what the unit really did?"""

import pytest

from passcheck.practice.tally import Tally


@pytest.mark.parametrize(
    ("verdict", "departs", "mistyped", "passed", "failed", "slipped"),
    [
        ("pass", False, False, 0, 0, 0),
        ("pass", False, True, 0, 0, 0),
        ("pass", True, False, 1, 0, 0),
        ("pass", True, True, 1, 0, 1),
        ("fail", True, False, 0, 0, 0),
        ("fail", False, False, 0, 1, 0),
        ("in doubt", True, True, 0, 0, 0),
        ("not measured", True, True, 0, 0, 0),
    ],
)
def test_only_a_pass_of_what_departs_and_a_fail_of_what_does_not_are_wrong(
    verdict: str, departs: bool, mistyped: bool, passed: int, failed: int, slipped: int
) -> None:
    tally = Tally()
    tally.hold_against("rail", verdict, departs=departs, mistyped=mistyped)
    found = (tally.passed_wrongly["rail"], tally.failed_wrongly["rail"], tally.mistyped_to_pass["rail"])
    assert found == (passed, failed, slipped)

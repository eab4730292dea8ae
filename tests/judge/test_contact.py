"""Is a probe that touched nothing found out?"""

import pytest

from passcheck.judge.contact import no_contact
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_reading


@pytest.mark.parametrize(
    ("reading", "limits", "seen", "counts"),
    [
        ("OL", "at most 0.5 Ω", None, False),
        ("0.00 Ω", "at most 0.5 Ω", None, False),
        ("-0.03 Ω", "at most 0.5 Ω", None, False),
        ("0.21 Ω", "at most 0.5 Ω", None, True),
        ("0.00 Ω", "at most 0.5 Ω", "0 Ω .. 5 Ω", True),
        ("OL", "at most 0.5 Ω", "0 Ω .. 5 Ω", False),
        ("6 Ω", "at most 0.5 Ω", "0 Ω .. 5 Ω", False),
        ("OL", "at least 10 kΩ", None, False),
        ("OL", "at least 10 kΩ", "1 kΩ .. 1 MΩ", False),
        ("OL", "at least 10 kΩ", "at least 1 kΩ", True),
        ("> 20 MΩ", "at least 10 kΩ", "at least 1 kΩ", True),
        ("-OL", "at least 10 kΩ", "at least 1 kΩ", False),
        ("200 Ω", "at least 10 kΩ", "at least 1 kΩ", False),
        ("0 Ω", "at least 150 Ω", None, False),
        ("0.00 V", "4.85 V .. 5.15 V", None, True),
        ("OL", "4.85 V .. 5.15 V", None, False),
        ("0 mVpp", "at most 60 mVpp", None, False),
        ("3 mVpp", "at most 60 mVpp", "5 mVpp .. 1 Vpp", False),
        ("-5 V", "at most -2 V", None, True),
        ("-10 °C", "at most 45 °C", None, True),
        ("0 %", "at most 3 %", None, True),
    ],
)
def test_nothing_counts_that_a_loose_probe_could_show(
    reading: str, limits: str, seen: str | None, counts: bool
) -> None:
    wanted = parse_limits(limits)
    found = no_contact(parse_reading(reading, wanted.unit), wanted, None if seen is None else parse_limits(seen))
    assert (found is None) is counts


def test_less_than_zero_is_a_value_where_the_limit_is_zero_or_less() -> None:
    for limits in ("at most 0 V", "at most -1 V"):
        assert no_contact(parse_reading("-5 V"), parse_limits(limits), None) is None
    assert no_contact(parse_reading("-5 V"), parse_limits("at most 1 V"), None) is not None

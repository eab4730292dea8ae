"""Which people and instruments does this bench have?"""

from datetime import date

import pytest
from pydantic import ValidationError
from rig import settings

from passcheck.job.settings import BenchSettings


def test_instruments_in_date_are_offered_first_and_withdrawn_ones_not_at_all() -> None:
    bench = settings()
    assert bench.filling("voltmeter", date(2031, 4, 2)) == ("M1", "M2", "M9", "OLD")
    assert bench.filling("voltmeter", date(2031, 4, 1)) == ("M1", "M2", "M9", "OLD")
    withdrawn = bench.instruments["M1"].model_copy(update={"withdrawn": True})
    less = bench.model_copy(update={"instruments": {**bench.instruments, "M1": withdrawn}})
    assert less.filling("voltmeter", date(2031, 4, 2)) == ("M2", "M9", "OLD")


def test_one_that_falls_due_today_is_still_in_date() -> None:
    assert settings().filling("ohmmeter", date(2031, 4, 1))[0] == "M1"
    later = settings().filling("ohmmeter", date(2032, 1, 1))
    assert later == ("M1", "M2", "M9", "OLD"), "all overdue alike: as they stand in the file"


def test_a_role_that_nothing_fills_offers_nothing() -> None:
    assert settings().filling("weighbridge", date(2031, 4, 2)) == ()


@pytest.mark.parametrize(
    "members",
    [
        {"people": {"T1": {"name": "X"}}},
        {"people": {"t1": {"name": ""}}},
        {"letter": "AB"},
        {"colour": "blue"},
        {"known_source": {"title": "battery", "limits": "9"}},
    ],
)
def test_an_entry_that_makes_no_sense_is_refused(members: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        settings(**members)


def test_pin_hashes_are_never_written_with_the_settings() -> None:
    assert settings(pin_hashes={"t1": "scrypt-14-8-1$00$00"}).pin_hashes
    assert BenchSettings.model_fields["pin_hashes"].exclude is True

"""Does this PIN belong to this person?"""

import pytest

from passcheck.job.pin import pin_hash, pin_matches

SALT = bytes(range(16))
KEPT = pin_hash("4711", SALT)


def test_the_pin_it_was_made_of_matches_and_another_does_not() -> None:
    assert pin_matches(KEPT, "4711")
    assert not pin_matches(KEPT, "4712")
    assert not pin_matches(KEPT, "")


def test_the_pin_is_not_in_what_is_kept() -> None:
    assert "4711" not in KEPT
    assert KEPT.startswith("scrypt-14-8-1$")


def test_another_salt_gives_another_hash() -> None:
    assert pin_hash("4711", bytes(16)) != KEPT


@pytest.mark.parametrize("kept", ["", "4711", "scrypt-14-8-1$zz$00", "scrypt-14-8-1$00", "md5$00$00", KEPT + "$"])
def test_a_hash_in_another_form_never_matches(kept: str) -> None:
    assert not pin_matches(kept, "4711")

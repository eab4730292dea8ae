"""Is every person who is drawn between careful and hurried, and nobody more than that?"""

from dataclasses import astuple, fields

from hypothesis import given
from hypothesis import strategies as st

from passcheck.practice.manner import CAREFUL, drawn_manner
from passcheck.practice.serials import drawn_from

MOST = {
    "slips": 0.01,
    "loose_probe": 0.01,
    "tries_again": 0.35,
    "signs_early": 0.3,
    "finds_it": 0.95,
    "by_instrument": 0.2,
}


@given(st.integers())
def test_every_share_is_one_and_none_is_larger_than_was_assumed(seed: int) -> None:
    manner = drawn_manner(drawn_from("person", seed))
    assert all(0 <= getattr(manner, name) <= most for name, most in MOST.items())
    assert [field.name for field in fields(manner)] == list(MOST)
    assert manner.finds_it >= 0.6


def test_two_people_differ_and_the_same_seed_is_the_same_person() -> None:
    assert len({astuple(drawn_manner(drawn_from("person", seed))) for seed in range(20)}) == 20
    assert drawn_manner(drawn_from("person", 1)) == drawn_manner(drawn_from("person", 1))
    assert all(0 <= share <= 1 for share in astuple(CAREFUL))

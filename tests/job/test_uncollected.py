"""Does Python collect again once a long history has been read?"""

import gc
import weakref

import pytest

from passcheck.job.uncollected import uncollected


def test_nothing_is_collected_meanwhile_and_everything_afterwards() -> None:
    assert gc.isenabled()
    with uncollected():
        assert not gc.isenabled()
    assert gc.isenabled()


def test_a_fault_on_the_way_changes_nothing_about_that() -> None:
    with pytest.raises(ValueError, match="line 7"), uncollected():
        raise ValueError("line 7")
    assert gc.isenabled()


def test_whoever_collects_nothing_anyway_is_left_alone() -> None:
    with uncollected():
        with uncollected():
            pass
        assert not gc.isenabled()


class Ring:
    """Holds itself, so that only a collection can take it away."""

    def __init__(self) -> None:
        self.itself = self


def test_a_ring_that_was_made_in_a_long_stretch_is_collected_like_any_other() -> None:
    frozen_before = gc.get_freeze_count()
    with uncollected():
        many = [[number] for number in range(60_000)]
        seen = weakref.ref(Ring())
    assert len(many) == 60_000
    assert gc.get_freeze_count() == frozen_before
    gc.collect()
    assert seen() is None

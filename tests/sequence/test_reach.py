"""What a rework reaches follows the feeds, all the way."""

from hypothesis import given
from hypothesis import strategies as st

from passcheck.sequence.model import Block, LookStep, Sequence
from passcheck.sequence.reach import group_of, proves, reached, steps_reached

NAMES = ("PWR", "MCU", "GAUGE", "KEY")


def board(feeds: dict[str, tuple[str, ...]]) -> Sequence:
    """A board of four blocks with a look for each and one for all."""
    looks = [LookStep(id=name.lower(), kind="look", title=name, points=("seen",), proves=(name,)) for name in NAMES]
    whole = LookStep(id="whole", kind="look", title="All", points=("seen",), proves=("all",))
    none = LookStep(id="none", kind="look", title="None", points=("seen",))
    blocks = {name: Block(title=name, feeds=feeds.get(name, ())) for name in NAMES}
    blocks["PWR"] = Block(title="Supply", feeds=feeds.get("PWR", ()), renew_together=(("C1", "C2"), ("F1", "F2")))
    return Sequence(sequence="B", revision=1, title="B", supplies={}, blocks=blocks, steps=(*looks, whole, none))


def test_a_rework_on_the_supply_reaches_what_it_feeds_and_what_that_feeds() -> None:
    sequence = board({"PWR": ("MCU",), "MCU": ("GAUGE",)})
    assert reached(sequence, ["PWR"]) == {"PWR", "MCU", "GAUGE"}
    assert reached(sequence, ["KEY"]) == {"KEY"}
    assert steps_reached(sequence, ["MCU"]) == ("mcu", "gauge", "whole")


def test_blocks_that_feed_one_another_end() -> None:
    assert reached(board({"PWR": ("MCU",), "MCU": ("PWR",)}), ["MCU"]) == {"PWR", "MCU"}


def test_an_unknown_block_reaches_nothing() -> None:
    assert reached(board({}), ["NOWHERE"]) == frozenset()
    assert steps_reached(board({}), []) == ()


def test_all_stands_for_every_block() -> None:
    sequence = board({})
    assert proves(sequence, sequence.step("whole")) == set(NAMES)
    assert proves(sequence, sequence.step("none")) == frozenset()
    assert proves(sequence, sequence.step("key")) == {"KEY"}


def test_a_part_knows_the_parts_that_age_like_it() -> None:
    assert group_of(board({}), "C2") == ("C1", "C2")
    assert group_of(board({}), "R1") == ()


feeds = st.dictionaries(st.sampled_from(NAMES), st.lists(st.sampled_from(NAMES), max_size=3).map(tuple))


@given(feeds, st.lists(st.sampled_from(NAMES)), st.lists(st.sampled_from(NAMES)))
def test_reach_is_a_closure(links: dict[str, tuple[str, ...]], some: list[str], more: list[str]) -> None:
    sequence = board(links)
    once = reached(sequence, some)
    assert once >= set(some)
    assert reached(sequence, once) == once
    assert reached(sequence, [*some, *more]) == once | reached(sequence, more)
    assert all(fed in once for name in once for fed in sequence.blocks[name].feeds)

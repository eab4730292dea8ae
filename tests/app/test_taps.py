"""Is a tap told from a switch's bounce, a held key and a batch that was read in one go?"""

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.app.taps import Taps, intervals_s, no_tap_key_because, usual_lag_s


def taken(times_s: Sequence[float]) -> Taps:
    taps = Taps()
    for time_s in times_s:
        taps = taps.after(time_s, time_s + 0.002)
    return taps


def kinds(*times_s: float) -> list[str]:
    return [one.kind for one in taken(times_s).arrivals]


def test_taps_of_a_hand_are_taps() -> None:
    assert kinds(1.0, 1.1, 1.35, 2.0) == ["tap"] * 4
    assert intervals_s(taken((1.0, 1.1, 1.35)).arrivals) == pytest.approx((0.1, 0.25))


def test_a_bounce_of_the_switch_is_not_a_second_tap() -> None:
    assert kinds(1.0, 1.003, 1.2, 1.204) == ["tap", "bounce", "tap", "bounce"]
    assert intervals_s(taken((1.0, 1.003, 1.2, 1.204)).arrivals) == pytest.approx((0.2,))


def test_a_held_key_is_one_tap_and_its_first_repeat_is_doubtful() -> None:
    repeats = [1.5 + place / 30 for place in range(6)]
    assert kinds(1.0, *repeats) == ["tap", "doubtful", *["held"] * 5]
    assert kinds(1.0, *repeats, 3.0)[-1] == "tap"


def test_taps_read_in_one_go_are_both_doubtful_and_neither_is_used() -> None:
    assert kinds(1.0, 1.3, 1.3002, 1.6) == ["tap", "doubtful", "doubtful", "tap"]
    starved = taken((1.0, 1.3, 1.3002, 1.6))
    assert intervals_s(starved.arrivals) == pytest.approx((0.6,))
    assert starved.resolution_s == taken((1.0, 1.3)).resolution_s  # those that are used are as good as before


def test_a_chattering_switch_doesn_t_lengthen_its_own_dead_time() -> None:
    assert kinds(1.0, 1.03, 1.055) == ["tap", "bounce", "tap"]


def test_taps_go_on_less_exactly_once_the_reader_is_lost() -> None:
    lost = taken((1.0, 1.3)).reader_lost().after(1.6, 1.602)
    assert [one.stamped_by for one in lost.arrivals] == ["reader", "reader", "screen"]
    assert [one.kind for one in lost.arrivals] == ["tap"] * 3
    assert lost.resolution_s == 0.024


def test_how_late_the_screen_came_to_a_key_is_known_and_not_counted() -> None:
    assert usual_lag_s(taken((1.0, 1.3, 1.7)).arrivals) == pytest.approx(0.002)
    assert usual_lag_s(()) == 0


@pytest.mark.parametrize(
    ("key", "character", "can"),
    [
        ("space", " ", True),
        ("enter", "\r", True),
        ("pagedown", None, True),
        ("f9", None, True),
        ("b", "b", True),
        ("space", None, False),
        ("escape", None, False),
        ("left_shift", None, False),
        ("right_control", None, False),
        ("\x19", None, False),
        ("ctrl+c", "\x03", False),
    ],
)
def test_what_can_be_the_tap_key(key: str, character: str | None, can: bool) -> None:
    assert (no_tap_key_because(key, character) == "") is can


@given(st.lists(st.floats(0.061, 5.0), max_size=30))
def test_no_tap_of_a_hand_is_ever_lost_or_doubled(gaps_s: list[float]) -> None:
    times_s = [10.0]
    for gap_s in gaps_s:
        times_s.append(times_s[-1] + gap_s)
    assert kinds(*times_s) == ["tap"] * len(times_s)


@given(st.lists(st.floats(0.0, 0.2), max_size=40))
def test_whatever_comes_in_is_kept_in_its_order(gaps_s: list[float]) -> None:
    times_s = [10.0]
    for gap_s in gaps_s:
        times_s.append(times_s[-1] + gap_s)
    arrivals = taken(times_s).arrivals
    assert [one.event_s for one in arrivals] == times_s
    assert all(gap_s >= 0.05 for gap_s in intervals_s(arrivals))

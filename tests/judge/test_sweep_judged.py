"""Is a pointer judged by its taps, and a lapse of the hand not taken for a stall?"""

import random  # noqa: TID251 - a simulated hand from a seed
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.errors import OurBug
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import parse_limits
from passcheck.judge.sweep_judged import SweepRow, Way, judge_sweeps, more_needed

TIMES = parse_limits("1.5 s .. 3 s")
HAND_S = 0.030
SEGMENTS = 4


def marks(*gaps_s: float, way: Way = "up", start_s: float = 10.0) -> SweepRow:
    """A row with exactly these times between its taps."""
    return SweepRow(tuple(start_s + sum(gaps_s[:place]) for place in range(len(gaps_s) + 1)), way)


def even(way: Way, segment_s: float = 0.5) -> SweepRow:
    return marks(*(segment_s,) * SEGMENTS, way=way)


def stalled(way: Way, segment: int, stall_s: float = 0.5) -> SweepRow:
    gaps = [0.5] * SEGMENTS
    gaps[segment - 1] += stall_s
    return marks(*gaps, way=way)


def shaken(row: SweepRow, hand: random.Random) -> SweepRow:
    return replace(row, taps_s=tuple(time + hand.gauss(0, HAND_S) for time in row.taps_s))


def judged(*rows: SweepRow) -> Judgement:
    found = judge_sweeps(rows, TIMES, TIMES, SEGMENTS)
    assert found is not None
    return found


def test_even_sweeps_in_time_pass_and_say_which_stall_would_not_have_shown() -> None:
    found = judged(even("up"), even("down", 0.6), even("up"), even("down", 0.6))
    assert found.sentence == (
        "4 of 4 sweeps in time; the one that decides: up, 2.00 s is inside 1.5 s .. 3 s, 0.50 s from the nearer "
        "limit; tapped at its first and last mark, ± 0.08 s. No hesitation; a stall under 0.18 s would not have shown."
    )
    assert (found.verdict, found.value, found.u, found.unit) == ("pass", "2", "0.0424264", "s")
    assert (found.low, found.high, found.rule, found.outside) == ("1.5", "3", "guarded", False)


def test_a_mark_that_was_not_reached_fails_at_once() -> None:
    found = judged(even("up"), marks(0.5, 0.5, way="down"))
    assert found.sentence == "down: did not reach mark 3 of 4 in time."
    assert (found.verdict, found.value, found.high, found.outside) == ("fail", None, "3", True)
    assert "up: did not reach mark 1 of 4" in judged(SweepRow((3.0,), "up")).sentence
    assert "up: did not reach mark 1 of 4" in judged(SweepRow((), "up")).sentence


def test_a_stall_in_the_same_segment_of_both_sweeps_fails_and_is_named() -> None:
    found = judged(stalled("up", 2), even("down"), stalled("up", 2), even("down"))
    assert found.sentence.startswith(
        "The pointer hesitated up between mark 1 and mark 2, in 2 of 2 sweeps. 4 of 4 sweeps in time; "
    )
    assert (found.verdict, found.outside, found.value) == ("fail", True, "2.5")


def test_a_stall_in_one_of_two_sweeps_asks_for_a_third() -> None:
    rows = [stalled("up", 2), even("down"), even("up"), even("down")]
    assert judge_sweeps(rows, TIMES, TIMES, SEGMENTS) is None
    assert more_needed(rows, SEGMENTS) == "up"
    found = judged(*rows, stalled("up", 2))
    assert found.verdict == "fail"
    assert "hesitated up between mark 1 and mark 2, in 2 of 3 sweeps" in found.sentence


def test_stalls_in_different_segments_ask_for_a_third_too() -> None:
    rows = [even("up"), stalled("down", 2), even("up"), stalled("down", 4)]
    assert judge_sweeps(rows, TIMES, TIMES, SEGMENTS) is None
    assert more_needed(rows, SEGMENTS) == "down"


def test_one_stall_that_does_not_come_back_passes_but_is_told() -> None:
    found = judged(stalled("up", 2), even("down"), even("up"), even("down"), even("up"))
    assert found.verdict == "pass"
    assert found.sentence.endswith(
        "Not confirmed: hesitated up between mark 1 and mark 2, in 1 of 3 sweeps. "
        "A stall under 0.18 s would not have shown."
    )


def test_both_ways_are_named_where_both_hesitate() -> None:
    rows = [stalled("up", 2), stalled("down", 3)] * 2
    sentence = judged(*rows).sentence
    assert "hesitated up between mark 1 and mark 2, in 2 of 2 sweeps and hesitated down between mark 2" in sentence


def test_a_jump_is_called_a_jump_and_in_two_segments_a_stall() -> None:
    jumping = [stalled("up", 2, -0.4), even("down")] * 2
    assert "jumped up between mark 1 and mark 2" in judged(*jumping).sentence
    for slow, row in ((2, marks(1.0, 1.5)), (1, marks(1.5, 1.0))):
        rows = [row, marks(1.0, 1.0, way="down")] * 2
        found = judge_sweeps(rows, TIMES, TIMES, 2)
        assert found is not None
        assert f"hesitated up between mark {slow - 1} and mark {slow}" in found.sentence


def test_a_stall_in_one_sweep_and_a_jump_in_the_other_agree_on_nothing() -> None:
    rows = [stalled("up", 2), even("down"), stalled("up", 2, -0.4), even("down")]
    assert more_needed(rows, SEGMENTS) == "up"
    assert judged(*rows, even("up")).verdict == "pass"


def test_segments_under_a_quarter_of_a_second_are_said_to_be_too_short() -> None:
    quick = parse_limits("at most 1 s")
    rows = [even("up", 0.2), even("down", 0.2)] * 2
    found = judge_sweeps(rows, quick, quick, SEGMENTS)
    assert found is not None
    assert found.verdict == "pass"
    assert found.sentence.endswith("Taps can't show a stall in segments so short (0.20 s).")
    assert "No hesitation" not in found.sentence


def test_the_worst_sweep_decides_and_none_is_averaged() -> None:
    slow = judged(even("up"), even("down"), even("up"), even("down", 0.8))
    assert (slow.verdict, slow.value, slow.outside) == ("fail", "3.2", True)
    assert "3 of 4 sweeps in time; the one that decides: down, 3.20 s is outside" in slow.sentence
    close = judged(even("up"), even("down"), even("up", 0.74), even("down"))
    assert (close.verdict, close.value) == ("in doubt", "2.96")


def test_each_way_has_its_own_limits() -> None:
    rows = [even("up"), even("down", 1.0)] * 2
    found = judge_sweeps(rows, TIMES, parse_limits("3.5 s .. 5 s"), SEGMENTS)
    assert found is not None
    assert (found.verdict, found.value, found.low) == ("pass", "2", "1.5")
    other = judge_sweeps(rows, TIMES, TIMES, SEGMENTS)
    assert other is not None
    assert (other.verdict, other.value) == ("fail", "4")


def test_sweeps_go_up_and_down_in_turn() -> None:
    rows: list[SweepRow] = []
    asked = []
    while (way := more_needed(rows, SEGMENTS)) is not None:
        asked.append(way)
        rows.append(even(way))
    assert asked == ["up", "down", "up", "down"]
    assert more_needed([marks(0.5)], SEGMENTS) is None


def test_a_steady_pointer_is_rarely_called_hesitating() -> None:
    hand = random.Random(5)  # noqa: S311 - a simulated hand, not a secret
    failed = third = 0
    for _ in range(500):
        rows = [shaken(even(way), hand) for way in ("up", "down", "up", "down")]
        while (way := more_needed(rows, SEGMENTS, HAND_S)) is not None:
            third += 1
            rows.append(shaken(even(way), hand))
        failed += judged(*rows).verdict == "fail"
    assert failed <= 1
    assert 0 < third < 0.08 * 500  # 1 % of each of four sweeps


def test_a_stall_of_half_a_second_is_found_by_a_hand() -> None:
    hand = random.Random(6)  # noqa: S311 - a simulated hand, not a secret
    for _ in range(100):
        rows = [shaken(row, hand) for row in (stalled("up", 2), even("down")) * 2]
        while (way := more_needed(rows, SEGMENTS, HAND_S)) is not None:
            rows.append(shaken(even(way), hand))
        found = judged(*rows)
        assert found.verdict == "fail"
        assert "hesitated up between mark 1 and mark 2, in 2 of 2 sweeps" in found.sentence


def test_a_stall_as_long_as_the_sentence_says_shows_in_half_of_the_sweeps() -> None:
    hand = random.Random(7)  # noqa: S311 - a simulated hand, not a secret
    for stall_s, least, most in ((0.176, 0.4, 0.6), (0.09, 0.0, 0.1), (0.30, 0.9, 1.0)):
        rows = [(shaken(stalled("up", 2, stall_s), hand), even("up"), even("down"), even("down")) for _ in range(300)]
        seen = sum(more_needed(each, SEGMENTS, HAND_S) == "up" for each in rows)
        assert least <= seen / 300 <= most


GAPS = st.lists(st.floats(0.2, 2).map(lambda gap: round(gap, 2)), min_size=SEGMENTS, max_size=SEGMENTS)
ROWS = st.lists(GAPS, min_size=6, max_size=6)


def rows_of(gaps: list[list[float]], start_s: float = 0.0) -> list[SweepRow]:
    ways: list[Way] = ["up", "down"] * 3
    return [marks(*each, way=way, start_s=start_s) for each, way in zip(gaps, ways, strict=True)]


@given(ROWS, st.integers(-999, 999))
def test_the_moment_a_row_began_changes_no_verdict(gaps: list[list[float]], start_s: int) -> None:
    here = judge_sweeps(rows_of(gaps), TIMES, TIMES, SEGMENTS)
    there = judge_sweeps(rows_of(gaps, start_s), TIMES, TIMES, SEGMENTS)
    assert here is not None
    assert there is not None
    assert (there.verdict, there.low, there.high) == (here.verdict, here.low, here.high)
    assert float(there.value or 0) == pytest.approx(float(here.value or 0))


@given(ROWS, st.integers(10, 200), st.integers(210, 500), st.integers(0, 9), st.integers(0, 200))
def test_wider_times_never_turn_a_pass_into_a_fail(
    gaps: list[list[float]], low: int, high: int, lower: int, higher: int
) -> None:
    narrow = parse_limits(f"{low / 100} s .. {high / 100} s")
    wide = parse_limits(f"{(low - lower) / 100} s .. {(high + higher) / 100} s")
    before, after = (judge_sweeps(rows_of(gaps), each, each, SEGMENTS) for each in (narrow, wide))
    assert before is not None
    assert after is not None
    if before.verdict == "pass":
        assert after.verdict == "pass"


@given(ROWS, st.integers(0, 6))
def test_there_is_a_judgement_exactly_when_no_sweep_is_asked_for(gaps: list[list[float]], count: int) -> None:
    rows = rows_of(gaps)[:count]
    assert (judge_sweeps(rows, TIMES, TIMES, SEGMENTS) is None) == (more_needed(rows, SEGMENTS) is not None)


def test_limits_in_another_unit_are_our_bug() -> None:
    with pytest.raises(OurBug, match="taps give s"):
        judge_sweeps([], TIMES, parse_limits("1 .. 2 Hz"), SEGMENTS)

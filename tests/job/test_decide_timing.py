"""May taps begin, what do they amount to beside a person's own reference trials, and what breaks them off?"""

from dataclasses import replace
from datetime import date
from pathlib import Path

import hand
import pytest
from monitor import Monitor
from monitor_facts import BrokenRule, When, facts_of
from rig import TERMINAL, settings
from story import Story
from tapping import HOW, TapHand

from passcheck.bench.step_course import course_of
from passcheck.bench.tapped_answers import pairs_answer
from passcheck.bench.unit_trials import UnitCourse
from passcheck.job import commands
from passcheck.job.answers import HowStamped, TapPair, TapPairsAnswer, TapRow, TapRowsAnswer
from passcheck.job.commands import Attempt, BeginTiming, InterruptTiming, Refusal
from passcheck.job.events import AttemptJudged, TimingInterrupted
from passcheck.job.kept_block import KeptBlock, block_of_the_day
from passcheck.job.kept_latency import KeptLatency
from passcheck.job.tapped import beside
from passcheck.job.timed import broken_off_words, timed_steps, way_of
from passcheck.judge.judgement import Judgement
from passcheck.sequence.load import read_sequence

BOARD = (Path(__file__).parents[1] / "samples" / "tap-board.yaml").read_text("utf-8")
KEPT = KeptLatency("0.05", "0.002", ("12",) * 5, "240", "2031-04-01", TERMINAL)


def story(*, measured: bool = True) -> Story:
    """A run on the remote that is timed by hand; the bench's latency is known unless said otherwise."""
    known = settings().model_copy(update={"latency": KEPT if measured else None})
    one = Story(read_sequence(BOARD, "tap-board.yaml"), settings_now=known)
    one.outside = replace(one.outside, terminal=TERMINAL)
    one.do(hand.start(one.job))
    return one


def tapped(one: Story, taps: TapHand, step: str, delay_s: float | None, by: str = "t1") -> Judgement:
    """Walk the step's own course to its end and have it judged; the reference trials are there."""
    one.do(BeginTiming(by, step))
    run, known = one.job.open_run, one.job.sequence.step(step)
    assert run is not None
    stands = beside(one.job, run, known, by, one.now, one.outside)
    assert not isinstance(stands, Refusal), stands
    course = course_of(known, stands)
    assert isinstance(course, UnitCourse)
    course = taps.at_the_unit(course, delay_s)
    one.do(Attempt(by, step, pairs_answer(course, HOW)))
    return one.job.attempts[-1].judgement


def test_a_short_limit_asks_for_reference_trials_before_the_first_tap() -> None:
    refusal = story().refused(BeginTiming("t1", "sw1"))
    assert refusal.code == "reference"
    assert "no reference trials for a limit of 0.5 s" in refusal.sentence


@pytest.mark.parametrize("seed", range(5))
def test_a_quick_unit_passes_and_a_slow_one_fails_with_the_reasons_on_record(seed: int) -> None:
    one, taps = story(), TapHand(seed)
    one.do(taps.block())
    quick = tapped(one, taps, "sw1", 0.25)
    assert (quick.verdict, quick.rule, quick.high) == ("pass", "by reference trials", "0.5")
    assert 0.15 < float(quick.value or 0) < 0.35
    kept = one.job.attempts[-1]
    assert (kept.latency_s, kept.latency_u_s, kept.reference, kept.typed_twice) == ("0.05", "0.002", 1, False)
    slow = tapped(one, taps, "sw1", 0.80)
    assert (slow.verdict, one.job.attempts[-1].typed_twice) == ("fail", False)  # a tap is never typed again


def test_an_unmeasured_latency_is_said_and_widens_the_judgement() -> None:
    plain, filmed = story(measured=False), story()
    for one in (plain, filmed):
        one.do(TapHand(1).block())
    wide, narrow = (tapped(one, TapHand(2), "sw1", 0.25) for one in (plain, filmed))
    assert "The latency of this bench was not measured" in wide.sentence
    assert float(wide.u or 0) > 1.2 * float(narrow.u or 0)
    assert "latency" not in narrow.sentence


def test_a_button_that_never_answers_fails_at_once() -> None:
    one, taps = story(), TapHand(3)
    one.do(taps.block())
    dead = tapped(one, taps, "sw1", None)
    assert (dead.verdict, dead.value) == ("fail", None)
    assert dead.sentence.startswith("No response in 1 of 1 trial against at most 0.5 s")


def test_a_row_of_presses_is_judged_beside_the_same_block() -> None:
    one, taps = story(), TapHand(4)
    one.do(taps.block(0.55))
    assert tapped(one, taps, "sw2", 0.2).verdict == "pass"
    assert tapped(one, taps, "sw2", 1.5).verdict == "fail"


def test_seconds_are_judged_by_the_hand_alone_until_that_leaves_a_doubt() -> None:
    one, taps = story(), TapHand(5)
    home = one.job.sequence.step("home")
    assert way_of(one.job, home) == "by hand"
    assert tapped(one, taps, "home", 4.0).verdict == "in doubt"
    assert way_of(one.job, home) == "by reference"
    assert ("home", 4.0, True) in [
        (it.step, it.limit_s, it.in_doubt_by_hand) for it in timed_steps(one.job, "acceptance")
    ]
    assert one.refused(BeginTiming("t1", "home")).code == "reference"


def test_after_two_blocks_in_doubt_taps_settle_nothing_more() -> None:
    one, taps = story(), TapHand(6)
    one.do(taps.block())
    assert tapped(one, taps, "sw1", 0.49).verdict == "in doubt"
    assert tapped(one, taps, "sw1", 0.49).verdict == "in doubt"
    assert tapped(one, taps, "sw1", 0.2).verdict == "in doubt"  # all trials since the last rework count together


def test_another_hand_is_no_better_method() -> None:
    one, taps = story(), TapHand(6)
    one.do(taps.block())
    assert tapped(one, taps, "sw1", 0.49).verdict == "in doubt"
    one.do(TapHand(7).block(by="t2"))
    assert "not 1.5 times better" in tapped(one, TapHand(8), "sw1", 0.25, by="t2").sentence


def test_a_block_is_its_own_persons_runs_and_terminals() -> None:
    one = story()
    one.do(TapHand(1).block())
    assert one.refused(BeginTiming("t2", "sw1")).code == "reference"
    moved = replace(one.outside, terminal="xterm, over SSH")
    one.outside = moved
    assert one.refused(BeginTiming("t1", "sw1")).code == "reference"
    one.outside = replace(moved, terminal=TERMINAL)
    one.do(commands.CloseRun("t1"), hand.start(one.job))
    assert one.refused(BeginTiming("t1", "sw1")).code == "reference"


def test_taps_count_only_where_they_were_begun_by_who_taps() -> None:
    one, taps = story(), TapHand(1)
    one.do(taps.block())
    answer = TapPairsAnswer(tuple(TapPair(f"{at}.000000", f"{at}.500000") for at in range(3)), HOW)
    assert "begun at this step" in one.refused(Attempt("t1", "sw1", answer)).sentence
    one.do(BeginTiming("t1", "sw1"))
    assert one.refused(Attempt("t1", "sw1", answer, measured_at="2031-04-02T08:00Z")).sentence == (
        "Only readings may be entered late."
    )
    assert "more are needed" in one.refused(Attempt("t1", "sw1", replace(answer, pairs=answer.pairs[:2]))).sentence
    assert "doesn't fit" in one.refused(Attempt("t1", "sw1", TapRowsAnswer((TapRow("up", ("1.0",)),), HOW))).sentence
    bad = TapPairsAnswer((TapPair("x", "1.0"),), HOW)
    assert "no moment of a clock" in one.refused(Attempt("t1", "sw1", bad)).sentence
    back = TapPairsAnswer((TapPair("2.0", "1.0"),), HOW)
    assert "ends before it begins" in one.refused(Attempt("t1", "sw1", back)).sentence


def test_void_trials_are_kept_and_decide_nothing() -> None:
    one, taps = story(), TapHand(1)
    one.do(taps.block(), BeginTiming("t1", "sw1"))
    pairs = (*(TapPair(f"{at}.0", f"{at}.5") for at in range(10, 13)), TapPair("20.0", "23.0", "looked away"))
    one.do(Attempt("t1", "sw1", TapPairsAnswer(pairs, HOW)))
    assert one.job.attempts[-1].judgement.verdict == "pass"
    assert one.job.attempts[-1].answer.pairs[-1].void == "looked away"  # type: ignore[union-attr]


def test_a_lost_reader_marks_the_step() -> None:
    one, taps = story(), TapHand(1)
    one.do(taps.block(), BeginTiming("t1", "sw1"))
    pairs = tuple(TapPair(f"{at}.0", f"{at}.5") for at in range(10, 13))
    one.do(Attempt("t1", "sw1", TapPairsAnswer(pairs, HowStamped("monotonic", "0.024", "screen"))))
    assert "stamped by the screen" in one.job.attempts[-1].judgement.sentence


def test_what_is_broken_off_is_void_kept_and_said() -> None:
    one, taps = story(), TapHand(1)
    sw1 = one.job.sequence.step("sw1")
    one.do(taps.block(), BeginTiming("t1", "sw1"))
    one.do(InterruptTiming("t1", "sw1", "the window changed its size", (TapPair("1.0", "1.5"),)))
    assert broken_off_words(one.job, sw1) == "Taps broken off (the window changed its size): void. They begin anew."
    assert isinstance(one.history[-1].event, TimingInterrupted)
    assert one.job.attempts == ()
    assert one.refused(InterruptTiming("t1", "sw1", "again")).code == "order"
    tapped(one, taps, "sw1", 0.2)
    assert broken_off_words(one.job, sw1) == ""


def test_a_program_that_ends_in_the_middle_leaves_the_taps_void() -> None:
    one = story()
    one.do(TapHand(1).block(), BeginTiming("t1", "sw1"))
    one.restart()
    assert one.job.timing is None
    assert "the program ended" in broken_off_words(one.job, one.job.sequence.step("sw1"))


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda it: replace(it, trials=it.trials[:14]), "14 reference trials count, and 15 are needed"),
        (lambda it: replace(it, middle_s="0.900000"), "lie elsewhere"),
        (lambda it: replace(it, middle_s="soon"), "no moment of a clock"),
        (
            lambda it: replace(it, trials=tuple(replace(one, stop=_later(one.stop, 0.6)) for one in it.trials)),
            "No hand",
        ),
        (
            lambda it: replace(it, trials=tuple(replace(one, drawn=_later(one.drawn, 0.2)) for one in it.trials)),
            "lie elsewhere",
        ),
        (lambda it: replace(it, walked="2031-04-02T06:00Z", checked=it.trials[:4]), "takes 5 trials, not 4"),
    ],
)
def test_a_block_that_no_hand_tapped_as_asked_is_refused(change, words) -> None:  # type: ignore[no-untyped-def]
    assert words in story().refused(change(TapHand(1).block())).sentence


def test_the_days_block_is_taken_over_after_five_trials_and_sent_back_where_the_hand_changed() -> None:
    taps = TapHand(1)
    block, five = taps.block(), taps.block(trials=5)
    again = replace(block, walked="2031-04-02T06:00:00Z", checked=five.trials)
    one = story()
    one.do(again)
    assert one.job.references[-1].facts.walked == "2031-04-02T06:00:00Z"
    tapped(one, taps, "sw1", 0.2)
    tired = tuple(replace(it, stop=_later(it.stop, 0.15)) for it in five.trials)
    refusal = story().refused(replace(again, checked=tired))
    assert (refusal.code, "no longer holds" in refusal.sentence) == ("reference", True)


def test_a_kept_block_serves_its_person_day_terminal_and_limits() -> None:
    block = TapHand(1).block()
    kept = KeptBlock("t1", "2031-04-02", "2031-04-02T06:00:00Z", TERMINAL, block.middle_s, block.trials, block.how)
    day = date(2031, 4, 2)
    assert block_of_the_day((kept,), "t1", day, TERMINAL, 0.55) == kept
    assert block_of_the_day((kept,), "t1", day, TERMINAL, 0.45, 0.55) == kept
    assert block_of_the_day((kept,), "t1", day, TERMINAL, 0.55, 0.7) is None  # it has to serve them all
    for person, when, terminal, limit_s in (
        ("t2", day, TERMINAL, 0.5),
        ("t1", date(2031, 4, 3), TERMINAL, 0.5),
        ("t1", day, "xterm, over SSH", 0.5),
        ("t1", day, TERMINAL, 0.7),
    ):
        assert block_of_the_day((kept,), person, when, terminal, limit_s) is None


def test_sweeps_and_a_rate_are_judged_from_rows_of_taps() -> None:
    one = story()
    up = TapRow("up", ("10.0", "10.7", "11.4", "12.1"))
    down = TapRow("down", ("20.0", "20.7", "21.4", "22.1"))
    one.do(BeginTiming("t1", "sweep"))
    one.do(Attempt("t1", "sweep", TapRowsAnswer((up, down, up, down), HOW)))
    assert one.job.attempts[-1].judgement.verdict == "pass"
    flashes = TapRow("flash", tuple(f"{30 + place / 1.5:.6f}" for place in range(14)))
    one.do(BeginTiming("t1", "blink"))
    one.do(Attempt("t1", "blink", TapRowsAnswer((flashes,), HOW)))
    assert one.job.attempts[-1].judgement.verdict == "pass"


def test_a_lamp_that_flashes_no_more_fails() -> None:
    one = story()
    stopped = TapRow("flash", ("30.0", "30.7", "31.4"))
    one.do(BeginTiming("t1", "blink"), Attempt("t1", "blink", TapRowsAnswer((stopped,), HOW)))
    assert one.job.attempts[-1].judgement.verdict == "fail"
    dark = TapRowsAnswer((TapRow("flash", ()),), HOW)
    one.do(BeginTiming("t1", "blink"), Attempt("t1", "blink", dark))
    assert one.job.attempts[-1].judgement.verdict == "fail"


def test_no_rule_of_the_bench_is_broken_on_the_way() -> None:
    one, taps = story(), TapHand(10)
    one.do(taps.block(), BeginTiming("t1", "sw1"), InterruptTiming("t1", "sw1", "suspended"))
    for step, delay_s in (("sw1", 0.25), ("home", 1.0), ("sw1", 0.8)):
        tapped(one, taps, step, delay_s)
    watcher = Monitor(facts_of(one.job.sequence))
    for it in one.history:
        watcher.see(it.event, it.by, When(it.moment.boottime_ms, it.moment.boot_id, it.moment.utc))
    judged = one.history[-1].event
    assert isinstance(judged, AttemptJudged)
    late = replace(judged, attempt=4)
    now = one.history[-1].moment
    with pytest.raises(BrokenRule, match="not begun"):
        watcher.see(late, "t1", When(now.boottime_ms, now.boot_id, now.utc))


def test_the_journal_replays_to_the_same() -> None:
    one, taps = story(), TapHand(9)
    one.do(taps.block())
    tapped(one, taps, "sw1", 0.25)
    assert one.replayed() == one.job
    judged = one.history[-1].event
    assert isinstance(judged, AttemptJudged)
    assert isinstance(judged.answer, TapPairsAnswer)


def _later(text: str | None, by_s: float) -> str:
    return f"{float(text or 0) + by_s:.6f}"

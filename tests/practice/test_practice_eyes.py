"""Does a careful technician write down what the unit does, in the shape that the judge takes?"""

from collections.abc import Iterator
from decimal import Decimal

import demo_boards
import pytest
import robot
from every_kind import EVERY_KIND
from hypothesis import given
from hypothesis import strategies as st

import sequences
from passcheck.job.answers import (
    Answer,
    CountAnswer,
    Departure,
    GradeAnswer,
    ListAnswer,
    MarksAnswer,
    PressesAnswer,
    ReadingAnswer,
    SweepAnswer,
)
from passcheck.job.entry import EntryFault
from passcheck.job.judging import instrument_role, is_derived, judge_answer, needs_accuracy
from passcheck.judge.accuracy import no_worse
from passcheck.judge.judgement import Judgement
from passcheck.judge.quantity import parse_quantity
from passcheck.practice import shows
from passcheck.practice.effects import Around
from passcheck.practice.eyes import WithMeter, written_down
from passcheck.practice.fault import Effect
from passcheck.practice.meter import Meters
from passcheck.practice.serials import drawn_from
from passcheck.practice.shows import Shows
from passcheck.practice.unit import SimulatedUnit
from passcheck.sequence.model import LampsStep, MarksStep, PressesStep, ReadingStep, Sequence, SoakStep, Step

BOARDS = {name: demo_boards.board(name) for name in demo_boards.NAMES} | {"every kind": EVERY_KIND}
INSTRUMENTS = robot.demo_workshop().settings.instruments


def meter_for(sequence: Sequence, step: Step, seed: int = 1) -> WithMeter | None:
    """The least instrument of the robot's bench that will do for a step, with its error drawn."""
    role = instrument_role(step)
    if role is None or not needs_accuracy(step):
        return None
    need = sequence.instruments.get(role)
    able = [(name, it.fills[role]) for name, it in INSTRUMENTS.items() if role in it.fills]
    name, accuracy = [one for one in able if need is None or no_worse(one[1], need.accuracy)][-1]
    draw = drawn_from("meters", seed)
    return WithMeter(Meters(INSTRUMENTS, draw), name, accuracy, draw)


def written(step_id: str, seen: Shows, seed: int = 1) -> Answer:
    """What is written down at a step of the board with every kind."""
    step = EVERY_KIND.step(step_id)
    return written_down(step, seen, meter_for(EVERY_KIND, step, seed), drawn_from("eye", seed))


def judged(step_id: str, seen: Shows, seed: int = 1) -> Judgement:
    """What the judge makes of it."""
    step = EVERY_KIND.step(step_id)
    meter = meter_for(EVERY_KIND, step, seed)
    return judge_answer(step, written(step_id, seen, seed), meter.accuracy if meter is not None else None)


def written_of_good_units(sequence: Sequence, seeds: range) -> Iterator[tuple[Step, WithMeter | None, Answer]]:
    """Every step of healthy units as it is written down."""
    for seed in seeds:
        unit, draw = SimulatedUnit(sequence, (), drawn_from("good", seed)), drawn_from("eye", seed)
        for step in sequence.steps:
            seen = unit.shows(step, Around(), (), draw)
            if seen is not None:
                meter = meter_for(sequence, step, seed)
                yield step, meter, written_down(step, seen, meter, draw)


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS)
def test_every_step_of_a_good_unit_is_passed_by_the_judge(board: Sequence) -> None:
    for step, meter, answer in written_of_good_units(board, range(5)):
        if is_derived(step):
            assert answer == ReadingAnswer(())
            continue
        found = judge_answer(step, answer, meter.accuracy if meter is not None else None)
        assert found.verdict == "pass", (step.id, answer, found.sentence)


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS)
def test_a_probe_that_does_not_touch_passes_no_reading(board: Sequence) -> None:
    for step, meter, answer in written_of_good_units(board, range(1)):
        if isinstance(step, ReadingStep) and isinstance(answer, ReadingAnswer) and meter is not None:
            loose = ReadingAnswer(("OL",) * len(answer.readings), answer.reverse, answer.leads)
            try:
                verdict = judge_answer(step, loose, meter.accuracy).verdict
            except EntryFault:
                continue  # it isn't even taken
            assert verdict != "pass", step.id


def marks_step(readability: str) -> MarksStep:
    """The step with marks, read on another scale."""
    changed = {**EVERY_KIND.step("marks").model_dump(include={"id", "kind", "title"}), "proves": ["PWR"]}
    members = {"gauge": "M1", "tolerance": "9 %", "readability": readability, "power": "battery"}
    marks = [{"feed": "10 Ω", "mark": "E", "value": "0 %"}, {"feed": "46 Ω", "mark": "½", "value": "50 %"}]
    step = sequences.with_steps({**changed, **members, "marks": marks, "needs": [sequences.GUARD]}).step("marks")
    assert isinstance(step, MarksStep)
    return step


SCALES = {text: marks_step(text) for text in ("1 %", "0.5 %", "2 %", "0.25 %", "3 %")}


@given(st.sampled_from(sorted(SCALES)), st.floats(-9, 109), st.floats(-9, 109), st.integers(0, 999))
def test_an_eye_is_off_by_no_more_than_the_readability(text: str, low: float, middle: float, seed: int) -> None:
    step = SCALES[text]
    answer = written_down(step, shows.Stands((low, middle), ()), None, drawn_from("eye", seed))
    assert isinstance(answer, MarksAnswer)
    assert answer.down == ()
    fine = step.readability.value
    for true, read in zip((low, middle), answer.up, strict=True):
        assert abs(parse_quantity(read, "%").value - Decimal(repr(true))) <= fine


def test_a_head_stays_where_it_is_so_a_whole_scale_is_read_to_one_side() -> None:
    """An eye's error isn't drawn anew for each mark: most of it is where the head is."""
    sides = set()
    for seed in range(40):
        answer = written("marks", shows.Stands((0.0, 50.0), (0.0, 50.0)), seed)
        assert isinstance(answer, MarksAnswer)
        at = (Decimal(0), Decimal(50)) * 2
        off = [parse_quantity(read).value - want for read, want in zip(answer.up + answer.down, at, strict=True)]
        assert max(off) - min(off) <= 2
        sides.add(sum(off) > 0)
    assert sides == {True, False}


def test_a_unit_that_never_answers_is_no_answer_in_time() -> None:
    assert judged("answer", shows.Responds((None,) * 40)).verdict == "fail"
    assert judged("answer", shows.Responds((0.4,) * 40)).verdict == "pass"


@pytest.mark.parametrize(
    ("seen", "counted"),
    [
        (shows.Responds((0.4,) * 10), 10),
        (shows.Responds((*(0.4,) * 7, None, None, 0.4)), 8),
        (shows.Responds((0.4,) * 10, twice=3), 13),
        (shows.Responds((None,) * 10), 0),
    ],
)
def test_presses_are_counted_as_the_unit_counts_them(seen: shows.Responds, counted: int) -> None:
    answer = written("presses", seen)
    assert isinstance(answer, PressesAnswer)
    assert answer.counted == counted
    assert (judged("presses", seen).verdict == "pass") == (counted == 10)


def test_a_unit_that_bounces_at_every_press_counts_each_twice() -> None:
    step = EVERY_KIND.step("presses")
    assert isinstance(step, PressesStep)
    fault = robot.broken(Effect("SW1", "bounces", 1.0))
    seen = SimulatedUnit(EVERY_KIND, (fault,), drawn_from("unit", 1)).shows(step, Around(), (), drawn_from("try", 1))
    assert seen is not None
    answer = written_down(step, seen, meter_for(EVERY_KIND, step), drawn_from("eye", 1))
    assert isinstance(answer, PressesAnswer)
    assert answer.counted == 2 * step.times


def test_the_slowest_press_is_the_one_that_is_written_down() -> None:
    assert judged("presses", shows.Responds((*(0.4,) * 9, 2.6))).verdict == "fail"


def test_what_an_eye_sees_amiss_is_named_with_its_place() -> None:
    amiss = (Departure(2, "dark"),)
    assert written("look", shows.Looks(amiss)) == ListAnswer(amiss)
    lamps = written("check", shows.Lights(amiss, 0.5, 3.0))
    assert isinstance(lamps, ListAnswer)
    assert lamps.departures == amiss
    assert len(lamps.times) == 2
    assert (
        judged("look", shows.Looks(amiss)).verdict == judged("check", shows.Lights(amiss, 0.5, 3.0)).verdict == "fail"
    )


def test_a_lamp_s_times_and_rate_are_given_where_they_are_asked_for() -> None:
    asked = {}
    for step in EVERY_KIND.steps:
        if isinstance(step, LampsStep):
            answer = written(step.id, shows.Lights((), 0.5, 3.0, 1.5))
            assert isinstance(answer, ListAnswer)
            asked[step.id] = len(answer.times)
    assert asked == {sequences.LAMPS: 0, "check": 2, "blink": 1}


@pytest.mark.parametrize(("stop_s", "seen"), [(0.1, False), (0.5, True)])
def test_a_pointer_s_stop_is_seen_where_it_is_long_enough(stop_s: float, seen: bool) -> None:
    up_s = (0.0, 0.5, 1.0 + stop_s, 1.5 + stop_s)
    answer = written("sweep", shows.Sweeps(up_s, up_s, "between mark 1 and mark 2"))
    assert isinstance(answer, SweepAnswer)
    assert (answer.hesitation is not None) == seen


def test_a_unit_that_comes_back_late_is_timed_and_one_without_a_limit_is_not() -> None:
    late = written("dip", shows.Falls("C", 6.2))
    assert isinstance(late, GradeAnswer)
    assert late.recovery is not None
    assert parse_quantity(late.recovery).value > 6
    free = grade_without_a_limit()
    assert written_down(free, shows.Falls("B", 1.0), None, drawn_from("eye", 1)) == GradeAnswer("B", None)


def grade_without_a_limit() -> Step:
    """A grade that limits no time."""
    dip = {"id": "dip", "kind": "grade", "title": "Dip", "disturbance": "to 9 V", "worst": "C", "power": "battery"}
    return sequences.with_steps({**dip, "proves": ["PWR"], "needs": [sequences.GUARD]}).step("dip")


def test_a_count_below_nothing_is_nothing() -> None:
    assert written("beeps", shows.Counts(-2)) == CountAnswer(0)


def test_what_belongs_to_another_kind_of_step_is_a_fault_of_ours() -> None:
    with pytest.raises(ValueError, match="a count step shows no Looks"):
        written("beeps", shows.Looks(()))
    with pytest.raises(ValueError, match="no instrument is in hand"):
        written_down(EVERY_KIND.step(sequences.RAIL), shows.Reads((5.0,), "V"), None, drawn_from("eye", 1))


def test_a_soak_is_nothing_that_anybody_writes_down() -> None:
    soak = next(step for step in EVERY_KIND.steps if isinstance(step, SoakStep))
    assert SimulatedUnit(EVERY_KIND, (), drawn_from("good", 1)).shows(soak, Around(), (), drawn_from("eye", 1)) is None

"""What does an answer at a step amount to, for every kind of step there is?"""

from typing import Any, get_args

import hand
import pytest

import sequences
from passcheck.job import answers
from passcheck.job.answers import Answer, Departure
from passcheck.job.entry import EntryFault
from passcheck.job.judging import instrument_role, judge_answer, lamp_limits, needs_accuracy
from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.judgement import Judgement
from passcheck.sequence import model
from passcheck.sequence.model import Step

METER = parse_accuracy("0.5 % + 1 digit")
KINDS: dict[str, dict[str, Any]] = {
    "reading": {"at": "TP3", "limits": "4.85 V .. 5.15 V"},
    "power-up": {"limits": "0.10 A .. 0.22 A", "after": "2 s"},
    "response": {"press": "SW1", "watch": "the lamp", "limits": "at most 0.50 s"},
    "presses": {"press": ["SW1", "SW2"], "watch": "the count", "times": 10},
    "lamps": {"lamps": [{"ref": "DS1", "colour": "red"}, {"ref": "DS2", "colour": "amber"}]},
    "sweep": {"gauge": "fuel", "up": "1.0 s .. 3.0 s", "down": "1.0 s .. 3.0 s"},
    "marks": {
        "gauge": "fuel",
        "marks": [
            {"feed": "90 Ω", "mark": "empty", "value": "0 %"},
            {"feed": "50 Ω", "mark": "half", "value": "50 %"},
        ],
        "tolerance": "5 %",
        "readability": "1 %",
    },
    "codes": {
        "expected": ["P10"],
        "absent": ["P20"],
        "provoke": [{"do": "open J2-3", "code": "P30"}],
        "clear": "hold SW6 for 5 s",
    },
    "grade": {"disturbance": "24 V to 9 V for 0.5 s", "worst": "C"},
    "look": {"points": ["Pins straight", "Label on"]},
    "count": {"of": "beeps", "wanted": 2},
    "table": {"rows": [{"put": "100 Ω", "limits": "19 .. 21 °C"}, {"put": "50 Ω", "limits": "79 .. 81 °C"}]},
    "soak": {"hours": "4 h", "check": [sequences.RAIL], "every": "1 h"},
}


def step(kind: str, **members: Any) -> Step:
    made = {"id": "it", "kind": kind, "title": "It", "instrument": "voltmeter", **KINDS[kind], **members}
    return sequences.with_steps(made).step("it")


def judged(one: Step, answer: Answer) -> Judgement:
    return judge_answer(one, answer, METER if needs_accuracy(one) else None)


def test_every_kind_of_the_sequence_is_here() -> None:
    assert set(KINDS) == set(get_args(model.Kind))


@pytest.mark.parametrize("kind", sorted(set(KINDS) - {"soak"}))
def test_a_good_answer_passes_with_a_sentence(kind: str) -> None:
    found = judged(step(kind), hand.good(step(kind)))
    assert (found.verdict, found.outside) == ("pass", False)
    assert found.sentence.endswith(".")


@pytest.mark.parametrize(
    ("kind", "answer"),
    [
        ("reading", answers.ReadingAnswer(("6.00 V",))),
        ("power-up", answers.PowerUpAnswer("0.16 A", "on")),
        ("power-up", answers.PowerUpAnswer("0.50 A", "off")),
        ("response", answers.ReadingAnswer(("0.90 s",))),
        ("presses", answers.PressesAnswer(19)),
        ("lamps", answers.ListAnswer((Departure(2, "dark"),))),
        ("sweep", answers.SweepAnswer("2.0 s", "9.0 s")),
        ("sweep", answers.SweepAnswer("2.0 s", "2.0 s", "sticks at half")),
        ("marks", answers.MarksAnswer(("0 %", "60 %"), ("0 %", "50 %"))),
        ("codes", answers.CodesAnswer(("P10", "P20"), ("P30",), ("P10",))),
        ("codes", answers.CodesAnswer((), ("P30",), ())),
        ("codes", answers.CodesAnswer(("P10",), (), ("P10",))),
        ("grade", answers.GradeAnswer("D")),
        ("look", answers.ListAnswer((Departure(1, "bent"),))),
        ("count", answers.CountAnswer(3)),
        ("table", answers.TableAnswer(("20.00 °C", "90.00 °C"))),
    ],
)
def test_a_bad_answer_fails_with_a_sentence(kind: str, answer: Answer) -> None:
    found = judged(step(kind), answer)
    assert (found.verdict, found.outside) == ("fail", True)
    assert found.sentence.endswith(".")


@pytest.mark.parametrize(
    ("kind", "answer"),
    [
        ("reading", answers.CountAnswer(1)),
        ("reading", answers.ReadingAnswer(())),
        ("presses", answers.PressesAnswer(-1)),
        ("count", answers.CountAnswer(-1)),
        ("lamps", answers.ListAnswer((Departure(3, "dark"),))),
        ("lamps", answers.ListAnswer(times=("1.0 s",))),
        ("look", answers.ListAnswer((Departure(1, " "),))),
        ("marks", answers.MarksAnswer(("0 %",), ("0 %", "50 %"))),
        ("marks", answers.MarksAnswer(("0 %", "50 %"))),
        ("codes", answers.CodesAnswer(("P10",), ("P30",))),
        ("table", answers.TableAnswer(("20 °C",))),
        ("soak", answers.CountAnswer(1)),
    ],
)
def test_an_answer_that_does_not_fit_is_refused_with_a_sentence(kind: str, answer: Answer) -> None:
    with pytest.raises(EntryFault, match=r"\w+ \w+"):
        judged(step(kind), answer)


def test_a_pointers_worst_mark_is_told_with_what_the_sequence_calls_it() -> None:
    found = judged(step("marks"), answers.MarksAnswer(("0 %", "60 %"), ("0 %", "50 %")))
    assert "off at half (50 %) rising" in found.sentence


def test_a_measured_step_without_an_instrument_is_refused() -> None:
    with pytest.raises(EntryFault, match="name the instrument"):
        judge_answer(step("reading"), answers.ReadingAnswer(("5.00 V",)), None)


def test_a_reading_without_limits_in_its_sequence_is_refused() -> None:
    with pytest.raises(EntryFault, match="no limits"):
        judged(step("reading", limits=None), answers.ReadingAnswer(("5.00 V",)))


class TestLeads:
    ONE = step("reading", limits="at least 150 Ω", leads="at most 0.5 Ω")

    def test_the_leads_are_shorted_first(self) -> None:
        with pytest.raises(EntryFault, match="short the leads first"):
            judged(self.ONE, answers.ReadingAnswer(("300 Ω",)))

    @pytest.mark.parametrize("shorted", ["0.9 Ω", "OL"])
    def test_leads_that_are_not_good_measure_nothing(self, shorted: str) -> None:
        with pytest.raises(EntryFault, match="mend the leads"):
            judged(self.ONE, answers.ReadingAnswer(("300 Ω",), leads=shorted))

    def test_good_leads_let_the_reading_be_judged(self) -> None:
        assert judged(self.ONE, answers.ReadingAnswer(("300 Ω",), leads="0.2 Ω")).verdict == "pass"


class TestComponent:
    ONE = step("reading", limits=None, component={"nominal": "270 Ω", "tolerance": "10 %"})

    def test_both_polarities_alike_and_near_the_nominal_are_consistent(self) -> None:
        assert judged(self.ONE, answers.ReadingAnswer(("268 Ω",), reverse="268 Ω")).verdict == "pass"

    def test_open_is_a_proven_fault(self) -> None:
        assert judged(self.ONE, answers.ReadingAnswer(("OL",), reverse="OL")).verdict == "fail"

    def test_one_polarity_decides_nothing(self) -> None:
        assert judged(self.ONE, answers.ReadingAnswer(("268 Ω",))).verdict in ("in doubt", "not measured")


class TestLimitedExtras:
    def test_a_lamp_s_times_are_judged_with_its_walk(self) -> None:
        one = step("lamps", on_within="at most 1.0 s", off_after="2.0 s .. 4.0 s")
        assert isinstance(one, model.LampsStep)
        assert len(lamp_limits(one)) == 2
        assert judged(one, answers.ListAnswer(times=("0.50 s", "3.00 s"))).verdict == "pass"
        late = judged(one, answers.ListAnswer(times=("0.50 s", "9.00 s")))
        assert late.verdict == "fail"
        dark = judged(one, answers.ListAnswer((Departure(1, "dark"),), ("0.50 s", "3.00 s")))
        assert (dark.verdict, dark.outside) == ("fail", True)

    def test_a_blink_rate_is_judged_in_hertz(self) -> None:
        one = step("lamps", check="rate", limits="0.8 Hz .. 1.2 Hz")
        assert judged(one, answers.ListAnswer(times=("1.00 Hz",))).verdict == "pass"
        assert judged(one, answers.ListAnswer(times=("2.00 Hz",))).verdict == "fail"

    def test_the_slowest_press_is_asked_for_where_it_is_limited(self) -> None:
        one = step("presses", limits="at most 0.50 s")
        with pytest.raises(EntryFault, match="slowest"):
            judged(one, answers.PressesAnswer(20))
        assert judged(one, answers.PressesAnswer(20, "0.30 s")).verdict == "pass"
        assert judged(one, answers.PressesAnswer(20, "0.90 s")).verdict == "fail"

    def test_the_recovery_is_asked_for_where_it_is_limited(self) -> None:
        one = step("grade", limits="at most 3.0 s")
        with pytest.raises(EntryFault, match="come back"):
            judged(one, answers.GradeAnswer("C"))
        assert judged(one, answers.GradeAnswer("C", "1.0 s")).verdict == "pass"
        assert judged(one, answers.GradeAnswer("C", "9.0 s")).verdict == "fail"


@pytest.mark.parametrize(("kind", "measured"), [("reading", True), ("look", False), ("count", False), ("lamps", False)])
def test_only_what_was_measured_needs_an_accuracy(kind: str, measured: bool) -> None:
    assert needs_accuracy(step(kind)) is measured


def test_a_timed_step_without_a_role_is_measured_with_a_timer() -> None:
    assert instrument_role(step("sweep", instrument=None)) == "timer"
    assert instrument_role(step("sweep", instrument="camera")) == "camera"
    assert instrument_role(step("reading", instrument=None)) is None
    assert instrument_role(step("look", instrument=None)) is None


def test_what_was_left_in_doubt_enters_the_decision_of_a_power_up_a_table_and_a_lamp_time() -> None:
    near_then_inside: tuple[tuple[Step, Answer, Answer, str], ...] = (
        (step("power-up"), answers.PowerUpAnswer("0.219 A", "off"), answers.PowerUpAnswer("0.211 A", "off"), "0.215"),
        (
            step("table", rows=[{"put": "1 V", "limits": "0.90 V .. 1.10 V"}]),
            answers.TableAnswer(("1.098 V",)),
            answers.TableAnswer(("1.060 V",)),
            "1.079",
        ),
        (
            step("lamps", check="rate", limits="1.00 Hz .. 2.00 Hz"),
            answers.ListAnswer(times=("1.995 Hz",)),
            answers.ListAnswer(times=("1.945 Hz",)),
            "1.97",
        ),
    )
    for one, near, inside, mean in near_then_inside:
        assert judge_answer(one, near, METER).verdict == "in doubt", one.kind
        assert judge_answer(one, inside, METER).verdict == "pass", one.kind
        together = judge_answer(one, inside, METER, (near,))
        assert together.value == mean, "both count, not the one that passes"
        assert together.verdict == "in doubt", one.kind

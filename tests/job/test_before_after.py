"""What changed at a step from as found to as left, and is no more said than the readings can tell?"""

from decimal import Decimal

import hand
import pytest
from hypothesis import given
from hypothesis import strategies as st
from story import Story

import sequences
from passcheck.job.answers import MarksAnswer
from passcheck.job.before_after import Difference, Shift, before_after, beside, difference, shift
from passcheck.job.commands import Attempt, VoidAttempt
from passcheck.job.held_numbers import HeldNumber
from passcheck.judge.accuracy import largest_error, parse_accuracy
from passcheck.judge.derived import Source
from sequences import GUARD, LAMPS, RAIL

RIPPLE = {
    "id": "ripple",
    "kind": "reading",
    "title": "Ripple on 5 V",
    "power": "battery",
    "proves": ["PWR"],
    "needs": [GUARD],
    "limits": "at most 60 mV",
    "instrument": "voltmeter",
}
FUEL = {
    "id": "fuel",
    "kind": "marks",
    "title": "Fuel gauge at its marks",
    "power": "battery",
    "proves": ["LAMP"],
    "needs": [GUARD],
    "gauge": "fuel",
    "marks": [
        {"feed": "10 Ω", "mark": "E", "value": "0 %"},
        {"feed": "90 Ω", "mark": "1/2", "value": "50 %"},
        {"feed": "180 Ω", "mark": "F", "value": "100 %"},
    ],
    "tolerance": "5 %",
    "readability": "1 %",
    "both_ways": False,
}
METER = "0.5 % + 3 digits"
readings = st.integers(1, 9999).map(lambda counts: Decimal(counts).scaleb(-3))
meters = st.sampled_from([("M1", METER), ("M2", METER), ("M9", "0.02 % + 2 digits")])


def found_then_left(found: str, left: str, step: str = RAIL, **given: str) -> Story:
    """A reading as found, a rework, the reading as left; `given` may name the second instrument."""
    story = Story(sequences.with_steps(RIPPLE)).start("as-found").passes(GUARD).reads(step, found).make_safe()
    story.do(hand.rework("PWR"))
    return story.start().passes(GUARD).reads(step, left, instrument=given.get("instrument"))


def change(story: Story, step: str = RAIL) -> Difference:
    told = before_after(story.job, story.step(step)).shift
    assert told is not None
    assert told.whole is not None
    return told.whole


def number(
    value: Decimal, meter: tuple[str, str] = ("M1", METER), digit: Decimal = Decimal("0.001"), unit: str = "V"
) -> HeldNumber:
    accuracy = parse_accuracy(meter[1])
    gain = abs(float(value)) * float(accuracy.percent) / 100
    source = Source(float(value), gain, largest_error(accuracy, value, digit) - gain)
    return HeldNumber("", value, unit, digit, source, None, None, meter)


def test_a_change_is_told_with_its_uncertainty_and_nothing_finer() -> None:
    story = found_then_left("142 mV", "24 mV", "ripple")
    told = before_after(story.job, story.step("ripple")).shift
    assert told is not None
    assert told.words == "changed by -118 mV ± 5 mV"
    assert (told.before, told.after) == (2, 4)


def test_a_gain_says_so_by_its_sign() -> None:
    assert change(found_then_left("4.60 V", "5.01 V")).words.startswith("changed by +0.41 V ± ")


def test_within_what_the_readings_can_tell_nothing_changed() -> None:
    told = change(found_then_left("4.99 V", "5.01 V"))
    assert not told.changed
    assert told.words == "no change beyond what these readings can tell (± 0.05 V)"
    assert told.short == "no change (± 0.05 V)"


def test_two_meters_are_less_sure_of_a_change_than_one() -> None:
    one, two = (change(found_then_left("4.60 V", "5.00 V", instrument=name)) for name in ("M1", "M2"))
    assert one.value == two.value == Decimal("0.4")
    assert one.u == pytest.approx(0.0245, rel=0.01)  # two times three digits; 0.5 % of the difference hardly counts
    assert two.u == pytest.approx(0.0439, rel=0.01)


def test_what_was_kept_is_not_computed_again() -> None:
    story = found_then_left("4.60 V", "5.00 V")
    kept = [one.judgement.value for one in story.job.attempts if one.step == RAIL]
    assert change(story).value == Decimal(kept[1] or 0) - Decimal(kept[0] or 0)


def test_a_fault_that_reads_over_range_has_no_number_to_compare() -> None:
    story = Story().start("as-found").reads(GUARD, "OL").reads(GUARD, "12 kΩ").make_safe()
    first, second = story.job.attempts
    told = shift(story.job, story.step(GUARD), first, second)
    assert (told.whole, told.parts) == (None, ())
    assert told.words == "no number to compare: not measured before, pass after"


def test_what_was_looked_at_or_counted_has_no_number() -> None:
    story = Story().start("as-found").passes(GUARD).fails(LAMPS).make_safe()
    story.do(hand.rework("PWR"))
    story.start().passes(GUARD).passes(LAMPS)
    told = before_after(story.job, story.step(LAMPS)).shift
    assert told is not None
    assert told.words == "no number to compare: fail before, pass after"


def test_each_column_holds_the_attempts_of_its_runs() -> None:
    story = Story().start("as-found").passes(GUARD).reads(RAIL, "4.60 V").make_safe()
    story.do(hand.rework("PWR"))
    story.start("retest").passes(GUARD).reads(RAIL, "4.70 V").reads(RAIL, "4.98 V")
    story.make_safe().start("good-unit").passes(GUARD).reads(RAIL, "5.02 V")
    story.make_safe().start().passes(GUARD).reads(RAIL, "5.00 V")
    found = before_after(story.job, story.step(RAIL))
    assert [(name, one.judgement.value if one else None) for name, one in found.rows] == [
        ("as found", "4.6"),
        ("retest 1", "4.7"),
        ("retest 2", "4.98"),
        ("as left", "5"),
        ("good unit", "5.02"),
    ]


def test_as_found_is_the_latest_that_was_not_withdrawn() -> None:
    story = Story().start("as-found").passes(GUARD).reads(RAIL, "4.98 V").reads(RAIL, "5.00 V")
    story.do(VoidAttempt("t1", 3, "wrong point"))
    found = before_after(story.job, story.step(RAIL)).as_found
    assert found is not None
    assert found.number == 2


def test_a_retest_counts_as_left_until_a_rework_strikes_it() -> None:
    story = Story().start("as-found").passes(GUARD).reads(RAIL, "4.60 V").make_safe()
    story.do(hand.rework("PWR"))
    story.start("retest").passes(GUARD).reads(RAIL, "5.00 V")
    assert before_after(story.job, story.step(RAIL)).as_left == story.last_attempt()
    story.make_safe().do(hand.rework("PWR"))
    found = before_after(story.job, story.step(RAIL))
    assert (found.as_left, found.shift, found.open) == (None, None, "struck by rework 2")
    assert len(found.retests) == 1, "a struck retest stays readable"


def test_an_inspection_on_arrival_is_not_compared_with_itself() -> None:
    story = Story(sequences.with_arrival_and_final()).start("as-found").passes("arrival")
    found = before_after(story.job, story.step("arrival"))
    assert found.as_left == found.as_found
    assert found.shift is None


def test_at_a_retest_the_bench_says_as_found_and_now_on_one_line() -> None:
    story = Story(sequences.with_steps(RIPPLE)).start("as-found").passes(GUARD).reads("ripple", "142 mV").make_safe()
    story.do(hand.rework("PWR"))
    story.start("retest").passes(GUARD).reads("ripple", "24 mV")
    step = story.step("ripple")
    words = "as found FAIL 142 mV | now PASS 24 mV, changed by -118 mV ± 5 mV"
    assert beside(story.job, step, story.last_attempt()) == words
    story.start().reads("ripple", "24 mV")
    assert beside(story.job, step, story.last_attempt()) == "", "an acceptance run is no retest"


def test_without_a_number_the_bench_sets_the_words_side_by_side() -> None:
    story = Story().start("as-found").passes(GUARD).fails(LAMPS).make_safe()
    story.do(hand.rework("PWR"))
    story.start("retest").passes(GUARD).passes(LAMPS)
    assert beside(story.job, story.step(LAMPS), story.last_attempt()) == "as found FAIL 1 | now PASS 2"


def fuel(found: tuple[str, ...], left: tuple[str, ...]) -> Shift:
    """The fuel gauge at its marks as found, and after a rework."""
    story = Story(sequences.with_steps(FUEL)).start("as-found").passes(GUARD).ready("fuel")
    before, after = MarksAnswer(found), MarksAnswer(left)
    story.do(Attempt("t1", "fuel", before, again=before))
    story.make_safe().do(hand.rework("PWR"))
    story.start().passes(GUARD).ready("fuel").do(Attempt("t1", "fuel", after, again=after))
    told = before_after(story.job, story.step("fuel")).shift
    assert told is not None
    return told


def test_each_mark_has_its_own_change_and_the_most_is_named() -> None:
    told = fuel(("0 %", "41 %", "99 %"), ("0 %", "50 %", "99 %"))
    assert [part.short for part in told.parts] == ["no change (± 2 %)", "+9 % ± 2 %", "no change (± 2 %)"]
    assert told.words == "1 of 3 changed, 1/2: +9 % ± 2 %"


def test_a_pointer_that_sat_wrong_on_its_shaft_changed_on_average() -> None:
    told = fuel(("-7 %", "43 %", "93 %"), ("0 %", "50 %", "100 %"))
    assert told.whole is not None
    assert told.words == "3 of 3 changed, most E: +7 % ± 2 %; all on average: +7 % ± 1 %"


def test_on_average_marks_that_went_different_ways_tell_nothing() -> None:
    told = fuel(("0 %", "41 %", "107 %"), ("0 %", "50 %", "100 %"))
    assert told.whole is not None
    assert not told.whole.changed
    assert told.words == "2 of 3 changed, most 1/2: +9 % ± 2 %"


def test_a_difference_of_temperatures_is_no_temperature() -> None:
    told = difference(number(Decimal("61.2"), unit="°C"), number(Decimal("44.0"), unit="°C"))
    assert told.words.startswith("changed by -17.2")
    assert told.unit == "K"


@given(readings, readings, meters, meters)
def test_swapping_before_and_after_flips_the_sign_and_nothing_else(
    a: Decimal, b: Decimal, meter: tuple[str, str], other: tuple[str, str]
) -> None:
    there, back = difference(number(a, meter), number(b, other)), difference(number(b, other), number(a, meter))
    assert there.value == -back.value
    assert there.within == pytest.approx(back.within)
    assert there.changed == back.changed


@given(readings, readings, st.sampled_from([METER, "1 %", "2 digits", "0.1 % + 4 mV"]))
def test_one_instrument_is_never_less_sure_than_two_of_its_accuracy(a: Decimal, b: Decimal, accuracy: str) -> None:
    one = difference(number(a, ("M1", accuracy)), number(b, ("M1", accuracy)))
    two = difference(number(a, ("M1", accuracy)), number(b, ("M2", accuracy)))
    assert one.u <= two.u * (1 + 1e-5)


@given(readings, readings, meters)
def test_another_range_of_the_same_meter_shares_nothing(a: Decimal, b: Decimal, meter: tuple[str, str]) -> None:
    fine, coarse = number(a, meter), number(b, meter, Decimal("0.01"))
    assert difference(fine, coarse).u == difference(fine, number(b, ("elsewhere", meter[1]), Decimal("0.01"))).u


@given(readings, meters)
def test_the_same_reading_twice_is_no_change(a: Decimal, meter: tuple[str, str]) -> None:
    assert not difference(number(a, meter), number(a, meter)).changed


@given(readings, readings, meters, meters)
def test_no_figure_is_finer_than_the_last_digit_read_or_the_uncertainty(
    a: Decimal, b: Decimal, meter: tuple[str, str], other: tuple[str, str]
) -> None:
    told = difference(number(a, meter), number(b, other))
    assert told.step >= Decimal("0.001")
    assert float(told.step) * 10 > told.u
    assert told.changed == (abs(float(b - a)) > told.within)

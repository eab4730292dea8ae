"""Are readings judged as a careful technician would, and do the sentences say why?"""

from collections.abc import Sequence
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.errors import OurBug
from passcheck.judge.accuracy import Accuracy, parse_accuracy
from passcheck.judge.judgement import RULES, Judgement, Rule
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import Quantity, parse_quantity, parse_reading
from passcheck.judge.reading import decidable, judge_reading

METER = parse_accuracy("0.5 % + 3 digits")


def judged(
    texts: str | Sequence[str], limits: str, seen: str | None = None, accuracy: Accuracy = METER, rule: Rule = "guarded"
) -> Judgement:
    """Judge readings written as on the bench."""
    wanted = parse_limits(limits)
    readings = [parse_reading(text, wanted.unit) for text in ([texts] if isinstance(texts, str) else texts)]
    return judge_reading(readings, wanted, accuracy, seen=None if seen is None else parse_limits(seen), rule=rule)


def test_a_good_rail_passes_with_its_margin_and_the_meters_error() -> None:
    found = judged("5.01 V", "4.85 V .. 5.15 V")
    assert found.verdict == "pass"
    assert found.sentence == "5.01 V is inside 4.85 V .. 5.15 V, 0.14 V from the nearer limit; instrument ± 0.06 V."
    assert (found.value, found.unit, found.low, found.high) == ("5.01", "V", "4.85", "5.15")
    assert (found.rule, found.outside) == ("guarded", False)


def test_a_dead_rail_fails_and_the_contact_is_mentioned() -> None:
    found = judged("0.00 V", "4.85 V .. 5.15 V")
    assert (found.verdict, found.outside) == ("fail", True)
    assert "loose probe" in found.sentence


def test_a_leaky_capacitor_shows_as_ripple() -> None:
    found = judged("142 mVpp", "at most 60 mVpp", "1 mVpp .. 2 Vpp", parse_accuracy("3 % + 1 mVpp"))
    assert found.verdict == "fail"
    assert found.sentence.startswith("142 mVpp is outside at most 60 mVpp, 82 mVpp beyond the limit")
    assert (found.low, found.high) == (None, "0.06")


def test_too_close_for_the_meter_is_in_doubt_on_both_sides_of_the_limit() -> None:
    for reading, outside in (("5.14 V", False), ("5.17 V", True)):
        found = judged(reading, "4.85 V .. 5.15 V")
        assert (found.verdict, found.outside) == ("in doubt", outside)
        assert "too close for this instrument (± 0.06 V)" in found.sentence


@pytest.mark.parametrize("reading", ["OL", "0.0 Ω", "-0.1 Ω"])
@pytest.mark.parametrize("limits", ["at most 0.5 Ω", "at least 150 Ω"])
def test_a_loose_probe_never_passes_a_one_sided_limit(reading: str, limits: str) -> None:
    found = judged(reading, limits)
    assert found.verdict in {"not measured", "fail"}
    assert found.outside
    if reading != "-0.1 Ω":
        assert found.verdict == "not measured"
        assert found.value is None


def test_over_range_passes_at_least_only_where_the_author_says_that_it_is_a_reading() -> None:
    assert judged("OL", "at least 10 kΩ").verdict == "not measured"
    found = judged("OL", "at least 10 kΩ", "at least 1 kΩ")
    assert (found.verdict, found.outside, found.value) == ("pass", False, None)
    assert judged("> 20 MΩ", "at least 10 MΩ", "at least 1 kΩ").verdict == "pass"
    assert judged("> 2 MΩ", "at least 10 MΩ", "at least 1 kΩ").verdict == "in doubt"
    assert judged(["> 20 MΩ", "> 2 MΩ"], "at least 10 MΩ", "at least 1 kΩ").verdict == "in doubt"
    assert judged("OL", "at most 0.5 Ω", "at least 0 Ω").verdict == "fail"


def test_over_range_and_numbers_together_are_a_loose_contact() -> None:
    found = judged(["OL", "20.0 kΩ"], "at least 10 kΩ", "at least 1 kΩ")
    assert (found.verdict, found.outside) == ("in doubt", True)


def test_over_range_in_any_order_is_told_the_same() -> None:
    one, other = (
        judged(list(texts), "at most 0.5 Ω", "at least 0 Ω") for texts in (("OL", "> 2 kΩ"), ("> 2 kΩ", "OL"))
    )
    assert one == other


def test_two_readings_that_scatter_are_judged_by_students_distribution() -> None:
    fine = parse_accuracy("± 1 mV")
    assert judged("5.100 V", "4.85 V .. 5.15 V", accuracy=fine).verdict == "pass"
    found = judged(["5.090 V", "5.110 V"], "4.85 V .. 5.15 V", accuracy=fine)
    assert found.verdict == "in doubt"
    assert "scatter" in found.sentence
    assert "The mean of 2 readings, 5.10 V," in found.sentence


def test_one_reading_outside_among_good_ones_is_outside() -> None:
    found = judged(["5.00 V", "5.01 V", "5.20 V"], "4.85 V .. 5.15 V")
    assert found.outside
    assert found.verdict == "in doubt"


def test_simple_acceptance_says_that_it_is_simple() -> None:
    found = judged("5.15 V", "4.85 V .. 5.15 V", rule="simple")
    assert (found.verdict, found.rule) == ("pass", "simple")
    assert "simple rule" in found.sentence
    assert judged("5.16 V", "4.85 V .. 5.15 V", rule="simple").verdict == "fail"


def test_heat_on_the_bench_widens_the_doubt() -> None:
    limits, reading = parse_limits("4.85 V .. 5.15 V"), [parse_quantity("5.08 V")]
    assert judge_reading(reading, limits, METER, ambient_c=25.0).verdict == "pass"
    assert judge_reading(reading, limits, METER, ambient_c=38.0).verdict == "in doubt"
    assert judge_reading(reading, limits, METER, ambient_c=38.0, band_c=(0.0, 40.0)).verdict == "pass"


def test_nothing_read_is_not_measured() -> None:
    assert judged([], "4.85 V .. 5.15 V").verdict == "not measured"


def test_an_error_in_another_unit_judges_nothing() -> None:
    found = judged("5.00 V", "4.85 V .. 5.15 V", accuracy=parse_accuracy("± 17 ms"))
    assert found.verdict == "not measured"
    assert "stated in s" in found.sentence


def test_a_reading_in_another_unit_is_our_bug() -> None:
    with pytest.raises(OurBug):
        judge_reading([parse_quantity("5 A")], parse_limits("4 V .. 6 V"), METER)


@pytest.mark.parametrize(
    ("limits", "accuracy", "digit", "fits"),
    [
        ("4.85 V .. 5.15 V", "0.5 % + 3 digits", "0.01", True),
        ("4.99 V .. 5.01 V", "0.5 % + 3 digits", "0.01", False),
        ("at most 60 mV", "0.5 % + 3 digits", "0.001", True),
        ("at most 20 mV", "0.5 % + 3 digits", "0.01", False),
        ("at most 0.5 s", "± 24 ms", "0.001", True),
        ("at most 0.5 V", "± 24 ms", "0.001", False),
        ("at least 150 Ω", "1 % + 3 digits", "0.1", True),
    ],
)
def test_an_instrument_that_cannot_decide_is_named_before_the_run(
    limits: str, accuracy: str, digit: str, fits: bool
) -> None:
    reason = decidable(parse_limits(limits), parse_accuracy(accuracy), Decimal(digit))
    assert (reason is None) is fits
    assert fits or limits in str(reason)


READINGS = st.lists(st.decimals(4, 6, places=2).map(lambda each: f"{each} V"), min_size=1, max_size=6)
ACCURACIES = st.sampled_from(["0.5 % + 3 digits", "2 digits", "3 %", "± 0.2 V"]).map(parse_accuracy)
LIMITS = st.sampled_from(["4.85 V .. 5.15 V", "at most 5.15 V", "at least 4.85 V", "5.00 V ± 1 %"])


@given(READINGS, LIMITS, ACCURACIES)
def test_the_order_of_readings_changes_no_judgement(texts: list[str], limits: str, accuracy: Accuracy) -> None:
    assert judged(sorted(texts), limits, accuracy=accuracy) == judged(texts, limits, accuracy=accuracy)


@given(READINGS, LIMITS, ACCURACIES)
def test_every_sentence_holds_its_number_its_limits_and_no_certainty(
    texts: list[str], limits: str, accuracy: Accuracy
) -> None:
    found = judged(texts, limits, accuracy=accuracy)
    assert limits in found.sentence
    assert any(sign.isdigit() for sign in found.sentence.split(" V ")[0])
    side = "inside" if parse_limits(limits).holds(Decimal(found.value or 0)) else "outside"
    assert f"{side} {limits}" in found.sentence
    assert not any(claim in found.sentence for claim in ("100 %", "probab", "certain", "safe"))
    assert found.rule in RULES


@given(st.decimals(4, 6, places=3), LIMITS, st.floats(1.0, 20.0))
def test_a_worse_instrument_never_turns_a_fail_into_a_pass_or_back(value: Decimal, limits: str, worse: float) -> None:
    good = judged(f"{value} V", limits, accuracy=parse_accuracy("± 0.020 V")).verdict
    bad = judged(f"{value} V", limits, accuracy=parse_accuracy(f"± {0.020 * worse:.4f} V")).verdict
    assert bad in {good, "in doubt"}


@given(st.decimals(4, 6, places=2), st.sampled_from(["mV", "kV"]), st.integers(1, 3))
def test_the_prefix_changes_no_verdict(value: Decimal, unit: str, count: int) -> None:
    plain = judged([f"{value} V"] * count, "4.85 V .. 5.15 V")
    scaled = judged([f"{value} {unit}"] * count, f"4.85 {unit} .. 5.15 {unit}")
    assert scaled.verdict == plain.verdict


def test_nothing_finer_than_the_uncertainty_is_said() -> None:
    found = judged("5.01234 V", "4.85 V .. 5.15 V", accuracy=parse_accuracy("2 %"))
    assert "5.01234" not in found.sentence
    assert found.sentence.startswith("5.01 V")
    assert found.value == "5.01234"


def test_every_quantity_that_reaches_a_judgement_is_a_plain_decimal_string() -> None:
    found = judge_reading(
        [Quantity(Decimal("4.7E-9"), "F", Decimal("1E-10"), "4.7 nF")], parse_limits("4.7 nF ± 20 %"), METER
    )
    assert (found.value, found.low, found.high) == ("0.0000000047", "0.00000000376", "0.00000000564")


def test_over_range_in_another_unit_is_our_bug_and_without_a_unit_it_is_not() -> None:
    with pytest.raises(OurBug):
        judge_reading([parse_reading("OL Ω")], parse_limits("4 V .. 6 V"), METER)
    assert judge_reading([parse_reading("OL")], parse_limits("4 V .. 6 V"), METER).verdict == "not measured"


def test_over_range_on_the_very_range_of_the_limit_reaches_it() -> None:
    assert judged("> 10 MΩ", "at least 10 MΩ", "at least 1 kΩ").verdict == "pass"


@pytest.mark.parametrize(
    ("limits", "accuracy", "digit"),
    [
        ("4.90 V .. 5.10 V", "0.5 % + 3 digits", "0.01"),  # limits 1.6 times as wide as the error
        ("at most 60 mV", "10 % + 3 digits", "0.001"),  # a share of zero is nothing
        ("at most -5 V", "0.5 % + 3 digits", "0.01"),
        ("at most 0 V", "0.5 % + 3 digits", "0.01"),  # readings below zero can pass
    ],
)
def test_limits_that_some_reading_can_pass_are_left_to_the_instrument(limits: str, accuracy: str, digit: str) -> None:
    assert decidable(parse_limits(limits), parse_accuracy(accuracy), Decimal(digit)) is None


def test_what_the_wrong_instrument_read_is_told_by_its_smallest_figure() -> None:
    found = judged(["5.10 V", "5.00 V"], "4.85 V .. 5.15 V", accuracy=parse_accuracy("± 17 ms"))
    assert found.sentence.startswith("5.00 V can't be judged by")


def test_of_several_over_range_readings_the_one_with_a_number_is_told() -> None:
    assert judged(["OL", "> 2 kΩ"], "at most 0.5 Ω", "at least 0 Ω").sentence.startswith("> 2 kΩ is outside")

"""Is a part in its circuit judged by what parallel paths can and can't do?"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.errors import OurBug
from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.in_circuit import behind_parallel, hides_the_part, judge_in_circuit, one_sided
from passcheck.judge.judgement import Judgement
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_quantity, parse_reading

METER = parse_accuracy("1 % + 3 digits")


def judged(
    reading: str, reverse: str | None = "same", *, parallel: str | None = None, expected: str | None = None
) -> Judgement:
    """Judge a part of 10 kΩ ± 5 %."""
    other = reading if reverse == "same" else reverse
    return judge_in_circuit(
        parse_reading(reading, "Ω"),
        None if other is None else parse_reading(other, "Ω"),
        parse_quantity("10 kΩ"),
        Decimal(5),
        METER,
        parallel=None if parallel is None else parse_quantity(parallel),
        parallel_tolerance_percent=Decimal(5),
        expected=None if expected is None else parse_limits(expected),
    )


@pytest.mark.parametrize(
    ("reading", "reverse", "verdict", "finding"),
    [
        ("OL", "same", "fail", "high or open"),
        ("12.00 kΩ", "same", "fail", "high or open"),
        ("6.88 kΩ", "same", "in doubt", "low"),
        ("9.90 kΩ", "same", "pass", "consistent, not proven"),
        ("10.55 kΩ", "same", "pass", "consistent, not proven"),
        ("> 2 kΩ", "same", "in doubt", "higher range"),
        ("> 20 kΩ", "same", "fail", "high or open"),
        ("12.00 kΩ", None, "in doubt", "one polarity only"),
        ("12.00 kΩ", "6.00 kΩ", "in doubt", "polarities differ"),
        ("OL", "6.00 kΩ", "in doubt", "polarities differ"),
        ("-3 Ω", "same", "not measured", "charge"),
        ("-OL", "same", "not measured", "charge"),
    ],
)
def test_only_what_no_parallel_path_can_cause_is_a_proven_fault(
    reading: str, reverse: str | None, verdict: str, finding: str
) -> None:
    found = judged(reading, reverse)
    assert found.verdict == verdict
    assert finding in found.sentence
    assert "10 kΩ ± 5 %" in found.sentence
    assert found.outside is (verdict != "pass")


def test_a_small_difference_that_the_meter_explains_is_no_polarity() -> None:
    found = judge_in_circuit(
        parse_quantity("0.47 Ω"), parse_quantity("0.49 Ω"), parse_quantity("0.47 Ω"), Decimal(10), METER
    )
    assert found.verdict == "pass"


def test_a_good_board_settles_low_and_finds_the_open_part() -> None:
    assert judged("6.88 kΩ", expected="6.8 kΩ ± 5 %").verdict == "pass"
    open_part = judged("9.90 kΩ", expected="6.8 kΩ ± 5 %")
    assert open_part.verdict == "fail"
    assert "good boards" in open_part.sentence


def test_a_known_path_is_taken_out_of_the_reading() -> None:
    found = judged("6875 Ω", parallel="22 kΩ")
    assert found.verdict == "pass"
    assert found.value == "10000"
    assert "22 kΩ" in found.sentence
    assert judged("5000 Ω", parallel="22 kΩ").verdict == "fail"
    assert judged("21900 Ω", parallel="22 kΩ").verdict == "fail"


def test_a_short_is_low_even_beside_a_known_path() -> None:
    found = judged("0 Ω", parallel="22 kΩ")
    assert found.verdict == "in doubt"
    assert "low" in found.sentence


def test_nothing_finer_than_the_meter_is_said() -> None:
    assert judged("6875 Ω").sentence.startswith("6.88 kΩ is under 10 kΩ ± 5 %")


@given(st.integers(1, 30))
def test_a_meter_too_coarse_for_the_tolerance_passes_nothing(kiloohms: int) -> None:
    assert judged(f"{kiloohms} kΩ").verdict != "pass"


def test_a_path_that_hides_the_part_decides_nothing() -> None:
    found = judged("1.99 kΩ", parallel="2 kΩ")
    assert found.verdict == "in doubt"
    assert "may be open" in found.sentence


def test_anything_but_ohms_is_our_bug() -> None:
    volts = parse_quantity("5 V")
    with pytest.raises(OurBug):
        judge_in_circuit(volts, volts, parse_quantity("10 kΩ"), Decimal(5), METER)


@given(st.floats(10, 1e6), st.floats(1.3, 1e3))
def test_taking_the_path_out_undoes_putting_it_in(part: float, ratio: float) -> None:
    path = part * ratio
    together = part * path / (part + path)
    assert behind_parallel(together, 0.0, path, 0.0)[0] == pytest.approx(part, rel=1e-9)


@given(st.decimals(100, 9000, places=0), st.decimals(100, 30000, places=0))
def test_no_path_beside_a_good_part_makes_it_fail(path: Decimal, beside: Decimal) -> None:
    together = 10_000 * path * beside / (path * beside + 10_000 * (path + beside))
    assert judged(f"{together:.0f} Ω").verdict != "fail"


@pytest.mark.parametrize(
    ("lowest", "highest", "finding"),
    [
        (10.60, 10.70, "high or open"),
        (10.55, 10.70, "consistent"),
        (9.30, 9.41, "low"),
        (9.30, 9.42, "consistent"),
    ],
)
def test_beyond_an_end_is_1_645_standard_uncertainties_beyond(lowest: float, highest: float, finding: str) -> None:
    assert one_sided(lowest, highest, 0.05, 9.5, 10.5) == finding


def test_a_path_of_a_quarter_more_than_the_reading_hides_the_part() -> None:
    assert not hides_the_part(1600, 2000)
    assert hides_the_part(1601, 2000)
    assert hides_the_part(2000, 2000)


def test_the_ends_are_those_of_the_parts_tolerance() -> None:
    found = judged("9.90 kΩ")
    assert (found.low, found.high) == ("9500", "10500")


def test_the_larger_reading_and_the_coarser_digit_make_the_uncertainty() -> None:
    assert float(judged("9.90 kΩ", "10.00 kΩ").u or 0) == pytest.approx((100 + 30) / 3**0.5, rel=1e-5)
    assert float(judged("9.9 kΩ", "9.95 kΩ").u or 0) == pytest.approx((99.5 + 300) / 3**0.5, rel=1e-5)


@pytest.mark.parametrize(
    ("reading", "reverse", "nominal", "decided"),
    [
        ("10.00 kΩ", "9.80 kΩ", "10 kΩ", True),  # 2 % of the larger
        ("10.00 kΩ", "9.79 kΩ", "10 kΩ", False),
        ("0.45 Ω", "0.49 Ω", "0.47 Ω", True),  # the meter explains 0.047 Ω
        ("0.44 Ω", "0.49 Ω", "0.47 Ω", False),
    ],
)
def test_polarities_agree_within_2_percent_or_what_the_meter_explains(
    reading: str, reverse: str, nominal: str, decided: bool
) -> None:
    both = parse_quantity(reading), parse_quantity(reverse)
    found = judge_in_circuit(*both, parse_quantity(nominal), Decimal(10), METER)
    assert ("polarities differ" not in found.sentence) is decided


def test_over_range_has_to_reach_the_end_in_both_polarities() -> None:
    assert judged("> 20 kΩ", "> 2 kΩ").verdict == "in doubt"
    assert judged("> 10.5 kΩ").verdict == "fail"


def test_a_path_without_a_tolerance_has_that_of_the_part() -> None:
    def beside(tolerance: Decimal | None) -> float:
        reading = parse_quantity("6875 Ω")
        found = judge_in_circuit(
            reading,
            reading,
            parse_quantity("10 kΩ"),
            Decimal(5),
            METER,
            parallel=parse_quantity("22 kΩ"),
            parallel_tolerance_percent=tolerance,
        )
        return float(found.u or 0)

    assert beside(None) == beside(Decimal(5)) > beside(Decimal(1))


def test_a_part_found_behind_its_path_is_told_with_its_margin() -> None:
    assert judged("6875 Ω", parallel="22 kΩ").sentence == (
        "6.88 kΩ with 22 kΩ beside it means 10.0 kΩ (± 0.3 kΩ), inside 10 kΩ ± 5 %."
    )


def test_a_part_all_but_shorted_fails_beside_a_known_path() -> None:
    assert judged("0.50 Ω", parallel="22 kΩ").verdict == "fail"


def test_a_good_board_that_reads_next_to_nothing_settles_next_to_nothing() -> None:
    assert judged("0.50 Ω", expected="at most 5 Ω").verdict == "pass"

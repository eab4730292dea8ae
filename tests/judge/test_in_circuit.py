"""Is a part in its circuit judged by what parallel paths can and can't do?"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.errors import OurBug
from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.in_circuit import behind_parallel, judge_in_circuit
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

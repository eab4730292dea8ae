"""Does the sentence of a reading hold what was found, how far from the limit, and how wrong the instrument may be?"""

from collections.abc import Sequence
from decimal import Decimal

import pytest

from passcheck.judge.accuracy import parse_accuracy
from passcheck.judge.conformity import guarded
from passcheck.judge.estimate import pool
from passcheck.judge.judgement import Rule
from passcheck.judge.limits import parse_limits
from passcheck.judge.quantity import parse_quantity
from passcheck.judge.sentence import decade, finest_shown, sentence_of


def said(texts: Sequence[str], limits: str, accuracy: str, rule: Rule = "guarded") -> str:
    wanted = parse_limits(limits)
    estimate = pool([parse_quantity(text) for text in texts], parse_accuracy(accuracy))
    verdict = guarded(estimate.value, estimate.u, wanted, estimate.nu)
    return sentence_of(verdict, estimate, wanted, rule)


def test_a_fail_away_from_zero_says_nothing_of_a_loose_probe() -> None:
    assert said(["5.40 V"], "4.85 V .. 5.15 V", "1 digit") == (
        "5.40 V is outside 4.85 V .. 5.15 V, 0.25 V beyond the nearer limit; instrument ± 0.01 V."
    )


def test_a_zero_that_should_be_there_says_nothing_of_a_loose_probe() -> None:
    assert "loose" not in said(["0.00 V"], "-0.5 V .. 0.5 V", "1 digit")
    assert "loose probe" in said(["0.00 V"], "4.85 V .. 5.15 V", "1 digit")


@pytest.mark.parametrize(
    ("reading", "distance"),
    [
        ("5.14 V", "0.01 V from"),
        ("5.13 V", "0.02 V from"),
        ("5.15 V", "less than 0.01 V from"),
        ("5.16 V", "0.01 V beyond"),
    ],
)
def test_a_distance_finer_than_the_last_digit_is_not_said_as_a_number(reading: str, distance: str) -> None:
    assert distance in said([reading], "4.85 V .. 5.15 V", "± 1 mV")


def test_an_error_finer_than_the_last_digit_is_said_as_it_is() -> None:
    assert said(["5.0 V"], "4.0 V .. 6.0 V", "± 10 mV").endswith("instrument ± 10 mV.")


def test_readings_that_scatter_are_in_doubt_by_their_scatter_and_not_by_the_instrument() -> None:
    sentence = said(["5.10 V", "5.20 V"], "4.85 V .. 5.15 V", "± 1 mV")
    assert sentence.endswith("too close for readings that scatter so much (± 0.10 V).")


def test_limits_closer_together_than_the_instrument_decides_are_said_so() -> None:
    assert "these limits are too close together" in said(["5.00 V"], "4.99 V .. 5.01 V", "± 0.05 V")


def test_the_finest_digit_is_that_of_the_uncertainty_or_as_written_when_coarser() -> None:
    fine = pool([parse_quantity("5.01234 V")], parse_accuracy("2 %"))
    coarse = pool([parse_quantity("5 V")], parse_accuracy("± 1 mV"))
    assert (finest_shown(fine), finest_shown(coarse)) == (Decimal("0.01"), Decimal(1))
    assert [decade(u) for u in (0.0999, 0.1, 12.0)] == [Decimal("0.01"), Decimal("0.1"), Decimal(10)]

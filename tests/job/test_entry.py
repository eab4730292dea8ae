"""What did the technician type?"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.job.entry import EntryFault, quantity, readings
from passcheck.judge.quantity import OverRange, Quantity


def test_a_bare_number_takes_the_unit_of_the_limits() -> None:
    (found,) = readings(("4,98",), "V")
    assert isinstance(found, Quantity)
    assert (found.value, found.unit, found.digit) == (Decimal("4.98"), "V", Decimal("0.01"))


def test_over_range_is_a_reading_but_no_quantity() -> None:
    assert isinstance(readings(("OL",), "Ω")[0], OverRange)
    with pytest.raises(EntryFault):
        quantity("OL", "Ω")


@pytest.mark.parametrize("texts", [(), ("",), ("5.00 V", "x"), ("5.00 A",)])
def test_what_is_no_reading_is_refused_with_a_sentence(texts: tuple[str, ...]) -> None:
    with pytest.raises(EntryFault, match=r"\w+ \w+"):
        readings(texts, "V")


@given(st.text(max_size=80))
def test_no_text_at_all_gets_past_as_something_else(text: str) -> None:
    try:
        (found,) = readings((text,), "V")
    except EntryFault:
        return
    assert found.unit == "V"

"""Is stored energy half of C times V squared?"""

import pytest

from passcheck.errors import OurBug
from passcheck.judge.energy import stored_energy_j
from passcheck.judge.quantity import parse_quantity


@pytest.mark.parametrize(
    ("capacitance", "voltage", "joules"),
    [("12 mF", "58 V", 20.184), ("22 µF", "325 V", 1.161875), ("1.41 mF", "24 V", 0.40608)],
)
def test_a_bank_holds_what_the_formula_says(capacitance: str, voltage: str, joules: float) -> None:
    assert stored_energy_j(parse_quantity(capacitance), parse_quantity(voltage)) == pytest.approx(joules)


def test_other_units_are_our_bug() -> None:
    with pytest.raises(OurBug):
        stored_energy_j(parse_quantity("24 V"), parse_quantity("12 mF"))

    with pytest.raises(OurBug):
        stored_energy_j(parse_quantity("12 mF"), parse_quantity("12 mF"))
    with pytest.raises(OurBug):
        stored_energy_j(parse_quantity("24 V"), parse_quantity("24 V"))

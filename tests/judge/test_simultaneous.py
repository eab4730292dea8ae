"""Do readings taken together carry their correlation into what is worked out from them?"""

import math

import pytest
from reference_cases import reference_case

from passcheck.judge.simultaneous import combined_u, read_together


def test_a09_impedance_and_resistance_of_the_published_example() -> None:
    inputs, expected, tolerance = reference_case("A09")
    together = read_together([inputs[name] for name in ("V_V", "I_A", "phi_rad")])
    volts, amperes, phase = together.means
    z, r = volts / amperes, volts / amperes * math.cos(phase)
    u_z = combined_u((1 / amperes, -z / amperes, 0.0), together.covariance)
    u_r = combined_u((r / volts, -r / amperes, -z * math.sin(phase)), together.covariance)
    assert z == pytest.approx(expected["Z_ohm"], abs=tolerance["Z_ohm"])
    assert u_z == pytest.approx(expected["u_Z"], abs=tolerance["u_Z"])
    assert r == pytest.approx(expected["R_ohm"], abs=tolerance["R_ohm"])
    assert u_r == pytest.approx(expected["u_R"], abs=tolerance["u_R"])
    assert together.correlation(0, 1) == pytest.approx(expected["r_VI"], abs=tolerance["r_VI"])
    assert together.correlation(0, 1) == pytest.approx(together.correlation(1, 0))


def test_what_moves_together_cancels_in_a_difference() -> None:
    together = read_together([[1.0, 2.0, 3.0], [11.0, 12.0, 13.0]])
    assert combined_u((1, -1), together.covariance) == pytest.approx(0, abs=1e-12)
    assert combined_u((1, 1), together.covariance) == pytest.approx(2 / math.sqrt(3))


def test_a_quantity_that_never_moves_has_no_correlation() -> None:
    assert read_together([[1.0, 2.0], [5.0, 5.0]]).correlation(0, 1) == 0.0


@pytest.mark.parametrize("columns", [[], [[1.0]], [[1.0, 2.0], [1.0]]])
def test_unequal_or_single_readings_are_refused(columns: list[list[float]]) -> None:
    with pytest.raises(ValueError, match="at least 2"):
        read_together(columns)


def test_every_quantity_needs_its_sensitivity() -> None:
    with pytest.raises(ValueError, match="1 sensitivities for 2"):
        combined_u((1,), read_together([[1.0, 2.0], [2.0, 1.0]]).covariance)

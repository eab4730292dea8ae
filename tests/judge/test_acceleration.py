"""Do heat and cycling age a unit as the published factors say?"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.acceleration import arrhenius, arrhenius_range, coffin_manson, kelvin, norris_landzberg

BOARD_C = st.floats(-40, 150)


def test_e04_from_25_to_125_degrees() -> None:
    inputs, expected, tolerance = reference_case("E04")
    use_c, stress_c = inputs["T_use_degC"], inputs["T_stress_degC"]
    found = [arrhenius(ea_ev, use_c, stress_c) for ea_ev in inputs["Ea_eV"]]
    assert found == pytest.approx(expected["AF"], rel=tolerance["rel"])
    assert found == pytest.approx(expected["published"], rel=tolerance["rel"])


def test_e06_thermal_cycles() -> None:
    inputs, expected, tolerance = reference_case("E06")
    swings = inputs["dT_use"], inputs["dT_test"]
    cycles = inputs["f_use_per_day"], inputs["f_test_per_day"], inputs["Tmax_use_degC"], inputs["Tmax_test_degC"]
    assert coffin_manson(*swings, inputs["m"]) == pytest.approx(expected["AF_CM"], rel=tolerance["rel"])
    assert norris_landzberg(*swings, *cycles) == pytest.approx(expected["AF_NL"], rel=tolerance["rel"])


@given(BOARD_C, BOARD_C, BOARD_C, st.floats(0, 1.2))
def test_two_stages_of_heat_multiply(a: float, b: float, c: float, ea_ev: float) -> None:
    assert arrhenius(ea_ev, a, b) * arrhenius(ea_ev, b, c) == pytest.approx(arrhenius(ea_ev, a, c), rel=1e-9)


@given(BOARD_C, BOARD_C)
def test_the_range_has_its_smaller_factor_first(use_c: float, stress_c: float) -> None:
    around = arrhenius_range(use_c, stress_c)
    assert around.low <= around.high
    assert around.low <= arrhenius(0.55, use_c, stress_c) <= around.high


def test_the_range_is_that_of_the_likely_energies() -> None:
    around = arrhenius_range(35, 60)
    assert (around.low, around.high) == (arrhenius(0.4, 35, 60), arrhenius(0.7, 35, 60))
    assert around.low == pytest.approx(3.0968, abs=1e-4)


def test_the_heat_of_a_cycle_has_its_published_constant() -> None:
    kelvins = 1 / kelvin(60) - 1 / kelvin(100)
    assert math.log(norris_landzberg(40, 40, 2, 2, 60, 100)) == pytest.approx(1414 * kelvins)


def test_no_energy_and_no_exponent_are_no_acceleration() -> None:
    assert arrhenius(0, 25, 125) == 1
    assert coffin_manson(40, 100, 0) == 1


def test_the_largest_factor_that_a_number_holds_is_given() -> None:
    assert coffin_manson(1, math.e, 700) == pytest.approx(math.exp(700))
    with pytest.raises(ValueError, match="larger than any number"):
        coffin_manson(1, math.e, 700.5)


def test_no_stress_is_no_acceleration() -> None:
    assert arrhenius(0.7, 40, 40) == 1
    assert coffin_manson(40, 40, 2.5) == 1
    assert norris_landzberg(40, 40, 2, 2, 60, 60) == 1


def test_temperatures_are_used_in_kelvin() -> None:
    assert kelvin(25) == 298.15
    assert arrhenius(0.7, 35, 60) == pytest.approx(7.23, abs=0.005)


@pytest.mark.parametrize("celsius", [-273.15, -300, math.nan, math.inf])
def test_a_temperature_that_no_board_has_is_refused(celsius: float) -> None:
    with pytest.raises(ValueError, match="no temperature"):
        arrhenius(0.7, 25, celsius)


def test_what_ages_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="swings above 0"):
        coffin_manson(0, 100, 2)
    with pytest.raises(ValueError, match="cycles a day above 0"):
        norris_landzberg(40, 100, 2, 0, 60, 100)
    with pytest.raises(ValueError, match="swings above 0"):
        norris_landzberg(40, -100, 2, 2, 60, 100)
    for ea_ev in (-0.1, math.inf, math.nan):
        with pytest.raises(ValueError, match="activation energy"):
            arrhenius(ea_ev, 25, 125)
    for exponent in (-0.1, math.inf, math.nan):
        with pytest.raises(ValueError, match="exponent"):
            coffin_manson(40, 100, exponent)
    with pytest.raises(ValueError, match="swings above 0"):
        coffin_manson(40, math.inf, 2)
    with pytest.raises(ValueError, match="larger than any number"):
        arrhenius(1.0, -270, 125)

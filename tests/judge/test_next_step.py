"""Is the step chosen that tells most in the least time?"""

import math

import pytest
from fault_bench import benches, evidence_of, matrix_of
from hypothesis import given
from reference_cases import reference_case

from passcheck.judge.fault_matrix import FaultMatrix
from passcheck.judge.next_step import entropy, next_step
from passcheck.judge.suspects import fault_sets


def test_f03_the_gain_of_the_14_days() -> None:
    inputs, expected, tolerance = reference_case("F03")
    days = inputs["pos"] + inputs["neg"]
    whole = entropy((inputs["pos"] / days, inputs["neg"] / days))
    assert whole == pytest.approx(expected["H"], abs=tolerance["abs"])
    for name, gain in zip(("outlook", "humidity", "wind"), expected["gain"], strict=True):
        known = sum(sum(row) / days * entropy([each / sum(row) for each in row]) for row in inputs[name])
        assert whole - known == pytest.approx(gain, abs=tolerance["abs"])


def test_f06_what_to_do_after_a_failed_button() -> None:
    inputs, expected, tolerance = reference_case("F06")
    found = next_step(matrix_of(inputs), evidence_of(inputs), inputs["minutes"])
    assert dict(found.gain_bit) == pytest.approx(expected["gain_bit"], abs=tolerance["abs"])
    assert dict(found.gain_per_min) == pytest.approx(expected["gain_per_min"], abs=tolerance["abs"])
    assert found.step == expected["next"]
    assert found.reason == "rail tells most a minute, 0.66 bit of what still keeps the suspects apart."


@given(benches())
def test_the_gain_is_the_fall_of_the_entropy_of_the_suspects(bench: tuple[FaultMatrix, dict[str, float]]) -> None:
    matrix, evidence = bench
    before = entropy(fault_sets(matrix, evidence).probability)
    for step, gain in next_step(matrix, evidence, dict.fromkeys(matrix.steps, 1.0)).gain_bit.items():
        after = 0.0
        for out in (0.0, 1.0):
            likely = _probability(matrix, evidence, step, out)
            after += likely * entropy(fault_sets(matrix, {**evidence, step: out}).probability)
        assert gain == pytest.approx(before - after, abs=1e-9)


@given(benches())
def test_steps_with_an_outcome_are_not_offered_again(bench: tuple[FaultMatrix, dict[str, float]]) -> None:
    matrix, evidence = bench
    offered = next_step(matrix, evidence, dict.fromkeys(matrix.steps, 1.0)).gain_bit
    assert set(offered) == set(matrix.steps) - set(evidence)


@given(benches())
def test_sets_that_were_weighed_already_choose_the_same(bench: tuple[FaultMatrix, dict[str, float]]) -> None:
    matrix, evidence = bench
    minutes = dict.fromkeys(matrix.steps, 1.0)
    weighed = fault_sets(matrix, evidence)
    assert next_step(matrix, evidence, minutes, sets=weighed) == next_step(matrix, evidence, minutes)


def test_a_slow_step_loses_to_a_quick_one_that_tells_less() -> None:
    matrix = _two_blocks()
    assert next_step(matrix, {"button": 1.0}, {"rail": 1, "lamp": 1}).step == "rail"
    assert next_step(matrix, {"button": 1.0}, {"rail": 30, "lamp": 1}).step == "lamp"


def test_a_forbidden_step_or_one_behind_a_failed_one_is_not_offered() -> None:
    matrix = _two_blocks()
    minutes = {"rail": 1.0, "lamp": 1.0}
    assert next_step(matrix, {"button": 1.0}, minutes, forbidden={"rail"}).step == "lamp"
    tied = FaultMatrix(
        matrix.blocks, matrix.steps, matrix.prior, matrix.q, matrix.leak, {"rail": frozenset({"button"})}
    )
    assert set(next_step(tied, {"button": 1.0}, minutes).gain_bit) == {"lamp"}


def test_it_stops_when_one_block_stands_far_ahead() -> None:
    matrix = FaultMatrix(("PWR", "MCU"), ("rail", "lamp"), (0.1, 0.001), ((0.95, 0.9), (0.01, 0.5)), (0.01,) * 2, {})
    found = next_step(matrix, {"rail": 1.0}, {"lamp": 1})
    assert found.step is None
    assert found.reason == "PWR stands far ahead of the others: look there before testing on."
    assert found.gain_bit["lamp"] > 0


def test_it_stops_when_nothing_tells_more() -> None:
    matrix = FaultMatrix(("PWR", "MCU"), ("rail", "lamp"), (0.1, 0.1), ((0.9, 0.5), (0.8, 0.5)), (0.01,) * 2, {})
    found = next_step(matrix, {"rail": 1.0}, {"lamp": 60})
    assert (found.step, "0.01 bit a minute" in found.reason) == (None, True)
    assert next_step(matrix, {"rail": 1.0}, {}).reason == "No step is open that could tell more."


@pytest.mark.parametrize("minutes", [{"rail": 0}, {"rail": -1}, {"rail": math.nan}, {"rail": math.inf}, {"unknown": 1}])
def test_minutes_that_cannot_be_are_refused(minutes: dict[str, float]) -> None:
    with pytest.raises(ValueError, match=r"minutes have|no step unknown"):
        next_step(_two_blocks(), {}, minutes)


def _two_blocks() -> FaultMatrix:
    rows = ((0.9, 0.95, 0.6), (0.9, 0.02, 0.3))
    return FaultMatrix(("PWR", "MCU"), ("button", "rail", "lamp"), (0.1, 0.1), rows, (0.02,) * 3, {})


def _probability(matrix: FaultMatrix, evidence: dict[str, float], step: str, out: float) -> float:
    sets, place = fault_sets(matrix, evidence), matrix.steps.index(step)
    fails = math.fsum(
        p * (1 - (1 - matrix.leak[place]) * math.prod(1 - matrix.q[b][place] for b in members))
        for members, p in zip(sets.members, sets.probability, strict=True)
    )
    return fails if out else 1 - fails

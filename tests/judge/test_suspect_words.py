"""Are suspects told with their reasons, and without a number that sounds too sure?"""

import math

from fault_bench import benches, evidence_of, matrix_of
from hypothesis import given
from reference_cases import reference_case

from passcheck.judge.fault_matrix import FaultMatrix
from passcheck.judge.suspect_words import BENCH, NOT_LISTED, told_suspects, with_outsiders
from passcheck.judge.suspects import fault_sets


def test_the_first_suspect_has_its_reasons() -> None:
    inputs, _expected, _tolerance = reference_case("F04")
    told = told_suspects(matrix_of(inputs), evidence_of(inputs), {"input": "input stage", "code": "no stored code"})
    assert told[0].sentence == (
        "Suspect 1: input stage, 2.3 bit ahead of the next: button failed (+4.8 bit), no stored code failed (+2.7 bit)."
    )
    assert [each.place for each in told] == [1, 2, 3, 4, 5, 6]
    assert told[-1].sentence == (
        "Suspect 6: supply: button failed (+4.7 bit), rail passed (-4.3 bit), no stored code failed (+3.4 bit), "
        "lamp passed (-2.3 bit), gauge passed (-2.3 bit)."
    )


@given(benches())
def test_bench_and_a_fault_not_listed_are_always_among_them_and_no_percentage(
    bench: tuple[FaultMatrix, dict[str, float]],
) -> None:
    told = told_suspects(*bench)
    assert {BENCH, NOT_LISTED} <= {each.name for each in told}
    assert not any("%" in each.sentence for each in told)
    assert all(each.ahead_bit is None or each.ahead_bit >= 0 for each in told)
    assert told[-1].ahead_bit is None


@given(benches())
def test_sets_that_were_weighed_already_tell_the_same(bench: tuple[FaultMatrix, dict[str, float]]) -> None:
    matrix, evidence = bench
    weighed = fault_sets(with_outsiders(matrix), evidence)
    assert told_suspects(matrix, evidence, sets=weighed) == told_suspects(matrix, evidence)


def test_outcomes_that_fit_no_block_point_beyond_the_sequence() -> None:
    rows = ((0.95, 0.01, 0.01), (0.01, 0.95, 0.01))
    matrix = FaultMatrix(("PWR", "MCU"), ("rail", "code", "lamp"), (0.2, 0.2), rows, (0.01,) * 3, {})
    told = told_suspects(matrix, {"rail": 0.0, "code": 0.0, "lamp": 1.0})
    assert {told[0].name, told[1].name} == {BENCH, NOT_LISTED}


def test_explained_steps_are_no_reason_and_doubt_is_named() -> None:
    rows = ((0.95, 0.95, 0.95),)
    matrix = FaultMatrix(("PWR",), ("rail", "lamp", "ripple"), (0.2,), rows, (0.01,) * 3, {"lamp": frozenset({"rail"})})
    sentence = next(
        each.sentence for each in told_suspects(matrix, {"rail": 1.0, "lamp": 1.0, "ripple": 0.6}) if each.name == "PWR"
    )
    assert "lamp" not in sentence
    assert "ripple in doubt" in sentence


def test_a_proof_is_told_with_a_number_that_can_be_read() -> None:
    matrix = FaultMatrix(("PWR",), ("rail",), (1.0,), ((0.9,),), (0.0,), {})
    told = told_suspects(matrix, {"rail": 1.0}, outside_prior=(0.0, 0.0))
    assert told[0].ahead_bit == math.inf
    assert told[0].sentence == "Suspect 1: PWR, 99.9 bit ahead of the next: rail failed (+99.9 bit)."


def test_a_sequence_that_describes_its_bench_keeps_its_own_row() -> None:
    matrix = FaultMatrix((BENCH, "PWR"), ("rail",), (0.3, 0.1), ((0.2,), (0.9,)), (0.03,), {})
    whole = with_outsiders(matrix)
    assert whole.blocks == (BENCH, "PWR", NOT_LISTED)
    assert whole.q[0] == (0.2,)

"""Are the blocks ranked as the outcomes weigh them?"""

import math
import time
from dataclasses import replace
from itertools import combinations
from typing import Any

import pytest
from fault_bench import benches, evidence_of, matrix_of
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.fault_matrix import FaultMatrix, noisy_or
from passcheck.judge.suspects import evidence_bits, suspects

Q = st.floats(0.01, 0.95)


def test_f04_a_board_whose_button_and_code_failed() -> None:
    inputs, expected, tolerance = reference_case("F04")
    found = suspects(matrix_of(inputs), evidence_of(inputs))
    assert dict(found.posterior) == pytest.approx(expected["p_block_faulty"], abs=tolerance["abs"])
    assert list(found.ranking) == expected["ranking"]


def test_f09_what_one_step_says_of_one_block() -> None:
    inputs, expected, tolerance = reference_case("F09")
    q, leak = inputs["q"], inputs["leak"]
    assert noisy_or([q], leak) == pytest.approx(expected["p_fail_faulty"], abs=tolerance["abs"])
    assert evidence_bits(q, leak, 1) == pytest.approx(expected["llr_fail_bit"], abs=tolerance["abs"])
    assert evidence_bits(q, leak, 0) == pytest.approx(expected["llr_pass_bit"], abs=tolerance["abs"])


@given(benches())
def test_the_whole_sum_over_sets_gives_the_same(bench: tuple[FaultMatrix, dict[str, float]]) -> None:
    matrix, evidence = bench
    found = suspects(matrix, evidence)
    assert dict(found.posterior) == pytest.approx(_by_definition(matrix, evidence), rel=1e-9, abs=1e-12)


@given(benches(), st.randoms(use_true_random=False))
def test_the_order_of_blocks_and_steps_changes_nothing(
    bench: tuple[FaultMatrix, dict[str, float]], shuffle: Any
) -> None:
    matrix, evidence = bench
    blocks, steps = list(range(len(matrix.blocks))), list(range(len(matrix.steps)))
    shuffle.shuffle(blocks)
    shuffle.shuffle(steps)
    mixed = FaultMatrix(
        tuple(matrix.blocks[b] for b in blocks),
        tuple(matrix.steps[s] for s in steps),
        tuple(matrix.prior[b] for b in blocks),
        tuple(tuple(matrix.q[b][s] for s in steps) for b in blocks),
        tuple(matrix.leak[s] for s in steps),
        {},
    )
    plain, other = suspects(matrix, evidence), suspects(mixed, dict(reversed(evidence.items())))
    assert dict(other.posterior) == pytest.approx(dict(plain.posterior), rel=1e-9)
    assert other.bits == plain.bits


@given(benches())
def test_a_step_that_was_not_run_weighs_nothing(bench: tuple[FaultMatrix, dict[str, float]]) -> None:
    matrix, evidence = bench
    wider = replace(
        matrix,
        steps=(*matrix.steps, "not-run"),
        q=tuple((*row, 0.5) for row in matrix.q),
        leak=(*matrix.leak, 0.5),
    )
    assert suspects(wider, evidence).posterior == suspects(matrix, evidence).posterior


@given(Q, st.floats(0.001, 0.5))
def test_a_fail_speaks_against_a_block_and_a_pass_for_it(q: float, leak: float) -> None:
    assert evidence_bits(q, leak, 1) > 0 > evidence_bits(q, leak, 0)
    assert evidence_bits(q, leak, 0) == pytest.approx(math.log2(1 - q))


def test_a_block_that_a_step_never_shows_gets_no_bits_from_it() -> None:
    assert evidence_bits(0, 0.03, 1) == pytest.approx(0, abs=1e-12)
    assert evidence_bits(0, 0, 1) == 0  # neither can be: nothing is known


@given(Q, st.floats(0.001, 0.2), st.floats(0, 1), st.floats(0, 1))
def test_doubt_lies_between_pass_and_fail(q: float, leak: float, a: float, b: float) -> None:
    less, more = sorted((a, b))
    assert evidence_bits(q, leak, 0) <= evidence_bits(q, leak, less) + 1e-12
    assert evidence_bits(q, leak, less) <= evidence_bits(q, leak, more) + 1e-12
    assert evidence_bits(q, leak, more) <= evidence_bits(q, leak, 1) + 1e-12


def test_a_dead_rail_is_not_counted_twice() -> None:
    rows = ((0.9, 0.9, 0.9), (0.01, 0.9, 0.9))
    free = FaultMatrix(("PWR", "MCU"), ("rail", "lamp", "code"), (0.1, 0.1), rows, (0.03,) * 3, {})
    tied = replace(free, depends={"lamp": frozenset({"rail"}), "code": frozenset({"lamp"})})
    all_dead = {"rail": 1.0, "lamp": 1.0, "code": 1.0}
    found = suspects(tied, all_dead)
    assert found.explained == {"lamp", "code"}
    assert found.posterior == suspects(free, {"rail": 1.0}).posterior
    assert (found.bits["PWR"]["lamp"], found.bits["MCU"]["code"]) == (0, 0)
    rail_good = {"rail": 0.0, "lamp": 1.0}
    assert suspects(tied, rail_good).posterior == suspects(free, rail_good).posterior


def test_a_reading_that_surely_fails_explains_too_but_one_in_doubt_does_not() -> None:
    matrix = FaultMatrix(("PWR",), ("rail", "lamp"), (0.1,), ((0.9, 0.9),), (0.03, 0.03), {"lamp": frozenset({"rail"})})
    assert suspects(matrix, {"rail": 0.96, "lamp": 1.0}).explained == {"lamp"}
    assert suspects(matrix, {"rail": 0.95, "lamp": 1.0}).explained == {"lamp"}
    assert suspects(matrix, {"rail": 0.94, "lamp": 1.0}).explained == frozenset()


def test_equal_blocks_keep_the_order_of_the_sequence() -> None:
    matrix = FaultMatrix(("Z", "A", "M"), ("rail",), (0.1,) * 3, ((0.5,),) * 3, (0.03,), {})
    assert suspects(matrix, {"rail": 1.0}).ranking == ("Z", "A", "M")


def test_more_steps_than_a_double_holds_in_a_product_are_weighed() -> None:
    names = tuple(f"s{place}" for place in range(2000))
    matrix = FaultMatrix(("A", "B"), names, (0.1, 0.1), ((0.01,) * 2000, (0.02,) * 2000), (0.01,) * 2000, {})
    posterior = suspects(matrix, dict.fromkeys(names, 1.0)).posterior
    assert posterior["B"] == pytest.approx(1)


def test_outcomes_that_the_matrix_rules_out_are_refused() -> None:
    sure = FaultMatrix(("PWR",), ("rail",), (0.1,), ((1.0,),), (0.0,), {})
    assert suspects(sure, {"rail": 1.0}).bits["PWR"]["rail"] == math.inf
    with pytest.raises(ValueError, match="such outcomes can't be"):
        suspects(sure, {"rail": 0.0})
    with pytest.raises(ValueError, match="no step lamp"):
        suspects(sure, {"lamp": 0.0})
    for out in (1.5, -0.5, math.nan):
        with pytest.raises(ValueError, match="between 0 and 1"):
            suspects(sure, {"rail": out})


def test_a_board_beyond_any_bench_is_refused_soon() -> None:
    blocks = tuple(f"B{place}" for place in range(400))
    with pytest.raises(ValueError, match="too many"):
        suspects(FaultMatrix(blocks, ("rail",), (0.1,) * 400, ((0.5,),) * 400, (0.03,), {}), {"rail": 1.0})


def test_twelve_blocks_and_thirty_steps_are_ranked_before_anybody_waits() -> None:
    rows = tuple(tuple(0.01 + 0.09 * ((7 * step + 3 * block) % 10) for step in range(30)) for block in range(12))
    names = tuple(f"s{place}" for place in range(30))
    matrix = FaultMatrix(tuple(f"B{place}" for place in range(12)), names, (0.1,) * 12, rows, (0.03,) * 30, {})
    evidence = {name: float(place % 3 == 0) for place, name in enumerate(names)}
    began = time.process_time()
    suspects(matrix, evidence)
    assert time.process_time() - began < 0.2


def _by_definition(matrix: FaultMatrix, evidence: dict[str, float]) -> dict[str, float]:
    """The sum as it stands in the textbook, with products instead of logarithms."""
    total, sums = 0.0, dict.fromkeys(matrix.blocks, 0.0)
    for size in (1, 2, 3):
        for faulty in combinations(range(len(matrix.blocks)), size):
            weight = math.prod(pi if b in faulty else 1 - pi for b, pi in enumerate(matrix.prior))
            for place, step in enumerate(matrix.steps):
                if step in evidence:
                    fails = 1 - (1 - matrix.leak[place]) * math.prod(1 - matrix.q[b][place] for b in faulty)
                    weight *= evidence[step] * fails + (1 - evidence[step]) * (1 - fails)
            total += weight
            for b in faulty:
                sums[matrix.blocks[b]] += weight
    return {block: each / total for block, each in sums.items()}

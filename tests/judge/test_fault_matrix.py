"""How likely does a step fail when blocks are faulty?"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference_cases import reference_case

from passcheck.judge.fault_matrix import LEAK, WORDS, FaultMatrix, fault_matrix, noisy_or

SHARE = st.floats(0, 1)


def test_f01_causes_of_a_fever_act_alone() -> None:
    inputs, expected, tolerance = reference_case("F01")
    for causes, p in expected["p_fever"].items():
        q = [1 - inputs["inhibition"][cause] for cause in causes.split("+")]
        assert noisy_or(q, leak=0) == pytest.approx(p, abs=tolerance["abs"])


@given(st.lists(SHARE, max_size=6), SHARE, SHARE)
def test_one_more_fault_never_makes_a_fail_less_likely(q: list[float], more: float, leak: float) -> None:
    assert noisy_or(q, leak) <= noisy_or([*q, more], leak) + 1e-15
    assert noisy_or(q, leak) >= leak - 1e-15


def test_no_word_stands_for_certainty() -> None:
    assert [WORDS[word] for word in ("always", "usually", "sometimes", "rarely", "never")] == [
        0.95,
        0.75,
        0.35,
        0.08,
        0.01,
    ]


def test_what_the_sequence_does_not_say_is_never_and_the_usual_leak() -> None:
    matrix = fault_matrix(["PWR", "MCU"], ["rail", "lamp"], {"PWR": 0.1, "MCU": 0.2}, {"PWR": {"rail": 0.95}})
    assert matrix.q == ((0.95, 0.01), (0.01, 0.01))
    assert matrix.leak == (LEAK, LEAK)


def test_a_dead_rail_explains_what_hangs_on_it_by_any_chain() -> None:
    depends = {"lamp": ["mcu"], "mcu": ["rail"]}
    matrix = fault_matrix(["PWR"], ["rail", "mcu", "lamp"], {"PWR": 0.1}, {}, depends=depends)
    assert matrix.behind(["rail"]) == {"mcu", "lamp"}
    assert matrix.behind(["mcu"]) == {"lamp"}
    assert matrix.behind(["lamp"]) == frozenset()


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"blocks": [], "prior": {}, "q": {}}, "at least one block"),
        ({"blocks": ["PWR", "PWR"]}, "each only once"),
        ({"steps": []}, "there is no step rail"),
        ({"steps": ["rail", "rail"]}, "each only once"),
        ({"prior": {}}, "block PWR has no prior"),
        ({"prior": {"PWR": 1.5}}, "between 0 and 1"),
        ({"prior": {"PWR": 0.1, "MCU": 0.1}}, "no block MCU"),
        ({"q": {"PWR": {"lamp": 0.5}}}, "no step lamp"),
        ({"q": {"PWR": {"rail": float("nan")}}}, "between 0 and 1"),
        ({"leak": {"rail": -0.1}}, "between 0 and 1"),
        ({"depends": {"rail": ["lamp"]}}, "no step lamp"),
        ({"depends": {"rail": ["rail"]}}, "depends on itself"),
    ],
)
def test_a_matrix_that_cannot_be_is_refused(changed: dict[str, object], why: str) -> None:
    facts: dict[str, object] = {
        "blocks": ["PWR"],
        "steps": ["rail"],
        "prior": {"PWR": 0.1},
        "q": {"PWR": {"rail": 0.9}},
    }
    with pytest.raises(ValueError, match=why):
        fault_matrix(**{**facts, **changed})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("prior", "q", "leak"),
    [
        ((0.1,), ((0.9,), (0.9,)), (0.03,)),
        ((0.1, 0.1), ((0.9,),), (0.03,)),
        ((0.1, 0.1), ((0.9,), (0.9,)), (0.03, 0.03)),
        ((0.1, 0.1), ((0.9,), (0.9, 0.9)), (0.03,)),
    ],
)
def test_rows_that_do_not_match_are_refused(
    prior: tuple[float, ...], q: tuple[tuple[float, ...], ...], leak: tuple[float, ...]
) -> None:
    with pytest.raises(ValueError, match=r"every (block|step) needs"):
        FaultMatrix(("PWR", "MCU"), ("rail",), prior, q, leak, {})


def test_the_ends_of_a_probability_are_allowed_and_thousands_of_steps_are_not() -> None:
    assert FaultMatrix(("PWR",), ("rail",), (1.0,), ((0.0,),), (0.0,), {}).prior == (1.0,)
    names = tuple(str(place) for place in range(2001))
    most = FaultMatrix(("PWR",), names[:2000], (0.1,), ((0.5,) * 2000,), (0.03,) * 2000, {})
    assert len(most.steps) == 2000
    with pytest.raises(ValueError, match="2001 steps; 2000 are the most"):
        FaultMatrix(("PWR",), names, (0.1,), ((0.5,) * 2001,), (0.03,) * 2001, {})

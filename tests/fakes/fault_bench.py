"""What does a board look like to the ranking of suspects: a reference case, or one drawn at random?"""

from typing import Any

from hypothesis import strategies as st

from passcheck.judge.fault_matrix import FaultMatrix

Q = st.floats(0.01, 0.95)


def matrix_of(inputs: dict[str, Any]) -> FaultMatrix:
    rows = tuple(tuple(row) for row in inputs["q"])
    return FaultMatrix(
        tuple(inputs["blocks"]), tuple(inputs["steps"]), tuple(inputs["prior"]), rows, tuple(inputs["leak"]), {}
    )


def evidence_of(inputs: dict[str, Any]) -> dict[str, float]:
    return {**dict.fromkeys(inputs["failed"], 1.0), **dict.fromkeys(inputs.get("passed", ()), 0.0)}


@st.composite
def benches(draw: st.DrawFn) -> tuple[FaultMatrix, dict[str, float]]:
    """A board of a few blocks and steps with the outcomes of some of the steps."""
    blocks, steps = draw(st.integers(1, 5)), draw(st.integers(1, 6))
    rows = tuple(tuple(draw(Q) for _ in range(steps)) for _ in range(blocks))
    prior = tuple(draw(st.floats(0.01, 0.6)) for _ in range(blocks))
    names = tuple(f"step-{place}" for place in range(steps))
    matrix = FaultMatrix(tuple(f"B{place}" for place in range(blocks)), names, prior, rows, (0.03,) * steps, {})
    outcome = st.one_of(st.none(), st.sampled_from([0.0, 1.0]), st.floats(0.06, 0.94))
    drawn = {name: draw(outcome) for name in names}
    return matrix, {name: out for name, out in drawn.items() if out is not None}

"""What does the door compute about suspect blocks?"""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from passcheck.cli.door.compute import Answer, Compute, Field, Fields, optional
from passcheck.cli.door.kinds import (
    ABOVE_ZERO,
    SHARE,
    TEXT,
    either,
    listed,
    mapped,
    one_of,
    or_null,
)
from passcheck.judge.fault_matrix import LEAK, FaultMatrix, fault_matrix
from passcheck.judge.next_step import next_step
from passcheck.judge.suspect_words import RELATIVE, told_suspects
from passcheck.judge.suspects import suspects

_PER_NAME: Final = either(mapped(SHARE), listed(SHARE))
_OUTCOMES: Final = {"fail": 1.0, "pass": 0.0}


def _suspects(fields: Fields) -> Answer:
    matrix, evidence = _matrix(fields), _evidence(fields)
    found = suspects(matrix, evidence)
    return {
        "posterior": dict(found.posterior),
        "ranking": list(found.ranking),
        "bits": {block: dict(steps) for block, steps in found.bits.items()},
        "explained": [step for step in matrix.steps if step in found.explained],
        "told": [each.sentence for each in told_suspects(matrix, evidence)],
        "why": RELATIVE,
    }


def _next_step(fields: Fields) -> Answer:
    found = next_step(_matrix(fields), _evidence(fields), fields["minutes"], fields["forbidden"] or ())
    return {
        "gain_bit": dict(found.gain_bit),
        "gain_per_min": dict(found.gain_per_min),
        "next": found.step,
        "why": found.reason,
    }


def _matrix(fields: Fields) -> FaultMatrix:
    blocks, steps, leak, depends = fields["blocks"], fields["steps"], fields["leak"], fields["depends"] or {}
    return fault_matrix(
        blocks,
        steps,
        _by_name("prior", blocks, fields["prior"]),
        fields["q"],
        dict.fromkeys(steps, leak) if isinstance(leak, float) else _by_name("leak", steps, leak),
        {step: (on,) if isinstance(on, str) else on for step, on in depends.items()},
    )


def _by_name(field: str, names: Sequence[str], given: Any) -> dict[str, float]:
    """An object as it is, or a list in the order of the names."""
    if isinstance(given, Mapping):
        return dict(given)
    if len(given) != len(names):
        raise ValueError(f"{field} has {len(given)} values for {len(names)} names")
    return dict(zip(names, given, strict=True))


def _evidence(fields: Fields) -> dict[str, float]:
    """Outcomes as probabilities of being out of limits; null is a step that wasn't run."""
    results = fields["results"].items()
    return {step: _OUTCOMES.get(given, given) for step, given in results if given is not None}


_FIELDS: Final = (
    Field("blocks", listed(TEXT, 1), "names of the blocks"),
    Field("steps", listed(TEXT, 1), "ids of the steps"),
    Field("prior", _PER_NAME, "probability of each block being faulty, by name or in order"),
    Field("q", mapped(mapped(SHARE)), "{block: {step: P(step fails | block faulty)}}; 0.01 where it isn't given"),
    Field(
        "leak",
        either(either(SHARE, mapped(SHARE)), listed(SHARE)),
        f"P(step fails | none faulty), one for all, by name or in order; {LEAK} where a name isn't given",
    ),
    Field(
        "results",
        mapped(or_null(either(one_of(*_OUTCOMES), SHARE))),
        "outcome of each step that was run, or the probability of being out of limits",
    ),
    optional("depends", mapped(either(listed(TEXT), TEXT)), "{step: steps whose fail explains its own}"),
)

COMPUTES: Final[Mapping[str, Compute]] = {
    "suspects": Compute(
        "Rank blocks by sets of up to three faults, at least one being there, with the evidence of each step in bits.",
        _FIELDS,
        ("posterior", "ranking", "bits", "explained", "told", "why"),
        _suspects,
    ),
    "next-step": Compute(
        "Which step tells most a minute about the suspects; null when it is time to look or nothing tells more.",
        (
            *_FIELDS,
            Field("minutes", mapped(ABOVE_ZERO), "set-up, run and safety steps of each step offered, min"),
            optional("forbidden", listed(TEXT), "steps that a failed safety step forbids"),
        ),
        ("gain_bit", "gain_per_min", "next", "why"),
        _next_step,
    ),
}

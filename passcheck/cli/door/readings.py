"""What does the door compute from readings of an instrument?"""

from collections.abc import Mapping
from typing import Any, Final

from passcheck.cli.door import plain_numbers as plain
from passcheck.cli.door.compute import Answer, Compute, Field, Fields, optional
from passcheck.cli.door.kinds import (
    ABOVE_ZERO,
    FLAG,
    INNER_SHARE,
    NOT_NEGATIVE,
    NUMBER,
    either,
    listed,
    one_of,
    record,
)
from passcheck.judge.accuracy import Accuracy, at_ambient, capability, standard_uncertainty
from passcheck.judge.conformity import guarded, probability_inside
from passcheck.judge.derived import Source, derive
from passcheck.judge.estimate import Estimate, KnownScatter, pool
from passcheck.judge.in_circuit import Finding, behind_parallel, hides_the_part, one_sided
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import six
from passcheck.judge.reading import judge_estimate

_OPERAND: Final = record(value=NUMBER, percent=NOT_NEGATIVE, counts=NOT_NEGATIVE, digit=NOT_NEGATIVE)
_METER: Final = (
    Field("percent", NOT_NEGATIVE, "largest error, % of reading"),
    Field("counts", NOT_NEGATIVE, "and counts of the last digit"),
    Field("digit", NOT_NEGATIVE, "weight of the last digit on the range used, in the reading's unit"),
)
_LOW: Final = optional("low", NUMBER, "limit, in the reading's unit")
_HIGH: Final = optional("high", NUMBER, "limit, in the reading's unit")


def _reading(fields: Fields) -> Answer:
    band = fields["band_c"]
    meter = at_ambient(plain.accuracy(fields["percent"], fields["counts"]), fields["ambient_c"], band)
    digit = plain.last_digit(fields["digit"])
    estimate = pool([plain.quantity(value, digit) for value in fields["readings"]], meter, known=_known(fields))
    limits = plain.limits(fields["low"], fields["high"])
    return {
        "value": float(estimate.value),
        "u_a": estimate.u_a,
        "u_b": estimate.u_b,
        "u": estimate.u,
        "nu": plain.finite(estimate.nu),
        **_judged(estimate, limits, meter, fields),
    }


def _known(fields: Fields) -> KnownScatter | None:
    s, nu = fields["known_s"], fields["known_nu"]
    if (s is None) != (nu is None):
        raise ValueError("known_s and known_nu go together; give both or neither")
    return None if s is None else KnownScatter(s, nu)


def _judged(estimate: Estimate, limits: Limits | None, meter: Accuracy, fields: Fields) -> Answer:
    if limits is None:
        return {"p_conform": None, "ratio": None, "verdict": None}
    outside = any(not limits.holds(plain.exact(value)) for value in fields["readings"])
    judged = judge_estimate(estimate, limits, fields["rule"] or "guarded", outside=outside)
    return {
        "p_conform": probability_inside(estimate.value, estimate.u, limits, estimate.nu),
        "ratio": capability(limits, meter, plain.last_digit(fields["digit"])),
        "verdict": judged.verdict,
        "why": judged.sentence,
    }


def _conformity(fields: Fields) -> Answer:
    limits = plain.limits(fields["low"], fields["high"])
    if limits is None:
        raise ValueError("give low, high or both")
    value, u = plain.exact(fields["value"]), fields["u"]
    inside, verdict = probability_inside(value, u, limits), guarded(value, u, limits)
    side = "inside" if limits.holds(value) else "outside"
    reasons = {"in doubt": f", too close for u {six(u)} to decide"}
    why = f"{six(value)} is {side} {limits.words()}{reasons.get(verdict, f', sure enough with u {six(u)}')}."
    return {"p_conform": inside, "verdict": verdict, "why": why}


def _in_circuit(fields: Fields) -> Answer:
    nominal, tolerance, expected = fields["nominal"], fields["tolerance"], fields["expected"]
    low, high = nominal * (1 - tolerance), nominal * (1 + tolerance)
    part = f"{six(nominal)} Ω ± {six(100 * tolerance)} %"
    if fields["reading"] == "OL":
        return {"finding": "high or open", "why": f"OL is over {part}: high or open, once the polarities agree."}
    read, digit = fields["reading"], plain.last_digit(fields["digit"])
    u = standard_uncertainty(plain.accuracy(fields["percent"], fields["counts"]), plain.exact(read), digit)
    found = one_sided(read, read, u, low, high)
    value, path = read, fields["parallel"]
    if found != "high or open" and expected is not None:
        low, high = (
            (expected * (1 - tolerance), expected * (1 + tolerance)) if isinstance(expected, float) else expected
        )
        part = f"{six(low)} Ω .. {six(high)} Ω on good boards"
        found = one_sided(read, read, u, low, high)
    elif found != "high or open" and path is not None:
        if hides_the_part(read, path):
            why = f"{six(read)} Ω: the path of {six(path)} Ω beside it hides the part, which may be open."
            return {"finding": "consistent", "value": None, "u": None, "why": why}
        spread = tolerance if fields["parallel_tolerance"] is None else fields["parallel_tolerance"]
        value, u = behind_parallel(read, u, path, path * spread / 3**0.5)
        found = one_sided(value, value, u, low, high)
    return {"finding": found, "value": value, "u": u, "why": f"{six(value)} Ω against {part}: {_in_words(found)}."}


def _in_words(found: Finding) -> str:
    words = {
        "high or open": "high or open, once the polarities agree",
        "low": "low, which a path beside it may cause",
        "consistent": "consistent, not proven",
    }
    return words[found]


def _derived(fields: Fields) -> Answer:
    a, b = fields["a"], fields["b"]
    one_range = (a["percent"], a["counts"], a["digit"]) == (b["percent"], b["counts"], b["digit"])
    found = derive(fields["form"], _source(a), _source(b), same_range=bool(fields["same_meter"]) and one_range)
    return {"value": found.value, "u": found.u}


def _source(operand: Mapping[str, Any]) -> Source:
    gain = abs(operand["value"]) * operand["percent"] / 100
    return Source(operand["value"], gain, operand["counts"] * operand["digit"])


COMPUTES: Final[Mapping[str, Compute]] = {
    "reading": Compute(
        "Readings of one instrument against limits (JCGM 106): probability of conformity and verdict.",
        (
            Field("readings", listed(NUMBER, 1), "one or several, any one unit"),
            *_METER,
            _LOW,
            _HIGH,
            optional("ambient_c", NUMBER, "air around the instrument, °C"),
            optional("band_c", plain.PAIR, "in which its accuracy holds, °C; 18 to 28 where not given"),
            optional("known_s", NOT_NEGATIVE, "standard deviation of earlier series, in place of under four readings'"),
            optional("known_nu", ABOVE_ZERO, "and its degrees of freedom"),
            optional("rule", one_of("guarded", "simple"), "guarded where not given; simple looks at the value alone"),
        ),
        ("value", "u_a", "u_b", "u", "nu", "p_conform", "ratio", "verdict", "why"),
        _reading,
    ),
    "conformity": Compute(
        "A value with its standard uncertainty against limits, normal distribution.",
        (Field("value", NUMBER, "any unit"), Field("u", NOT_NEGATIVE, "standard uncertainty, same unit"), _LOW, _HIGH),
        ("p_conform", "verdict", "why"),
        _conformity,
    ),
    "in-circuit": Compute(
        "A resistance across a part in its circuit, unpowered and discharged: paths beside it only lower it.",
        (
            Field("reading", either(NOT_NEGATIVE, one_of("OL")), "Ω, or OL for over range"),
            *_METER,
            Field("nominal", ABOVE_ZERO, "of the part, Ω"),
            Field("tolerance", INNER_SHARE, "of the part, as a share: 0.05 for 5 %"),
            optional("parallel", ABOVE_ZERO, "the one known path beside it, Ω"),
            optional("parallel_tolerance", INNER_SHARE, "of that path, as a share; that of the part where not given"),
            optional(
                "expected",
                either(ABOVE_ZERO, plain.PAIR),
                "of this node on good boards, Ω: [low, high], or ± tolerance",
            ),
        ),
        ("finding", "value?", "u?", "why"),
        _in_circuit,
    ),
    "derived": Compute(
        "A product, ratio or drop of two readings with its uncertainty (GUM 5).",
        (
            Field("form", one_of("product", "ratio", "drop"), "a · b, a / b or a - b"),
            Field("a", _OPERAND, "fields as in reading"),
            Field("b", _OPERAND, "fields as in reading"),
            optional("same_meter", FLAG, "one meter; on one range (same error and digit) its gain error is common"),
        ),
        ("value", "u"),
        _derived,
    ),
}

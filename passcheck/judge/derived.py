"""What is a value worked out from two readings worth: a power, a ratio or a voltage drop?

`ripple` is a ratio too: the AC range reads the RMS value of the AC part alone, so divide it by the DC reading. A
peak-to-peak value needs a scope; 2 sqrt(2) times RMS holds for a sine only, which ripple seldom is.
"""

import math
from dataclasses import dataclass
from typing import Final, Literal

Form = Literal["product", "ratio", "drop"]

SIGNS: Final[dict[Form, str]] = {"product": "×", "ratio": "÷", "drop": "-"}
"""How a form is written between its two readings."""

_PRODUCTS: Final[dict[frozenset[str], str]] = {
    frozenset({"V", "A"}): "W",
    frozenset({"A", "Ω"}): "V",
    frozenset({"W", "s"}): "J",
}
_RATIOS: Final[dict[tuple[str, str], str]] = {
    ("V", "A"): "Ω",
    ("V", "Ω"): "A",
    ("W", "V"): "A",
    ("W", "A"): "V",
    ("J", "s"): "W",
    ("J", "W"): "s",
}


@dataclass(frozen=True, slots=True)
class Source:
    """One of the two readings, in its base unit.

    `gain` is the largest error that is a share of the reading, `rest` the largest error of counts and fixed parts.
    `u_a` is the standard uncertainty from scatter with `nu_a` degrees of freedom; 0 for a single reading.
    """

    value: float
    gain: float
    rest: float
    u_a: float = 0.0
    nu_a: float = math.inf

    @property
    def u_b(self) -> float:
        """The instrument's standard uncertainty, its largest error as a rectangle."""
        return (self.gain + self.rest) / math.sqrt(3)


@dataclass(frozen=True, slots=True)
class Derived:
    """The value in the base unit of the result; `u_a` from scatter, `u_b` from instruments, `u` both with `nu`."""

    value: float
    u_a: float
    u_b: float
    u: float
    nu: float


def derive(form: Form, a: Source, b: Source, *, same_range: bool = False) -> Derived:
    """Work out a · b, a / b or a - b with its uncertainty (GUM 5.1.2, 5.2.2, G.4.1).

    With `same_range` both were read by one meter on one range: its gain error is the same in both and enters with its
    sign, so it nearly cancels in a drop and a ratio; counts are independent. Raises ValueError for a ratio to zero.
    """
    value, c_a, c_b = _value(form, a.value, b.value)
    if same_range:
        common = (c_a * math.copysign(a.gain, a.value) + c_b * math.copysign(b.gain, b.value)) / math.sqrt(3)
        u_b = math.hypot(common, c_a * a.rest / math.sqrt(3), c_b * b.rest / math.sqrt(3))
    else:
        u_b = math.hypot(c_a * a.u_b, c_b * b.u_b)
    parts = [(c_a * a.u_a, a.nu_a), (c_b * b.u_a, b.nu_a)]
    u_a = math.hypot(*(part for part, _nu in parts))
    u = math.hypot(u_a, u_b)
    spent = math.fsum((part / u) ** 4 / nu for part, nu in parts if part)
    return Derived(value, u_a, u_b, u, 1 / spent if spent else math.inf)


def derived_unit(form: Form, unit_a: str, unit_b: str) -> tuple[str, float] | None:
    """Return the base unit of the result and the factor to it; None where no bench writes such a unit.

    A ratio of two equal units is given in percent, so its factor is 100.
    """
    if form == "drop":
        return (unit_a, 1.0) if unit_a == unit_b else None
    if form == "ratio" and unit_a == unit_b:
        return "%", 100.0
    found = _PRODUCTS.get(frozenset({unit_a, unit_b})) if form == "product" else _RATIOS.get((unit_a, unit_b))
    return None if found is None else (found, 1.0)


def _value(form: Form, a: float, b: float) -> tuple[float, float, float]:
    """Return the result and how much of it a change in either reading makes."""
    if form == "product":
        return a * b, b, a
    if form == "drop":
        return a - b, 1.0, -1.0
    if b == 0:
        raise ValueError("a ratio to zero has no value")
    return a / b, 1 / b, -a / (b * b)

"""How do quantities written in a sequence file become values of the judge?

pydantic fields for the judge's own parsers: the file keeps what people write, the model holds what the judge decides
with.
"""

from collections.abc import Callable
from typing import Annotated, Any, TypeVar

from pydantic import PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from passcheck.judge.accuracy import Accuracy, parse_accuracy
from passcheck.judge.limits import Limits, parse_limits
from passcheck.judge.quantity import Quantity, QuantityError, parse_quantity

T = TypeVar("T", Quantity, Limits, Accuracy)


def _refused(why: str) -> PydanticCustomError:
    return PydanticCustomError("quantity", "{why}", {"why": why})


def _with_unit(text: str) -> Quantity:
    quantity = parse_quantity(text)
    if not quantity.unit:
        raise QuantityError(_unit_missing(text))
    return quantity


def _unit_missing(written: object) -> str:
    return f"the unit is missing: {str(written)[:40]} of what? Write it out, such as 5.00 V, 0.30 A or 20 min"


def _field(kind: type[T], parse: Callable[[str], T]) -> Callable[[Any], T]:
    """A validator from text (or a value already read) to the judge's value, or to the judge's own sentence."""

    def read(written: Any) -> T:
        if isinstance(written, kind):
            return written
        if isinstance(written, bool) or not isinstance(written, str | int | float):
            raise _refused("a value with its unit is wanted here, as one piece of text, such as 5.00 V")
        try:
            return parse(str(written))
        except QuantityError as error:
            raise _refused(str(error) if isinstance(written, str) else _unit_missing(written)) from error

    return read


QuantityText = Annotated[
    Quantity,
    PlainValidator(_field(Quantity, _with_unit)),
    WithJsonSchema({"type": "string", "description": "A value with its unit: 24.0 V, 0.30 A, 4k7 Ω, 20 min."}),
]
LimitsText = Annotated[
    Limits,
    PlainValidator(_field(Limits, parse_limits)),
    WithJsonSchema(
        {"type": "string", "description": "4.85 V .. 5.15 V, 5.00 V ± 3 %, at most 60 mV, or at least 150 Ω."}
    ),
]
AccuracyText = Annotated[
    Accuracy,
    PlainValidator(_field(Accuracy, parse_accuracy)),
    WithJsonSchema({"type": "string", "description": "The maker's accuracy: 0.5 % + 3 digits."}),
]

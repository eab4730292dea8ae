"""Which number stands at the beginning of this text, and what weight has its last digit?"""

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

# [0-9], because \d also matches the digits of other scripts.
_NUMBER: Final = re.compile(r"([+-]?)([0-9]*)(?:([.,])([0-9]+))?(?:[eE]([+-]?[0-9]{1,2})(?![0-9]))?")
_LETTER_CODE: Final = re.compile(r"([+-]?)([0-9]*)([RVkMGpnµum])([0-9]+)")

MOST_DIGITS: Final = 20


@dataclass(frozen=True, slots=True)
class Numeral:
    """A number as written: `letter` is the one that stood for the point in `4k7` or `2R2`, else empty.

    `value` and `digit` don't yet contain the letter's power of ten. `rest` is what follows the number.
    """

    value: Decimal
    digit: Decimal
    letter: str
    rest: str


def read_numeral(text: str) -> Numeral:
    """Read the number at the beginning of a tidy text.

    Raises ValueError with the reason when there is none or when it can be read in two ways.
    """
    coded = _LETTER_CODE.match(text)
    if coded is not None:
        return _letter_coded(coded, text)
    match = _NUMBER.match(text)
    if match is None or not (match[2] or match[4]):
        raise ValueError("there is no number at its beginning; write one such as 4.85 V or 4k7")
    sign, whole, mark, fraction, exponent = match.groups()
    rest = text[match.end() :]
    _refuse_two_readings(whole, mark, fraction, rest)
    return _numeral(sign, whole, fraction or "", int(exponent or 0), letter="", rest=rest.strip())


def _letter_coded(match: re.Match[str], text: str) -> Numeral:
    """Letter for the point, as printed on parts (IEC 60062): `4k7`, `2R2`, `3V3`, `R47`."""
    sign, whole, letter, fraction = match.groups()
    if not whole and letter not in "RV":
        raise ValueError("a prefix stands before the number; write the number first, such as 4k7")
    rest = text[match.end() :]
    if rest[:1] in set(".,0123456789"):
        raise ValueError("it has a letter and a point; write 4k7 or 4.7k")
    return _numeral(sign, whole, fraction, 0, letter=letter, rest=rest.strip())


def _refuse_two_readings(whole: str, mark: str | None, fraction: str | None, rest: str) -> None:
    if re.match(r" ?[.,'’0-9]", rest):
        raise ValueError("the number goes on after its end; write it without thousands separators")
    thousands = mark == "," and len(fraction or "") == 3 and 1 <= len(whole) <= 3 and whole.lstrip("0")
    if thousands:
        raise ValueError(f"thousands or decimal comma? Write {whole}.{fraction} or {whole}{fraction}")


def _numeral(sign: str, whole: str, fraction: str, exponent: int, *, letter: str, rest: str) -> Numeral:
    if len(whole) + len(fraction) > MOST_DIGITS:
        raise ValueError(f"it has more than {MOST_DIGITS} digits; write those that the instrument shows")
    value = Decimal(f"{sign}{whole or 0}.{fraction or 0}").scaleb(exponent)
    digit = Decimal(1).scaleb(exponent - len(fraction))
    return Numeral(value.quantize(digit) + 0, digit, letter, rest)

"""How is a number written with no more figures than it deserves?"""

from decimal import Context, Decimal


def rounded(value: float, figures: int = 2) -> str:
    """Return a plain decimal with so many significant figures: 57.6 becomes `58`, 0.00161 `0.0016`, 1234 `1200`."""
    return f"{Context(prec=figures).create_decimal(repr(float(value))).normalize():f}"


def counted(number: int, one: str, many: str = "") -> str:
    """Return `no failure`, `1 failure`, `2 failures`; `many` where the plural is irregular."""
    if number == 0:
        return f"no {one}"
    return f"{number} {one if number == 1 else many or one + 's'}"


def finest(value: Decimal | float, u: float) -> float:
    """Round a value to the decade of its standard uncertainty; nothing finer is worth showing."""
    if u <= 0:
        return float(value)
    return round(float(value), -Decimal(repr(float(u))).adjusted())

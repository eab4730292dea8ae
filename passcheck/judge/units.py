"""Which units does a bench write, with which prefixes and in which spellings?"""

from decimal import Decimal
from typing import Final

PREFIXES: Final[dict[str, int]] = {"p": -12, "n": -9, "µ": -6, "m": -3, "": 0, "k": 3, "M": 6, "G": 9}
"""Power of ten of each prefix. Case is meaning, `m` is not `M`, so it is never folded."""

UNITS: Final[dict[str, str]] = {
    # Mega is left out where `M` can only be a slip for `m`: nobody reads megavolts or mega-amperes at a bench.
    "V": "nµmk",
    "Vpp": "µmk",  # peak to peak, from a scope; never mixed with V
    "A": "pnµmk",
    "Ω": "µmkMG",
    "Hz": "mkMG",
    "s": "pnµm",
    "F": "pnµm",
    "H": "pnµm",
    "W": "nµmk",
    "J": "µmk",
    "Pa": "k",
    "K": "m",  # a difference of temperatures, such as a rise above ambient
    "°C": "",
    "rpm": "",
    "%": "",
    "deg": "",
}
"""The SI base unit of every quantity, with the prefixes that it takes."""

_SPELLINGS: Final[dict[str, tuple[str, ...]]] = {
    "Vpp": ("Vp-p", "V pp", "V p-p"),
    "Ω": ("ohm", "ohms", "Ohm", "Ohms"),
    "°C": ("degC",),
    "rpm": ("RPM",),
    "deg": ("°",),
    "s": ("sec",),
}

_ALIKE: Final[dict[int, str]] = str.maketrans(
    {
        "\N{GREEK SMALL LETTER MU}": "µ",
        "\N{OHM SIGN}": "Ω",
        "\N{MINUS SIGN}": "-",
        "\N{DEGREE CELSIUS}": "°C",
        "\N{MASCULINE ORDINAL INDICATOR}": "°",
        "\N{NO-BREAK SPACE}": " ",
        "\N{NARROW NO-BREAK SPACE}": " ",
        "\N{FIGURE SPACE}": " ",
        "\N{THIN SPACE}": " ",
        "\t": " ",
    }
)


def tidy(text: str) -> str:
    """Return the text with look-alike signs made one and runs of spaces made single."""
    return " ".join(part for part in text.strip().translate(_ALIKE).split(" ") if part)


def _all_spellings() -> dict[str, tuple[str, Decimal]]:
    table = {"R": ("Ω", Decimal(1)), "min": ("s", Decimal(60)), "h": ("s", Decimal(3600))}
    for unit, prefixes in UNITS.items():
        for spelling in (unit, *_SPELLINGS.get(unit, ())):
            table[spelling] = (unit, Decimal(1))
            for prefix in prefixes:
                factor = Decimal(1).scaleb(PREFIXES[prefix])
                table[prefix + spelling] = (unit, factor)
                if prefix == "µ":
                    table["u" + spelling] = (unit, factor)
    return table


_TABLE: Final = _all_spellings()


def named_unit(written: str) -> tuple[str, Decimal] | None:
    """Return base unit and factor of a tidy unit such as `mV`, `kohm` or `min`; None for a unit not known."""
    return _TABLE.get(written)


def prefix_factor(letter: str, unit: str) -> Decimal | None:
    """Return the factor of a prefix that stands without its unit; None where `unit` doesn't take that prefix."""
    prefix = "µ" if letter == "u" else letter
    allowed = UNITS.get(unit, "pnµm" if unit == "" else "")
    return Decimal(1).scaleb(PREFIXES[prefix]) if prefix in allowed else None


def nearest_spellings(written: str) -> list[str]:
    """Return the known spellings that differ from `written` in case only, for a message."""
    return sorted(known for known in _TABLE if known.casefold() == written.casefold() and known != written)

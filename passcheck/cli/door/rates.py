"""What does the door compute from flashes that were tapped, counted or timed?"""

from collections.abc import Mapping
from typing import Final

from passcheck.cli.door.compute import Answer, Compute, Field, Fields
from passcheck.cli.door.kinds import ABOVE_ZERO, FLAG, NOT_NEGATIVE, NUMBER, WHOLE, listed
from passcheck.judge.blink import FEWEST_TAPS, blink
from passcheck.judge.flash_count import counted_rate, duty


def _blink(fields: Fields) -> Answer:
    found = blink(fields["taps_s"])
    return {
        "period_s": found.period_s,
        "u_period_s": found.u_period_s,
        "rate_hz": found.rate_hz,
        "u_rate_hz": found.u_rate_hz,
        "u_least_squares_s": found.u_ols_s,
        "index": list(found.index),
        "missed": found.missed,
        "irregular": found.irregular,
        "two_rates": found.two_rates,
    }


def _count_rate(fields: Fields) -> Answer:
    found = counted_rate(fields["count"], fields["window_s"], fields["u_reaction_s"], on_flash=fields["on_flash"])
    return {"rate_hz": found.value, "u_hz": found.u}


def _duty(fields: Fields) -> Answer:
    found = duty(fields["on_s"], fields["period_s"], fields["u_bias_s"])
    return {"duty": found.value, "u": found.u}


COMPUTES: Final[Mapping[str, Compute]] = {
    "blink": Compute(
        "A blink rate from one tap a flash: gaps repaired, Theil-Sen slope, error never under the end-to-end one.",
        (Field("taps_s", listed(NUMBER, FEWEST_TAPS), "times of the taps, rising, s; without the first two"),),
        (
            "period_s",
            "u_period_s",
            "rate_hz",
            "u_rate_hz",
            "u_least_squares_s",
            "index",
            "missed",
            "irregular",
            "two_rates",
        ),
        _blink,
    ),
    "count-rate": Compute(
        "A rate from flashes counted in a window.",
        (
            Field("count", WHOLE, "flash intervals in the window"),
            Field("window_s", ABOVE_ZERO, "its length, s"),
            Field("u_reaction_s", NOT_NEGATIVE, "scatter of one tap, s"),
            Field("on_flash", FLAG, "did the window begin and end with a tap on a flash?"),
        ),
        ("rate_hz", "u_hz"),
        _count_rate,
    ),
    "duty": Compute(
        "The share of its period, above 0.8 s, that a lamp is on.",
        (
            Field("on_s", listed(NOT_NEGATIVE, 2), "from a tap at on to a tap at off, s"),
            Field("period_s", ABOVE_ZERO, "s"),
            Field("u_bias_s", NOT_NEGATIVE, "standard uncertainty of seeing off against seeing on, s; usually 0.010"),
        ),
        ("duty", "u"),
        _duty,
    ),
}

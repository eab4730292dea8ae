"""What does the door compute from a pointer that moved, or stood at its marks?"""

from collections.abc import Mapping
from typing import Final

from passcheck.cli.door.compute import Answer, Compute, Field, Fields, optional
from passcheck.cli.door.kinds import ABOVE_ZERO, INNER_SHARE, NUMBER, listed
from passcheck.judge.linearity import half_width_of_a_division, linearity, scale_reading_u
from passcheck.judge.sweep_taps import FAMILY_ALPHA, speed_deg_s, sweep_by_taps


def _sweep(fields: Fields) -> Answer:
    found = sweep_by_taps(fields["taps_s"], fields["tap_noise_s"], fields["family_alpha"] or FAMILY_ALPHA)
    answer: Answer = {
        "total_s": found.total_s,
        "u_total_s": found.u_total_s,
        "ratios": list(found.ratios),
        "z": list(found.z),
        "max_abs_z": found.max_abs_z,
        "threshold_z": found.threshold_z,
        "segment": found.segment,
        "hesitation": found.hesitation,
        "floor_s": found.floor_s,
    }
    if fields["angle_deg"] is not None:
        answer["speed_deg_s"], answer["u_speed_deg_s"] = speed_deg_s(
            fields["angle_deg"], found.total_s, found.u_total_s
        )
    return answer


def _marks(fields: Fields) -> Answer:
    found = linearity(fields["expected"], fields["up"], fields["down"], fields["span"])
    answer: Answer = {
        "error_percent": list(found.errors),
        "max_error_percent": found.max_error,
        "terminal_based_percent": found.terminal_based,
        "least_squares_percent": found.least_squares,
        "independent_percent": found.independent,
        "end_low_percent": found.end_low,
        "end_high_percent": found.end_high,
    }
    if found.errors_down is not None:
        answer["error_down_percent"], answer["hysteresis_percent"] = list(found.errors_down), found.hysteresis
    half_width = fields["readability"]
    if half_width is None and fields["division"] is not None:
        half_width = half_width_of_a_division(fields["division"])
    return answer if half_width is None else answer | {"u": scale_reading_u(half_width)}


COMPUTES: Final[Mapping[str, Compute]] = {
    "sweep": Compute(
        "A sweep from one tap a mark: time, evenness, the segment that hesitated, speed.",
        (
            Field("taps_s", listed(NUMBER, 3), "time at each mark, rising, s"),
            Field(
                "tap_noise_s", ABOVE_ZERO, "scatter of one tap, s; s_w_s of response, or 0.03 for a followed pointer"
            ),
            optional("family_alpha", INNER_SHARE, "share of smooth sweeps called hesitating; 0.01 where not given"),
            optional("angle_deg", ABOVE_ZERO, "of the whole sweep, °"),
        ),
        (
            "total_s",
            "u_total_s",
            "ratios",
            "z",
            "max_abs_z",
            "threshold_z",
            "segment",
            "hesitation",
            "floor_s",
            "speed_deg_s?",
            "u_speed_deg_s?",
        ),
        _sweep,
    ),
    "marks": Compute(
        "A pointer at its marks in percent of span (IEC 61298-2): errors, linearity, hysteresis, ends.",
        (
            Field("expected", listed(NUMBER, 3), "what each mark should show, any one unit"),
            Field("up", listed(NUMBER, 3), "readings rising, same unit"),
            optional(
                "down", listed(NUMBER, 3), "readings falling, same order and unit; the largest error looks at both"
            ),
            optional("span", ABOVE_ZERO, "same unit; that of expected where not given"),
            optional("division", ABOVE_ZERO, "of the scale, same unit; a fifth of it either way is read"),
            optional("readability", ABOVE_ZERO, "half-width within which an eye reads, same unit, instead of division"),
        ),
        (
            "error_percent",
            "max_error_percent",
            "terminal_based_percent",
            "least_squares_percent",
            "independent_percent",
            "end_low_percent",
            "end_high_percent",
            "error_down_percent?",
            "hysteresis_percent?",
            "u?",
        ),
        _marks,
    ),
}

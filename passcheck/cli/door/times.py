"""What does the door compute from times that a hand tapped, or a camera saw?"""

from collections.abc import Mapping
from typing import Final

from passcheck.cli.door.compute import Answer, Compute, Field, Fields
from passcheck.cli.door.kinds import ABOVE_ZERO, NOT_NEGATIVE, NUMBER, WHOLE, either, listed, or_null
from passcheck.judge.latency import Latency, filmed_latency
from passcheck.judge.press_times import judge_press_times
from passcheck.judge.response_taps import decide_by_taps
from passcheck.judge.response_words import taps_sentence


def _response(fields: Fields) -> Answer:
    latency = Latency(fields["latency_s"], fields["u_latency_s"])
    limit_s = fields["limit_s"]
    finding = decide_by_taps(
        fields["unit_taps_s"], fields["reference_minus_programmed_s"], latency, limit_s, fields["u_model_s"]
    )
    delay = finding.delay
    return {
        "delay_s": delay and delay.delay_s,
        "s_w_s": delay and delay.scale_s,
        "u_s": delay and delay.u_s,
        "nu": delay and delay.nu,
        "k": delay and delay.k,
        "low_s": delay and delay.low_s,
        "high_s": delay and delay.high_s,
        "valid": len(finding.screened.valid_s),
        "voided": finding.screened.voided,
        "unanswered": finding.screened.unanswered,
        "early": finding.early,
        "late": finding.late,
        "trials": list(finding.screened.statuses),
        "verdict": finding.verdict,
        "why": taps_sentence(finding, limit_s),
    }


def _presses(fields: Fields) -> Answer:
    found = judge_press_times(fields["times_s"], fields["limit_s"], fields["n"])
    return {"in_time": found.in_time, "verdict": found.verdict, "why": found.sentence}


def _latency(fields: Fields) -> Answer:
    frames = fields["frames"]
    found = filmed_latency((frames,) if isinstance(frames, float) else frames, fields["fps"])
    return {"latency_s": found.value_s, "u_s": found.u_s}


COMPUTES: Final[Mapping[str, Compute]] = {
    "response": Compute(
        "A delay from taps by substitution, against an upper limit of 0.2 s or more; looks at 3, 5 and 8 trials.",
        (
            Field(
                "unit_taps_s", listed(or_null(NUMBER)), "start to stop of each trial on the unit, s; null: no response"
            ),
            Field(
                "reference_minus_programmed_s",
                listed(NUMBER, 3),
                "the same hand on our own screen, less the programmed delay, s; 15 or more, better 20",
            ),
            Field("latency_s", NOT_NEGATIVE, "key to light of the bench, s; 0.115 where it was not measured"),
            Field("u_latency_s", NOT_NEGATIVE, "its standard uncertainty, s; 0.049 where it was not measured"),
            Field("u_model_s", NOT_NEGATIVE, "what the hand may learn on the unit alone, s; usually 0.025"),
            Field("limit_s", ABOVE_ZERO, "the longest delay allowed, s"),
        ),
        (
            "delay_s",
            "s_w_s",
            "u_s",
            "nu",
            "k",
            "low_s",
            "high_s",
            "valid",
            "voided",
            "unanswered",
            "early",
            "late",
            "trials",
            "verdict",
            "why",
        ),
        _response,
    ),
    "presses": Compute(
        "A row of presses, each to be answered in time.",
        (
            Field("times_s", listed(or_null(NOT_NEGATIVE)), "of each press, s; null: no response"),
            Field("limit_s", ABOVE_ZERO, "the longest time allowed, s"),
            Field("n", WHOLE, "presses that are wanted"),
        ),
        ("in_time", "verdict", "why"),
        _presses,
    ),
    "latency": Compute(
        "Key to light of the bench, from film.",
        (
            Field("frames", either(NOT_NEGATIVE, listed(NOT_NEGATIVE, 1)), "of one clip, or of each of several"),
            Field("fps", ABOVE_ZERO, "true frames a second"),
        ),
        ("latency_s", "u_s"),
        _latency,
    ),
}

"""Does the sentence about taps hold its number, its limit and its reason, and nothing too fine?"""

import pytest
from reference_cases import reference_case

from passcheck.judge.latency import Latency
from passcheck.judge.response_taps import decide_by_taps
from passcheck.judge.response_words import taps_sentence

REFERENCE = reference_case("B03")[0]["ref_minus_programmed_s"]
IN, OUT = (f"is {side}, but not surely, at most 0.5 s" for side in ("inside", "outside"))
CLOSE = "too close for these taps."
LATE = "2 far too late, intermittently slow or inattentive, repeat."
VOIDS = "4 void trials are too many, begin the block again."


def said(*delays_s: float | None, measured: bool = True, limit_s: float = 0.5) -> str:
    trials = [None if each is None else each + 0.2877 - 0.0583 for each in delays_s]
    finding = decide_by_taps(trials, REFERENCE, Latency(0.0583, 0.0017), limit_s, 0.012)
    return taps_sentence(finding, limit_s, latency_measured=measured)


@pytest.mark.parametrize(
    ("delays_s", "sentence"),
    [
        ((0.43,) * 3, "0.43 s ± 0.04 s is inside at most 0.5 s after 3 valid trials."),
        ((0.8,) * 5, "0.80 s ± 0.03 s is outside at most 0.5 s after 5 valid trials."),
        ((0.49,) * 3, f"0.49 s ± 0.04 s {IN} after 3 valid trials: more trials are needed."),
        ((0.49,) * 8, f"0.49 s ± 0.03 s {IN} after 8 valid trials: {CLOSE}"),
        ((0.51,) * 8, f"0.51 s ± 0.03 s {OUT} after 8 valid trials: {CLOSE}"),
        ((0.1,) * 3, "0.2 s or less (shorter than taps can resolve) is inside at most 0.5 s after 3 valid trials."),
        ((0.3, None), "No response in 1 of 2 trials against at most 0.5 s."),
        ((-0.2,), "No valid trial yet against at most 0.5 s: tap again, 1 void."),
        (
            (0.8, 0.8, *(0.3,) * 6),
            f"0.31 s ± 0.03 s {IN} after 8 valid trials: {LATE}",
        ),
        ((0.2, 0.3, 0.3), f"0.28 s ± 0.04 s {IN} after 3 valid trials: 1 tapped before it was seen."),
        ((0.2, 0.49, 0.49), f"0.47 s ± 0.04 s {IN} after 3 valid trials: more trials are needed."),
        ((0.8, 0.8, *(0.49,) * 6), f"0.50 s ± 0.03 s {IN} after 8 valid trials: {CLOSE}"),
        ((-0.2,) * 4 + (0.3,) * 3, f"0.30 s ± 0.04 s {IN}: {VOIDS}"),
    ],
)  # fmt: skip
def test_sentences(delays_s: tuple[float | None, ...], sentence: str) -> None:
    assert said(*delays_s) == sentence


def test_an_unmeasured_latency_is_said() -> None:
    assert said(*[0.3] * 3, measured=False).endswith(". The latency of this bench was not measured.")

"""How long does the unit take to answer, found by taps of a hand, and is that in time?

Substitution: the same hand answers our own screen after programmed delays around the limit, so reaction, anticipation
and habit cancel where the decision falls. What remains is the latency of bench and screen, measured once.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median
from typing import Final, Literal

from passcheck.judge.latency import Latency
from passcheck.judge.robust import hodges_lehmann, winsorised_scale
from passcheck.judge.screening import BLOCK, Screened, early_trials, late_trials, screen_trials
from passcheck.judge.student import student_quantile

TimedVerdict = Literal["pass", "fail", "in doubt", "more trials"]

LOOKS: Final = (3, 5, 8)
"""Valid trials after which a decision is tried; from the last on, every trial since the last rework counts at once."""
LOOK_SHARE: Final = 0.0110
"""One-sided error of each look, so that three together stay under 0.025 (Pocock 1977, K = 3)."""
INFLATION: Final = 1.2
"""The variance of a median of differences, over that of a mean of normal values; set by simulation."""
U_MODEL_S: Final = 0.025
"""What a hand may learn on the unit's constant delay and not on ours."""
U_MODEL_LEARNING_MEASURED_S: Final = 0.012
FEWEST_FOR_LEARNING: Final = 5
FEWEST_REFERENCE: Final = 15
"""Reference trials that a bench asks for at least; 20 are better. Fewer are computed, with the doubt they deserve."""
SHORTEST_LIMIT_S: Final = 0.2
"""Under this taps decide nothing, and no delay under it is written as a number."""
FAIL_FROM_LOOK: Final = 5


@dataclass(frozen=True, slots=True)
class TapDelay:
    """The delay with everything behind it, in seconds.

    `scale_s` is that of one trial of this hand, `u_s` the standard uncertainty of the delay with `nu` degrees of
    freedom, `k` the factor of one look; `low_s` and `high_s` are delay ± k u. `end_k` is the factor of the two-sided
    95 % interval that the report gives at the end.
    """

    delay_s: float
    scale_s: float
    u_s: float
    nu: float
    k: float
    end_k: float

    @property
    def low_s(self) -> float:
        """The lower end at this look."""
        return self.delay_s - self.k * self.u_s

    @property
    def high_s(self) -> float:
        """The upper end at this look."""
        return self.delay_s + self.k * self.u_s


@dataclass(frozen=True, slots=True)
class TapFinding:
    """The verdict of a look with its reasons; `delay` is None while no trial is valid.

    `early` trials were tapped before the answer was seen, `late` ones lie far beyond the limit.
    """

    verdict: TimedVerdict
    delay: TapDelay | None
    screened: Screened
    early: int
    late: int


def tap_delay(
    valid_s: Sequence[float],
    reference_s: Sequence[float],
    latency: Latency,
    u_model_s: float = U_MODEL_S,
    learned_s: float = 0.0,
) -> TapDelay:
    """Return the delay: median of all (trial - reference) + latency + what was learned.

    `reference_s` are times of the reference block less their programmed delays.
    u² = 1.2 s_w² (1/n + 1/m) + u_L² + u_mod²; nu after Welch and Satterthwaite with the scale's degrees of freedom.
    Raises ValueError for too few values.
    """
    if not valid_s:
        raise ValueError("a delay needs at least one valid trial")
    scale, df = winsorised_scale(reference_s)
    scatter = INFLATION * scale**2 * (1 / len(valid_s) + 1 / len(reference_s))
    u = math.sqrt(scatter + latency.u_s**2 + u_model_s**2)
    nu = u**4 / (scatter**2 / df) if scatter else math.inf
    delay = hodges_lehmann(valid_s, reference_s) + latency.value_s + learned_s
    return TapDelay(delay, scale, u, nu, student_quantile(1 - LOOK_SHARE, nu), student_quantile(0.975, nu))


def learned_s(constant_s: Sequence[float], reference_s: Sequence[float]) -> float:
    """Return by how much this hand taps earlier where the delay is always the same: never less than 0, in seconds.

    `constant_s` are at least five reference trials of one constant delay, less that delay. Raises ValueError for fewer.
    """
    if len(constant_s) < FEWEST_FOR_LEARNING:
        raise ValueError(
            f"learning shows in {FEWEST_FOR_LEARNING} trials of a constant delay, not in {len(constant_s)}"
        )
    return max(0.0, -hodges_lehmann(constant_s, reference_s))


def decide_by_taps(
    trials_s: Sequence[float | None],
    reference_s: Sequence[float],
    latency: Latency,
    limit_s: float,
    u_model_s: float = U_MODEL_S,
    learned_s: float = 0.0,
) -> TapFinding:
    """Decide an upper limit from all trials since the last rework, None being one without a response.

    After 3, 5 and 8 valid trials (and any number from 8 on): pass where delay + k u is under the limit; fail, from 5
    on, where delay - k u reaches it; else more trials, and from 8 on in doubt. A missing response fails. Raises
    ValueError for a limit under 0.2 s, which wants an instrument.
    """
    if limit_s < SHORTEST_LIMIT_S:
        raise ValueError(f"a limit under {SHORTEST_LIMIT_S} s can't be decided by taps; it wants an instrument")
    screened = screen_trials(trials_s, limit_s)
    valid = screened.valid_s
    if not valid:
        return TapFinding("fail" if screened.unanswered else "more trials", None, screened, 0, 0)
    delay = tap_delay(valid, reference_s, latency, u_model_s, learned_s)
    lead = latency.value_s + learned_s - median(reference_s)
    early = early_trials(valid, delay.scale_s)
    late = late_trials([time_s + lead for time_s in valid], limit_s, delay.scale_s)
    verdict = _verdict(screened, delay, limit_s, early, late)
    return TapFinding(verdict, delay, screened, early, late)


def _verdict(screened: Screened, delay: TapDelay, limit_s: float, early: int, late: int) -> TimedVerdict:
    count = len(screened.valid_s)
    if screened.unanswered:
        return "fail"
    if screened.too_many_voids or (count not in LOOKS and count < BLOCK):
        return "more trials"
    if delay.high_s < limit_s and not stray_trials_forbid_a_pass(count, early, late):
        return "pass"
    if count >= FAIL_FROM_LOOK and delay.low_s >= limit_s:
        return "fail"
    return "more trials" if count < BLOCK else "in doubt"


def stray_trials_forbid_a_pass(count: int, early: int, late: int) -> bool:
    """Do trials that fall out of the row forbid a pass? One early in five or eight may be, one late in eight.

    Of several blocks pooled, so many in each block.
    """
    blocks = count // BLOCK
    return early > (0 if count < FAIL_FROM_LOOK else max(1, blocks)) or late > blocks

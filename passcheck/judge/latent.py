"""How many hidden defects does a soak catch, and when has it lasted long enough?"""

import math
from dataclasses import dataclass

from passcheck.judge.rounding import rounded


@dataclass(frozen=True, slots=True)
class LatentScreen:
    """A soak of `soak_h` hours as a screen for defects that a repair left hidden.

    `p_caught` is the share of hidden defects that show, `p_after` the share of units that hide one still, given a clean
    soak. `hours_for_target` and `best_h` are soak hours, None where no target or no costs were given, 0 where no soak
    is worth while.
    """

    p_latent: float
    soak_h: float
    p_after: float
    p_caught: float
    hours_for_target: float | None
    best_h: float | None


def latent_screen(
    p_latent: float,
    mean_h: float,
    factor: float,
    soak_h: float,
    target: float | None = None,
    costs: tuple[float, float] | None = None,
) -> LatentScreen:
    """Screen a share `p_latent` of hidden defects whose time to show is exponential with a mean of `mean_h` in use.

    On soak the mean is td = mean_h / factor. Caught 1 - exp(-h/td); left p e^(-h/td) / (1 - p + p e^(-h/td)) by Bayes;
    hours for a share q left: td ln[(p / (1 - p)) (1 - q) / q]. `costs` are those of a return and of an hour of soak, in
    one currency; their sum is least at td ln(c_return p / (td c_hour)). Raises ValueError for shares outside 0 .. 1 or
    times and costs that are not above 0.
    """
    if not 0 <= p_latent < 1 or not (target is None or 0 < target < 1):
        raise ValueError(f"shares lie between 0 and 1, not at {p_latent} and {target}")
    if not all(0 < each < math.inf for each in (mean_h, factor, *(costs or ()))) or not 0 <= soak_h < math.inf:
        raise ValueError("mean time, factor and costs are above 0 and the soak has 0 hours or more")
    mean_on_soak_h = mean_h / factor
    if not 0 < mean_on_soak_h < math.inf:
        raise ValueError(f"a mean time of {mean_h} h, {factor} times faster on soak, is no time")
    hidden = p_latent * math.exp(-soak_h / mean_on_soak_h)
    return LatentScreen(
        p_latent,
        soak_h,
        hidden / (1 - p_latent + hidden),
        -math.expm1(-soak_h / mean_on_soak_h),
        None if target is None else _hours_for(p_latent, mean_on_soak_h, target),
        None if costs is None else _cheapest_hours(p_latent, mean_on_soak_h, *costs),
    )


def _hours_for(p_latent: float, mean_on_soak_h: float, target: float) -> float:
    if p_latent <= target:
        return 0.0
    return mean_on_soak_h * math.log(p_latent / (1 - p_latent) * (1 - target) / target)


def _cheapest_hours(p_latent: float, mean_on_soak_h: float, cost_return: float, cost_hour: float) -> float:
    """The hour that catches just as much as it costs; none where even the first one costs more."""
    worth = cost_return * p_latent / (mean_on_soak_h * cost_hour)
    return mean_on_soak_h * math.log(worth) if worth > 1 else 0.0


def latent_sentence(screen: LatentScreen) -> str:
    """Return the screen in counts of units; its share and its mean time are assumptions until a shop has its own."""
    before, after = (rounded(1000 * share) for share in (screen.p_latent, screen.p_after))
    return (
        f"If {before} of 1000 repairs hide a defect, {after} of 1000 still do after a clean soak of "
        f"{rounded(screen.soak_h, 3)} h. Share and mean time are assumptions unless this shop's own soaks gave them."
    )

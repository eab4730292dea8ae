"""What does the door compute from failures, hours and histories?"""

from collections.abc import Mapping
from typing import Final

from passcheck.cli.door.compute import Answer, Compute, Field, Fields, optional
from passcheck.cli.door.kinds import (
    ABOVE_ZERO,
    FLAG,
    INNER_SHARE,
    NOT_NEGATIVE,
    NUMBER,
    SHARE,
    WHOLE,
    Kind,
    either,
    listed,
    one_of,
)
from passcheck.judge.acceleration import arrhenius, arrhenius_range, coffin_manson, norris_landzberg
from passcheck.judge.cusum import cusum, cusum_sentence
from passcheck.judge.drift import drift, drift_sentence
from passcheck.judge.first_pass_yield import first_pass_yield
from passcheck.judge.latent import latent_screen, latent_sentence
from passcheck.judge.mcnemar import mcnemar
from passcheck.judge.paired import paired_difference
from passcheck.judge.rate_bound import rate_bound, rate_sentence
from passcheck.judge.returns import returns_sentence, survival, survival_at
from passcheck.judge.signed_rank import MOST_PAIRS, signed_rank_p
from passcheck.judge.soak_evidence import soak_evidence, soak_sentence
from passcheck.judge.zero_failure import reliability_shown, tries_needed, zero_failure_sentence

_CONFIDENCE: Final = Field("confidence", INNER_SHARE, "one-sided confidence of each bound")


def _fate(given: object) -> bool:
    if isinstance(given, bool) or given in (0, 1):
        return bool(given)
    raise ValueError("has to be true or false, or 1 or 0")


_FATE: Final = either(FLAG, Kind("1 or 0", _fate))

_FACTORS: Final[Mapping[str, tuple[str, ...]]] = {
    "arrhenius": ("ea_ev", "use_c", "stress_c"),
    "coffin-manson": ("use_dt", "stress_dt", "exponent"),
    "norris-landzberg": ("use_dt", "stress_dt", "use_per_day", "stress_per_day", "use_max_c", "stress_max_c"),
}


def _rate_bound(fields: Fields) -> Answer:
    bound = rate_bound(fields["failures"], fields["hours"], fields["confidence"])
    return {
        "rate_per_h": bound.rate_per_h,
        "lower_per_h": bound.lower_per_h,
        "upper_per_h": bound.upper_per_h,
        "factor": bound.factor,
        "why": rate_sentence(bound),
    }


def _zero_failure(fields: Fields) -> Answer:
    confidence, reliability, n = fields["confidence"], fields["reliability"], fields["n"]
    if (reliability is None) == (n is None):
        raise ValueError("give either reliability or n")
    if n is None:
        n = tries_needed(confidence, reliability)
    else:
        reliability = reliability_shown(confidence, n)
    return {"n": n, "reliability": reliability, "why": zero_failure_sentence(confidence, n)}


def _acceleration(fields: Fields) -> Answer:
    model = fields["model"]
    wanted = _FACTORS[model]
    for name in sorted({each for names in _FACTORS.values() for each in names}):
        if (name in wanted) != (fields[name] is not None):
            raise ValueError(f"{model} {'needs' if name in wanted else 'has no use for'} {name}")
    given = [fields[name] for name in wanted]
    if model == "coffin-manson":
        return {"factor": coffin_manson(*given)}
    if model == "norris-landzberg":
        return {"factor": norris_landzberg(*given)}
    around = arrhenius_range(fields["use_c"], fields["stress_c"])
    return {"factor": arrhenius(*given), "factor_low": around.low, "factor_high": around.high}


def _soak_evidence(fields: Fields) -> Answer:
    evidence = soak_evidence(
        fields["hours"],
        fields["units"],
        fields["failures"],
        fields["soak_c"],
        fields["use_c"],
        fields["ea_ev"],
        fields["confidence"],
    )
    low, high = evidence.equivalent_range_h
    return {
        "factor": evidence.factor,
        "factor_low": evidence.factor_range.low,
        "factor_high": evidence.factor_range.high,
        "equivalent_h": evidence.equivalent_h,
        "equivalent_low_h": low,
        "equivalent_high_h": high,
        "upper_per_h": evidence.upper_per_h,
        "mtbf_lower_h": evidence.mtbf_lower_h,
        "why": soak_sentence(evidence),
    }


def _latent(fields: Fields) -> Answer:
    per_return, per_hour = fields["cost_return"], fields["cost_hour"]
    if (per_return is None) != (per_hour is None):
        raise ValueError("cost_return and cost_hour go together")
    costs = None if per_return is None else (per_return, per_hour)
    screen = latent_screen(
        fields["p_latent"], fields["mean_h"], fields["factor"], fields["soak_h"], fields["target"], costs
    )
    answer: Answer = {"p_after": screen.p_after, "p_caught": screen.p_caught}
    if fields["target"] is not None:
        answer["hours_for_target"] = screen.hours_for_target
    if costs is not None:
        answer["best_h"] = screen.best_h
    return answer | {"why": latent_sentence(screen)}


def _drift(fields: Fields) -> Answer:
    found = drift(fields["hours"], fields["values"])
    return {
        "slope_per_h": found.slope_per_h,
        "se": found.se,
        "t": found.t,
        "df": found.df,
        "p": found.p,
        "phi": found.phi,
        "n_effective": found.n_effective,
        "se_corrected": found.se_corrected,
        "t_corrected": found.t_corrected,
        "df_corrected": found.df_corrected,
        "p_corrected": found.p_corrected,
        "why": drift_sentence(found),
    }


def _cusum(fields: Fields) -> Answer:
    found = cusum(fields["values"], fields["target"], fields["k"], fields["h"])
    return {
        "up": list(found.up),
        "down": list(found.down),
        "first_signal": found.first_signal,
        "why": cusum_sentence(found),
    }


def _yield(fields: Fields) -> Answer:
    found = first_pass_yield(fields["k"], fields["n"], fields["level"])
    return {"share": found.share, "low": found.low, "high": found.high}


def _returns(fields: Fields) -> Answer:
    curve = survival(fields["days"], fields["returned"])
    found = survival_at(curve, fields["at_days"])
    return {
        "survival": found.survival,
        "return_rate": 1 - found.survival,
        "se": found.se,
        "low": found.low,
        "high": found.high,
        "table": [{"day": row.day, "survival": row.survival, "se": row.se} for row in curve.rows],
        "why": returns_sentence(curve, found),
    }


def _paired(fields: Fields) -> Answer:
    before, after = fields["before"], fields["after"]
    found = paired_difference(before, after)
    answer = {
        "mean_difference": found.mean_difference,
        "se": found.se,
        "t": found.t,
        "df": found.df,
        "p": found.p,
    }
    return answer | ({"p_signed_rank": signed_rank_p(before, after)} if len(before) <= MOST_PAIRS else {})


def _mcnemar(fields: Fields) -> Answer:
    found = mcnemar(fields["b"], fields["c"])
    return {"p_exact": found.p_exact, "chi2": found.chi2, "chi2_corrected": found.chi2_corrected}


COMPUTES: Final[Mapping[str, Compute]] = {
    "rate-bound": Compute(
        "Bound a constant failure rate by chi-square, each bound alone at the confidence.",
        (
            Field("failures", WHOLE, "failures in all units together"),
            Field("hours", ABOVE_ZERO, "unit-hours of a test that ended by the clock"),
            _CONFIDENCE,
        ),
        ("rate_per_h", "lower_per_h", "upper_per_h", "factor", "why"),
        _rate_bound,
    ),
    "zero-failure": Compute(
        "How many tries without a failure show a reliability, or which reliability n tries show.",
        (
            Field("confidence", INNER_SHARE, "of the statement"),
            optional("reliability", INNER_SHARE, "wanted; or give n"),
            optional("n", WHOLE, "tries without a failure; or give reliability"),
        ),
        ("n", "reliability", "why"),
        _zero_failure,
    ),
    "acceleration": Compute(
        "By what factor heat or temperature cycles on the bench age a board faster than its use.",
        (
            Field("model", one_of(*_FACTORS), "each takes its own fields, temperatures being those of the board"),
            optional("ea_ev", NOT_NEGATIVE, "arrhenius: activation energy, eV"),
            optional("use_c", NUMBER, "arrhenius: temperature in use, °C"),
            optional("stress_c", NUMBER, "arrhenius: temperature on the bench, °C"),
            optional("use_dt", ABOVE_ZERO, "cycles: swing in use, K"),
            optional("stress_dt", ABOVE_ZERO, "cycles: swing on the bench, K"),
            optional("exponent", NOT_NEGATIVE, "coffin-manson: 2 to 2.7 for solder"),
            optional("use_per_day", ABOVE_ZERO, "norris-landzberg: cycles a day in use"),
            optional("stress_per_day", ABOVE_ZERO, "norris-landzberg: cycles a day on the bench"),
            optional("use_max_c", NUMBER, "norris-landzberg: hottest in use, °C"),
            optional("stress_max_c", NUMBER, "norris-landzberg: hottest on the bench, °C"),
        ),
        ("factor", "factor_low?", "factor_high?"),
        _acceleration,
    ),
    "soak-evidence": Compute(
        "What the hours of a soak show as hours of use, and how little they bound.",
        (
            Field("hours", ABOVE_ZERO, "of soak of each unit, h"),
            Field("units", WHOLE, "of one board type"),
            Field("failures", WHOLE, "in all units together"),
            Field("soak_c", NUMBER, "board temperature on soak, °C"),
            Field("use_c", NUMBER, "board temperature in use, °C"),
            Field("ea_ev", NOT_NEGATIVE, "activation energy, eV; the range is that of 0.4 to 0.7"),
            _CONFIDENCE,
        ),
        (
            "factor",
            "factor_low",
            "factor_high",
            "equivalent_h",
            "equivalent_low_h",
            "equivalent_high_h",
            "upper_per_h",
            "mtbf_lower_h",
            "why",
        ),
        _soak_evidence,
    ),
    "latent": Compute(
        "How many hidden defects a soak catches, the hours for a target and the cheapest hours.",
        (
            Field("p_latent", SHARE, "share of repairs that hide a defect"),
            Field("mean_h", ABOVE_ZERO, "mean time to show in use, h"),
            Field("factor", ABOVE_ZERO, "by which the soak is faster than use"),
            Field("soak_h", NOT_NEGATIVE, "hours of soak, h"),
            optional("target", INNER_SHARE, "share of hidden defects that may be left"),
            optional("cost_return", ABOVE_ZERO, "of one return, any currency"),
            optional("cost_hour", ABOVE_ZERO, "of one hour of soak, same currency"),
        ),
        ("p_after", "p_caught", "hours_for_target?", "best_h?", "why"),
        _latent,
    ),
    "drift": Compute(
        "Slope of readings with its test, plain and corrected for readings that hang together.",
        (
            Field("hours", listed(NUMBER, 3), "time of each reading, h"),
            Field("values", listed(NUMBER, 3), "readings, any unit"),
        ),
        (
            "slope_per_h",
            "se",
            "t",
            "df",
            "p",
            "phi",
            "n_effective",
            "se_corrected",
            "t_corrected",
            "df_corrected",
            "p_corrected",
            "why",
        ),
        _drift,
    ),
    "cusum": Compute(
        "Cumulative sums in both directions and the first value at which one of them signals.",
        (
            Field("values", listed(NUMBER, 1), "in the order of time"),
            Field("target", NUMBER, "in the values' unit"),
            Field("k", NOT_NEGATIVE, "slack, in the values' unit"),
            Field("h", ABOVE_ZERO, "decision value, in the values' unit"),
        ),
        ("up", "down", "first_signal", "why"),
        _cusum,
    ),
    "yield": Compute(
        "A share of units with Wilson's interval.",
        (
            Field("k", WHOLE, "units that passed at the first try"),
            Field("n", WHOLE, "units"),
            Field("level", INNER_SHARE, "of the two-sided interval"),
        ),
        ("share", "low", "high"),
        _yield,
    ),
    "returns": Compute(
        "Returns by Kaplan and Meier, units still out being counted up to their age; interval at 95 %.",
        (
            Field("days", listed(NOT_NEGATIVE, 1), "age of each unit at its return or today, days"),
            Field("returned", listed(_FATE, 1), "did it come back?"),
            Field("at_days", NOT_NEGATIVE, "age asked for, days"),
        ),
        ("survival", "return_rate", "se", "low", "high", "table", "why"),
        _returns,
    ),
    "paired": Compute(
        "The same things before and after: mean of after minus before with Student's t, and Wilcoxon's exact p.",
        (
            Field("before", listed(NUMBER, 2), "readings, any unit"),
            Field("after", listed(NUMBER, 2), "readings in the same order and unit"),
        ),
        ("mean_difference", "se", "t", "df", "p", "p_signed_rank?"),
        _paired,
    ),
    "mcnemar": Compute(
        "Pairs that changed one way against those that changed the other, exactly.",
        (
            Field("b", WHOLE, "pairs that went from pass to fail"),
            Field("c", WHOLE, "pairs that went from fail to pass"),
        ),
        ("p_exact", "chi2", "chi2_corrected"),
        _mcnemar,
    ),
}

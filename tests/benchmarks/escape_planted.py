"""What is wrong with the units of the escape study, and how far from the limit?

Most units get one fault at one step, so many standard uncertainties beyond its limit (below 0: inside, so that nothing
is wrong). The uncertainty is that of the instrument the robot takes up first, or of a tap as the judge states it.
"""

from dataclasses import dataclass
from random import Random  # noqa: TID251 - a simulation draws from a seed

from passcheck.job.judging import instrument_role, needs_accuracy
from passcheck.job.settings import BenchSettings
from passcheck.job.steps import is_powered
from passcheck.judge.accuracy import Accuracy, no_worse, standard_uncertainty
from passcheck.judge.hand_timed import SHORTEST_S, U_PERSON_S
from passcheck.judge.limits import Limits
from passcheck.judge.linearity import scale_reading_u
from passcheck.judge.sweep_judged import TAP_NOISE_S
from passcheck.practice.fault import Effect, Fault, What, When
from passcheck.practice.healthy import reading_limits
from passcheck.practice.meter import digit_for
from passcheck.sequence import model
from passcheck.sequence.model import ALL_BLOCKS, Sequence, Step

DISTANCES = (-8.0, -4.0, -2.0, -1.0, 0.0, 1.0, 2.0, 3.0, 4.0, 6.0, 10.0)
TAPPED_U_S = {
    "response, taps and reference": 0.03,  # five or eight trials beside a block
    "response, by a hand alone": U_PERSON_S,
    "presses, taps": 0.05,  # each press is one tap
}
WARM_MIN = 20.0
BREAKS_SHARE = 0.05
"""Of the reworks those that break something else: assumed."""
SHARES = {"at a distance": 0.70, "plain": 0.08, "warm": 0.05, "intermittent": 0.10, "nothing": 0.07}
"""Of the units, by what is wrong with them."""


@dataclass(frozen=True, slots=True)
class Planted:
    """What a unit of the study has.

    Attributes:
        case: a key of SHARES.
        kind: the kind of the step concerned, with "by taps" where a hand times it; "" for nothing.
        step: its id.
        distance: uncertainties beyond the limit; None where there is no number.
        faults: what is broken, and what the first rework will break.
    """

    case: str
    kind: str
    step: str
    distance: float | None
    faults: tuple[Fault, ...]


def plant(sequence: Sequence, settings: BenchSettings, draw: Random) -> Planted:
    """Draw what is wrong with a unit."""
    bench = _Bench(sequence, settings)
    case = draw.choices(list(SHARES), list(SHARES.values()))[0]
    broken_later = _breaks(sequence, draw) if draw.random() < BREAKS_SHARE else ()
    if case == "nothing":
        return Planted(case, "", "", None, broken_later)
    steps = [step for step in sequence.steps if (_effect_size(step, 0.0, bench) is not None) == (case != "plain")]
    steps = [step for step in steps if _is_walked(step) and _blocks(step, sequence)]
    if case == "warm":  # nothing is warm before its first power, nor once it was switched off and opened
        steps = [step for step in steps if is_powered(step) and not isinstance(step, model.PowerUpStep)]
    kinds = sorted({kind_of(step) for step in steps})
    kind = draw.choice(kinds)  # each kind as often as the next, however many steps there are of it
    step = draw.choice([one for one in steps if kind_of(one) == kind])
    block = draw.choice(_blocks(step, sequence))
    distance: float | None = None
    effects: tuple[Effect, ...]
    if case == "plain":
        effects = (_plain(step),)
    else:
        distance = draw.choice(DISTANCES) if case == "at a distance" else 10.0
        sized = _effect_size(step, distance, bench)
        assert sized is not None
        what, size, nth = sized
        effects = (Effect(step.id, what, size, nth, when=_when(case, draw)),)
    fault = Fault(f"{case} at {step.id}", "planted", block, (), effects)
    return Planted(case, kind, step.id, distance, (fault, *broken_later))


@dataclass(frozen=True, slots=True)
class _Bench:
    sequence: Sequence
    settings: BenchSettings

    def u_at(self, step: Step, limits: Limits) -> float:
        """Standard uncertainty at the limit, of the instrument that the robot takes up first."""
        end = limits.high or limits.low
        assert end is not None
        accuracy = self._first_taken(step)
        if accuracy is None:
            return float(end.value) / 100
        return standard_uncertainty(accuracy, end.value, digit_for(limits, float(end.value)))

    def _first_taken(self, step: Step) -> Accuracy | None:
        """The accuracy of the last instrument of the bench that will do for the step's role."""
        role = instrument_role(step)
        if role is None or not needs_accuracy(step):
            return None
        need = self.sequence.instruments.get(role)
        able = [it.fills[role] for it in self.settings.instruments.values() if role in it.fills]
        good = [one for one in able if need is None or no_worse(one, need.accuracy)]
        return good[-1] if good else None


def kind_of(step: Step) -> str:
    """The kind as the study's tables name it."""
    if isinstance(step, model.ResponseStep) and step.method != "instrument":
        low, high = step.limits.low, step.limits.high
        by_reference = low is None and high is not None and high.value < SHORTEST_S
        return "response, taps and reference" if by_reference else "response, by a hand alone"
    if isinstance(step, model.SweepStep):
        return "sweep, taps"
    if isinstance(step, model.PressesStep) and step.limits is not None:
        return "presses, taps"
    return step.kind


def _when(case: str, draw: Random) -> When:
    if case == "warm":
        return When(warm_min=WARM_MIN)
    return When(share=draw.uniform(0.1, 0.9)) if case == "intermittent" else When()


def _is_walked(step: Step) -> bool:
    """Steps that every run walks, and that a variant doesn't take away."""
    derived = isinstance(step, model.ReadingStep) and step.derive is not None
    return step.variant is None and step.role != "arrival" and not derived and step.kind != "soak"


def _blocks(step: Step, sequence: Sequence) -> list[str]:
    named = [name for name in step.proves if name != ALL_BLOCKS]
    return named or ([] if step.role == "final" else sorted(sequence.blocks))


def _breaks(sequence: Sequence, draw: Random) -> tuple[Fault, ...]:
    """Something that the first rework breaks: plain to see at one step, in any block."""
    steps = [step for step in sequence.steps if _is_walked(step) and _plain_what(step) and _blocks(step, sequence)]
    step = draw.choice(steps)
    block = draw.choice(_blocks(step, sequence))
    return (Fault(f"broken in rework at {step.id}", "broken in rework", block, (), (_plain(step),), born=1),)


def _plain_what(step: Step) -> bool:
    return isinstance(step, model.CountStep | model.LampsStep | model.CodesStep | model.LookStep) and (
        not isinstance(step, model.CodesStep) or bool(step.absent)
    )


def _plain(step: Step) -> Effect:
    """A departure without a number."""
    match step:
        case model.CountStep():
            return Effect(step.id, "counts", step.wanted + (1 if step.wanted == 0 else -1))
        case model.LampsStep():
            return Effect(step.lamps[0].ref, "dark")
        case model.CodesStep():
            return Effect(step.id, "stuck", seen=step.absent[0])
        case model.LookStep():
            return Effect(step.id, "looks", nth=1, seen="not as it should be")
        case model.PressesStep():
            return Effect(step.id, "dead spots", 1.0)
        case model.GradeStep():
            return Effect(step.id, "falls to", seen="E")
        case _:
            raise ValueError(step.kind)


def _effect_size(step: Step, distance: float, bench: _Bench) -> tuple[What, float, int | None] | None:
    """Which effect puts the step's quantity so many uncertainties beyond a limit, and of what size."""
    match step:
        case model.ReadingStep() if step.derive is None and (limits := reading_limits(step)) is not None:
            return "reads", _beyond(limits, distance, bench.u_at(step, limits)), None
        case model.TableStep():
            limits = step.rows[0].limits
            return "gives", _beyond(limits, distance, bench.u_at(step, limits)), 1
        case model.PowerUpStep():
            return "draws", _beyond(step.limits, distance, bench.u_at(step, step.limits)), None
        case model.ResponseStep():
            by_taps = TAPPED_U_S.get(kind_of(step))
            u_s = bench.u_at(step, step.limits) if by_taps is None else by_taps
            return "delays", _beyond(step.limits, distance, u_s), None
        case model.PressesStep(limits=limits) if limits is not None:
            return "delays", _beyond(limits, distance, TAPPED_U_S[kind_of(step)]), None
        case model.SweepStep():
            limits = step.up
            middle = float(limits.high.value + limits.low.value) / 2 if limits.high and limits.low else 1.0
            return "slow", _beyond(limits, distance, TAP_NOISE_S * 2**0.5) / middle, None
        case model.MarksStep():
            u_scale = scale_reading_u(float(step.readability.value))
            return "offset", float(step.tolerance.value) + distance * u_scale, 1
        case model.GradeStep(limits=limits) if limits is not None:
            return "recovers in", _beyond(limits, distance, bench.u_at(step, limits)), None
        case model.LampsStep(on_within=limits) if limits is not None:
            return "lags", _beyond(limits, distance, bench.u_at(step, limits)), None
        case _:
            return None


def _beyond(limits: Limits, distance: float, u: float) -> float:
    """So many uncertainties beyond the upper limit, or below the lower one where there is no upper."""
    if limits.high is not None:
        return float(limits.high.value) + distance * u
    assert limits.low is not None
    return float(limits.low.value) - distance * u

"""Is every hazard of the board said, in words that somebody can act on, with a fact that shows it was read?"""

import re
from collections.abc import Iterator

from passcheck.judge.energy import stored_energy_j
from passcheck.judge.limits import Limits
from passcheck.judge.quantity import Quantity, QuantityError, parse_quantity
from passcheck.sequence.finding import Finding, error, warning
from passcheck.sequence.model import StoredEnergy
from passcheck.sequence.sheet import Sheet

DANGEROUS_ENERGY_J = 10.0  # shock threshold of laboratory practice for capacitors
EXEMPT_CHARGE_C = 60e-6  # IEC 60204-1, 6.2.4: residual charge above 60 V
RESIDUAL_V = 60
DANGER_SHARE = 0.2

_FIGURE = re.compile(r"(?<![A-Za-z0-9])-?\d+(?:[.,]\d+)? ?[a-zµ]?[A-ZΩ°]+\b")
_EMPTY_ADVICE = re.compile(
    r"\b(be careful|take care|use caution|be aware|may possibly|could possibly)\b", re.IGNORECASE
)


def facts_for_the_worst(sheet: Sheet) -> Iterator[Finding]:
    """A message that is only clicked away protects nobody."""
    for name, caution in sheet.sequence.cautions.items():
        if caution.signal in {"DANGER", "WARNING"} and not caution.confirm:
            why = f"a {caution.signal} is acknowledged by a fact that the bench's display shows, never by a key alone"
            yield error(f"{why}; write 'confirm' with 'ask' and 'limits'", "cautions", name)


def avoidance_is_said(sheet: Sheet) -> Iterator[Finding]:
    """A caution says what to do, not how to feel."""
    for name, caution in sheet.sequence.cautions.items():
        if not caution.avoid:
            yield error("this caution doesn't say how to avoid the harm; write what to do", "cautions", name, "avoid")
        for place, text in enumerate((caution.hazard, caution.harm, *caution.avoid)):
            entry: tuple[str | int, ...] = (
                ("hazard",) if place == 0 else ("harm",) if place == 1 else ("avoid", place - 2)
            )
            found = _EMPTY_ADVICE.search(text)
            if found:
                why = f"'{found.group()}' tells nobody what to do; name the hazard, the number and the act"
                yield warning(why, "cautions", name, *entry)


def fact_is_not_given_away(sheet: Sheet) -> Iterator[Finding]:
    """Who can read the answer off the message needs no look at the bench."""
    for name, caution in sheet.sequence.cautions.items():
        words = " ".join((caution.hazard, caution.harm, *caution.avoid, caution.stop_if))
        for confirm in caution.confirm:
            told = [text for text in _FIGURE.findall(f"{words} {confirm.ask}") if _answers(text, confirm.limits)]
            if told:
                why = f"the message itself says {told[0].strip()}, so '{confirm.ask}' can be answered without a look"
                yield warning(f"{why}; leave the figure to the display", "cautions", name)


def _answers(text: str, limits: Limits) -> bool:
    """Would this figure do as the fact? Figures at a limit are thresholds, not what a display shows."""
    try:
        figure = parse_quantity(text, limits.unit).value
    except QuantityError:
        return False
    ends = [end.value for end in (limits.low, limits.high) if end is not None]
    return limits.holds(figure) and figure not in ends


def danger_is_rare(sheet: Sheet) -> Iterator[Finding]:
    """A word that is on everything is read nowhere."""
    signals = [caution.signal for caution in sheet.sequence.cautions.values()]
    dangers = signals.count("DANGER")
    if dangers > 1 and dangers > DANGER_SHARE * len(signals):
        why = f"{dangers} of {len(signals)} cautions say DANGER; keep it for what kills or maims, so that it is read"
        yield warning(why, "cautions")


def hazardous_live_is_prepared(sheet: Sheet) -> Iterator[Finding]:
    """Parts that can kill come with the worst signal words and a way to make safe."""
    sequence = sheet.sequence
    for name, supply in sequence.supplies.items():
        if supply.supply_class != "hazardous-live":
            continue
        if not sequence.stored_energy and not sequence.make_safe and not {"stored_energy", "make_safe"} & sheet.lost:
            why = (
                "a hazardous-live supply needs a way back: write 'make_safe' or 'stored_energy' with points to measure"
            )
            yield error(why, "supplies", name)
        hung = {*supply.cautions, *(c for step in sequence.steps if step.power == name for c in step.cautions)}
        signals = {sequence.cautions[c].signal for c in hung if c in sequence.cautions}
        if not signals & {"DANGER", "WARNING"} and "cautions" not in sheet.lost:
            why = (
                "a hazardous-live supply carries a DANGER or a WARNING, on itself or on its steps; nothing less is read"
            )
            yield error(f"{why} before a hand goes near", "supplies", name)


def stored_energy_is_discharged(sheet: Sheet) -> Iterator[Finding]:
    """A charge that can hurt is let out through a resistor, by a line that says so."""
    for number, stored in enumerate(sheet.sequence.stored_energy):
        voltage = stored.voltage or _highest(sheet)
        if voltage is None or voltage.unit != "V" or stored.capacitance.unit != "F":
            continue
        energy_j = stored_energy_j(stored.capacitance, voltage)
        charge_c = float(stored.capacitance.value * voltage.value)
        high_charge = charge_c > EXEMPT_CHARGE_C and voltage.value > RESIDUAL_V
        if (energy_j > DANGEROUS_ENERGY_J or high_charge) and stored.discharge is None:
            why = f"{stored.capacitance.text} at {voltage.text} holds {energy_j:.2g} J and {charge_c * 1e6:.2g} µC"
            yield error(f"{why}; write 'discharge' with the tool to let it out with", "stored_energy", number)
        yield from _threshold(stored, voltage, number)


def _threshold(stored: StoredEnergy, voltage: Quantity, number: int) -> Iterator[Finding]:
    if stored.discharged_below.value >= voltage.value:
        why = f"it never holds more than {voltage.text}, so it always counts as discharged; write a lower voltage"
        yield error(why, "stored_energy", number, "discharged_below")
    elif stored.discharged_below.value > RESIDUAL_V:
        why = f"{stored.discharged_below.text} still bites; a point counts as discharged under {RESIDUAL_V} V at most"
        yield error(why, "stored_energy", number, "discharged_below")


def _highest(sheet: Sheet) -> Quantity | None:
    """The top of the highest supply range."""
    tops = [supply.range.high for supply in sheet.sequence.supplies.values() if supply.range.high is not None]
    return max(tops, key=lambda top: top.value, default=None)


def make_safe_is_written(sheet: Sheet) -> Iterator[Finding]:
    """Under stress people follow lines, not thoughts."""
    if sheet.sequence.supplies and not sheet.sequence.make_safe and "make_safe" not in sheet.lost:
        yield Finding(
            ("supplies",),
            "there are no 'make_safe' lines; write what to switch off and pull, in order",
            "warning",
            True,
        )


RULES = (
    facts_for_the_worst,
    avoidance_is_said,
    fact_is_not_given_away,
    danger_is_rare,
    hazardous_live_is_prepared,
    stored_energy_is_discharged,
    make_safe_is_written,
)

"""Does a soak show anything, and may it be left alone?"""

from collections.abc import Iterator

from passcheck.sequence.finding import Finding, error, warning
from passcheck.sequence.sheet import Sheet


def soak_has_checks(sheet: Sheet) -> Iterator[Finding]:
    """Only time between two good checks counts."""
    for number, step in sheet.steps():
        if step.kind != "soak":
            continue
        if not step.check:
            yield error("a soak that checks nothing shows nothing; name the steps to 'check'", "steps", number, "check")
        if step.every.value <= 0 or step.hours.value < 2 * step.every.value:
            why = (
                f"{step.hours.text} with a check every {step.every.text} has fewer than two checks: nothing would count"
            )
            yield error(why, "steps", number, "every")


def soak_shows_continuity(sheet: Sheet) -> Iterator[Finding]:
    """Two good checks with a power cut between them look like two good checks."""
    for number, step in sheet.steps():
        if step.kind == "soak" and step.continuous and step.continuity is None:
            why = (
                "nothing shows that power stayed on between checks (hour meter, logged current, a relay that drops out)"
            )
            yield warning(f"{why}; write 'continuity', or 'continuous: false'", "steps", number)


def soak_left_alone(sheet: Sheet) -> Iterator[Finding]:
    """Hazardous-live parts are not left alone in the open."""
    for number, step in sheet.steps():
        supply = sheet.sequence.supplies.get(step.power)
        live = supply is not None and supply.supply_class == "hazardous-live"
        if step.kind == "soak" and step.unattended and not step.enclosed and live:
            why = "a hazardous-live soak is not left alone unless it is enclosed; write 'enclosed: true' if it is"
            yield error(why, "steps", number, "unattended")


RULES = (soak_has_checks, soak_shows_continuity, soak_left_alone)

"""What is to be seen at a step of each kind, after so many acts of the hand?"""

from dataclasses import replace
from decimal import Decimal
from typing import Final

from passcheck.judge.quantity import show
from passcheck.practice import shows
from passcheck.practice.healthy import reading_limits, typical
from passcheck.practice.scale import scale_of
from passcheck.practice.seen import Dial, Panel, Row
from passcheck.practice.seen_moving import Moving
from passcheck.sequence import model
from passcheck.sequence.model import Grade, Step

AS_LISTED: Final = "as listed"
AFTERWARDS: Final[dict[Grade, str]] = {
    "A": "it went on working throughout",
    "B": "it drifted, and came back by itself",
    "C": "it stopped, and came back by itself",
    "D": "it stopped, and needed somebody to reset it",
    "E": "it stopped, and needs repair",
}


class Sight(Moving):
    """The instruments, and what the hand did."""

    __slots__ = ()

    def at(self, step: Step, found: shows.Shows, panel: Panel) -> Panel:  # noqa: PLR0912 - one row a kind
        """The panel with what is to be seen at this step."""
        match step, found:
            case model.ReadingStep(), shows.Reads():
                return replace(panel, meters=self._readings(step, found))
            case model.TableStep(), shows.Reads():
                rows = enumerate(zip(step.rows, found.values, strict=True))
                given = (self.displays.of_step(step, row.put, value, row.limits, nth) for nth, (row, value) in rows)
                return replace(panel, meters=tuple(given))
            case model.PowerUpStep(), shows.Draws():
                amps = self.displays.of_step(step, f"after {step.after.text}", found.amps, step.limits)
                return replace(panel, meters=(amps,))
            case model.ResponseStep(), shows.Responds():
                return self.response(step, found, panel)
            case model.PressesStep(), shows.Responds():
                return self.presses(step, found, panel)
            case model.LampsStep(), shows.Lights():
                return self.lamps(step, found, panel)
            case model.SweepStep(), shows.Sweeps():
                return self.sweep(step, found, panel)
            case model.MarksStep(), shows.Stands():
                return self._marks(step, found, panel)
            case model.CodesStep(), shows.Codes():
                return self._codes(step, found, panel)
            case model.GradeStep(), shows.Falls():
                return self._grade(step, found, panel)
            case model.LookStep(), shows.Looks():
                amiss = {one.number: one.seen for one in found.amiss}
                points = range(1, len(step.points) + 1)
                return replace(panel, found=tuple((str(nth), amiss.get(nth, AS_LISTED)) for nth in points))
            case model.CountStep(), shows.Counts():
                return replace(panel, found=((step.of, str(found.count)),))
            case _:
                return panel

    def _readings(self, step: model.ReadingStep, found: shows.Reads) -> tuple[Row, ...]:
        limits = reading_limits(step)
        if limits is None or not found.values:
            return ()
        at, show_it = step.at or "", self.displays.of_step
        rows = [] if step.leads is None else [show_it(step, "leads shorted", typical(step.leads), step.leads)]
        several = len(found.values) > 1
        for nth, value in enumerate(found.values):
            rows.append(show_it(step, f"{at}, {nth + 1}" if several else at, value, limits, nth))
        if step.component is not None:
            rows.append(show_it(step, "leads swapped", found.values[0], limits, len(found.values)))
        return tuple(rows)

    def _marks(self, step: model.MarksStep, found: shows.Stands, panel: Panel) -> Panel:
        unit, least = step.tolerance.unit, step.readability
        rising = [(f"{mark.feed} rising", value) for mark, value in zip(step.marks, found.up, strict=True)]
        falling = [(f"{mark.feed} falling", value) for mark, value in zip(step.marks, found.down, strict=False)]
        fed = (rising + falling[::-1])[: self.hands.acts + 1]
        read = [(feed, _read_off(value, least.value, least.digit, unit)) for feed, value in fed]
        value = fed[-1][1]
        scale = scale_of(step, self.displays.job.sequence.steps)
        dial = Dial(step.gauge, scale.marks, scale.share(value), read[-1][1])
        act = "feed the next mark" if len(fed) < len(rising) + len(falling) else ""
        return replace(panel, act=act, dial=dial, found=tuple(read))

    def _codes(self, step: model.CodesStep, found: shows.Codes, panel: Panel) -> Panel:
        stages = [("", ("codes shown", _codes(found.present)))]
        if step.provoke:
            does = ", then ".join(one.do for one in step.provoke)
            stages.append((does, ("came when provoked", _codes(found.provoked))))
        if step.clear is not None:
            stages.append(("clear, off and on", ("after clear", _codes(found.after_clear or ()))))
        done, left = stages[: self.hands.acts + 1], stages[self.hands.acts + 1 :]
        return replace(panel, act=left[0][0] if left else "", found=tuple(row for _act, row in done))

    def _grade(self, step: model.GradeStep, found: shows.Falls, panel: Panel) -> Panel:
        panel = replace(panel, act=f"make the disturbance: {step.disturbance}")
        if not self.hands.acts:
            return replace(panel, found=(("the unit", "works"),))
        if self.hands.since_s < found.recovery_s:
            during = "drifts" if found.grade == "B" else "works" if found.grade == "A" else "has stopped"
            return replace(panel, found=(("the unit", during),), next_s=found.recovery_s)
        timed = step.limits is not None
        row = self.displays.of_step(step, "back after", found.recovery_s, step.limits) if step.limits else ("", "")
        meters = (row,) if timed else ()
        return replace(panel, found=(("the unit", AFTERWARDS[found.grade]),), meters=meters)


def _read_off(value: float, least: Decimal, digit: Decimal, unit: str) -> str:
    """What an eye reads: to the readability of the scale and no finer."""
    steps = round(value / float(least))
    return show(steps * least, unit, digit)


def _codes(codes: tuple[str, ...]) -> str:
    return " ".join(codes) or "none"

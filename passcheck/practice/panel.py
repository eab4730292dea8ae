"""What is to be seen of the unit in hand and of the bench's displays right now?

Pure: the same job, step, moment and hands give the same panel. Never a true value: a display with its instrument's own
error, or what an eye reads off a scale.
"""

from passcheck.job.events import InstrumentInUse
from passcheck.job.moment import Moment
from passcheck.job.state import Job
from passcheck.judge.limits import Limits
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.displays import Displays, shown_inside
from passcheck.practice.seen import Hands, Panel
from passcheck.practice.seen_at_step import Sight
from passcheck.sequence.model import NO_SUPPLY, Step

DARK = (("no supply", "nothing lights, nothing moves"),)
NO_HANDS = Hands()


def panel_for(
    bench: PracticeBench,
    job: Job,
    step: Step | None,
    moment: Moment,
    hands: Hands = NO_HANDS,
    meter: InstrumentInUse | None = None,
    under: tuple[str, ...] = (),
    known: tuple[str, Limits] | None = None,
    *,
    switched_off: bool = False,
) -> Panel:
    """The panel of a step.

    Args:
        bench: where the simulated units are.
        job: the unit in hand.
        step: what lies on the bench; None for the supplies and what is measured to make safe.
        moment: now.
        hands: what the hand did at this step since the last try.
        meter: an instrument chosen for this step in place of the run's own.
        under: conditions that the unit is put to.
        known: the source that a tester is tried on, and what it gives.
        switched_off: True while the unit is made safe.
    """
    displays = Displays(bench, job, moment, meter, switched_off)
    source = (() if known is None else ((f"tester on {known[0]}", shown_inside(known[1])),)) + displays.charges()
    if step is None:
        return Panel(displays.supply_lines(), facts=source)
    panel = Panel(displays.supply_lines(), facts=(*displays.facts(step), *source))
    if step.power != NO_SUPPLY and not displays.is_at_power(step.power):
        return Panel(panel.supply, found=DARK, facts=panel.facts)
    found = bench.shows(job, step, moment, under)
    return panel if found is None else Sight(displays, hands).at(step, found, panel)

"""Which steps are walked next, and why?"""

from passcheck.bench.shop import Shop
from passcheck.cli.say import quantity, say, say_json, say_table
from passcheck.job import plan as planning
from passcheck.job.plan import Planned


def plan(shop: Shop, job_id: str, *, as_json: bool) -> int:
    """Print the steps still to walk, in order; give the exit status."""
    steps = planning.plan(shop.look(job_id.upper()))
    if as_json:
        say_json("plan", [_item(planned) for planned in steps])
    elif steps:
        say_table(("STEP", "TITLE", "POWER", "MIN", "WHY"), [_cells(planned) for planned in steps])
        say(f"{len(steps)} steps, about {sum(planned.minutes for planned in steps)} min.")
    else:
        say("No step is left to walk.")
    return 0


def _cells(planned: Planned) -> tuple[str, ...]:
    step = planned.step
    return step.id, step.title, step.power, str(planned.minutes), planned.why


def _item(planned: Planned) -> dict[str, object]:
    step = planned.step
    return {
        "step": step.id,
        "title": step.title,
        "kind": step.kind,
        "power": step.power,
        "minutes": quantity(str(planned.minutes), "min"),
        "why": planned.why,
    }

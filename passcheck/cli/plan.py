"""Which steps are walked next, and why?"""

from passcheck.bench.shop import Shop
from passcheck.cli.say import practice_mark, quantity, say, say_json, say_practice, say_table
from passcheck.job import plan as planning
from passcheck.job.plan import Planned


def plan(shop: Shop, job_id: str, *, as_json: bool) -> int:
    """Print the steps still to walk, in order; give the exit status."""
    job = shop.look(job_id.upper())
    steps = planning.plan(job, outside=shop.outside(job), moment=shop.clock())
    if as_json:
        say_json("plan", [_item(planned) for planned in steps], **practice_mark(shop.practice))
        return 0
    if shop.practice:
        say_practice()
    if steps:
        say_table(("STEP", "TITLE", "POWER", "MIN", "WHY"), [_cells(planned) for planned in steps])
        say(f"{len(steps)} steps, about {planning.minutes_left(steps)} min.")
    else:
        say("No step is left to walk.")
    return 0


def _cells(planned: Planned) -> tuple[str, ...]:
    step = planned.step
    return step.id, step.title, step.power, str(planned.minutes), _why(planned)


def _why(planned: Planned) -> str:
    """The reason, with the conditions to walk it under where it doesn't name them itself."""
    under = ", ".join(planned.under)
    return planned.why if not under or under in planned.why else f"{planned.why}, under {under}"


def _item(planned: Planned) -> dict[str, object]:
    step = planned.step
    return {
        "step": step.id,
        "title": step.title,
        "kind": step.kind,
        "power": step.power,
        "minutes": quantity(str(planned.minutes), "min"),
        "why": planned.why,
        "under": list(planned.under),
    }

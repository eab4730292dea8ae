"""What does an old journal fold to, said so that the same words come out of every later version?

Two things are taken: the job's card as `passcheck show --json` publishes it, and a few facts of the state that no card
shows. Left out is what today's program says in its own words (a blocker's sentence, why a stretch counts nothing) or
asks of a unit today: those may change without an old record meaning something else. A member that is added later is
left out as well, because a set of samples names the members that its digests were made of.
"""

import contextlib
import hashlib
import io
import json
from collections.abc import Iterator, Mapping
from typing import Any

from passcheck.bench.shop import Shop
from passcheck.cli.show import show
from passcheck.job.fold import told_now
from passcheck.job.state import Job

TODAYS_WORDS = frozenset(
    {
        "card.blockers",
        "card.same_arrival",
        "card.put_back[].words",
        "card.burn_in[].courses[].words",
        "card.burn_in[].stretches[].why",
        "card.steps[].change.words",
        "card.steps[].change.parts[].words",
    }
)


def state_of(shop: Shop, job_id: str) -> dict[str, Any]:
    """The card and the other facts of a job, as JSON values."""
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        show(shop, job_id, as_json=True)
    return {"card": json.loads(printed.getvalue())["show"][0], "facts": _facts(shop.look(job_id))}


def members_of(value: object, path: str = "") -> Iterator[str]:
    """The place of each member that a digest is to be made of, such as `card.steps[].title`."""
    if isinstance(value, dict):
        for name, member in value.items():
            place = f"{path}.{name}" if path else name
            if place not in TODAYS_WORDS:
                yield place
                yield from members_of(member, place)
    elif isinstance(value, list):
        for member in value:
            yield from members_of(member, f"{path}[]")


def digest_of(state: Mapping[str, Any], members: frozenset[str]) -> str:
    """SHA-256 of what the state holds under these members, in hexadecimal."""
    text = json.dumps(_only(state, members, ""), ensure_ascii=True, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _only(value: object, members: frozenset[str], path: str) -> object:
    if isinstance(value, Mapping):
        places = {name: f"{path}.{name}" if path else name for name in value}
        return {name: _only(value[name], members, place) for name, place in places.items() if place in members}
    if isinstance(value, list):
        return [_only(member, members, f"{path}[]") for member in value]
    return value


def _facts(job: Job) -> dict[str, object]:
    """What a card doesn't show: power, who has the job, what is fitted, taps, loose readings, unknown tags."""
    return {
        "lines": job.lines,
        "measured_ms": job.measured.total_ms,
        "holder": job.holder,
        "ended_by": job.ended_by,
        "conditions": list(job.conditions),
        "power": [[name, told.told, told.line] for name, told in sorted(told_now(job).items())],
        "made_safe_line": job.made_safe_line,
        "alerts": list(job.alerts),
        "fitted": [[it.change, it.line, it.forbids_power] for it in job.fitted],
        "open_incidents": list(job.open_incidents),
        "acknowledged": [[one.line, one.by, one.facts.caution] for one in job.acknowledged],
        "jottings": [[one.point, one.value, one.meter, one.by] for one in job.jottings],
        "references": [[one.number, one.line, one.by, len(one.facts.trials)] for one in job.references],
        "timing": None if job.timing is None else [job.timing.step, job.timing.line],
        "broken_off": [[one.step, one.line] for one in job.broken_off],
        "soaks": [[leg.step, leg.line, leg.ended_line, len(leg.looks)] for leg in job.soaks],
        "refused": list(job.refused),
        "unrecognised": [[one.tag, dict(one.data)] for one in job.unrecognised],
    }

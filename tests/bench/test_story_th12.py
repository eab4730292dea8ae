"""Is an irrigation timer carried from two faults to all but its burn-in, one of them only there when it is damp?

The owner says that zone 4 stays dry and that rain doesn't stop it. A valve driver is renewed, and a pad that damp
bridged gets a wire, which is a repair and has to be said. Which results each rework takes away is written down by hand.
"""

from collections.abc import Mapping
from pathlib import Path

import hand
from rig import Rig

from passcheck.bench.bench import Bench
from passcheck.job.answers import Answer, PowerUpAnswer, ReadingAnswer, TableAnswer
from passcheck.job.commands import Attempt, CloseRun, Jot, LogRework, MapComplaint, UndoChange
from passcheck.job.events import Purpose
from passcheck.job.gate import blockers
from passcheck.job.plan import plan
from passcheck.job.power import told
from passcheck.job.staleness import stale_by
from passcheck.job.standing import counting
from passcheck.job.state import Job

FILE = Path(__file__).parents[2] / "sequences" / "th-12.yaml"
COMPLAINT = "Four never waters and it waters in the rain."

CONFIRMED = ("d01", "d02", "d04", "d05", "d08-width", "d08-current", "d08-polarity", "d09", "d10-lock", "d10-run")
"""What the two symptoms point to, with the guards before it: as found no more is walked."""

OPEN_AND_CLOSE = ("0.42 A", "0.41 A")
AS_FOUND: Mapping[str, Answer] = {
    "d02": ReadingAnswer(("12.4 kΩ",)),
    "d04": PowerUpAnswer("6.2 mA", "off"),
    "d08-current": TableAnswer((*OPEN_AND_CLOSE * 3, "0.40 A", "0.11 A", *OPEN_AND_CLOSE * 2)),
    "d09": ReadingAnswer(("0.9 V",)),
    "d10-lock": ReadingAnswer(("0.8 s",)),
}
"""As it came in, dry: zone 4 closes with a quarter of the current, and the rain lock comes as it should."""

LOCKED, NEVER = ReadingAnswer(("0.9 s",)), ReadingAnswer(("> 30 s",))
DAMP = "damp at J3, supply off while spraying"

STALE_BY_DRIVER = ["d04", "d08-width", "d08-current", "d08-polarity", "d09"]
"""U5 is on VALVE, which feeds nothing: the four steps of the valves, and the first power. Input and rail prove the
supply and stand; so do both rain tries, for the rain input is a block of its own."""

STALE_BY_WIRE = ["d10-lock", "d10-lock", "d10-run"]
"""R40 is on RAIN, which feeds nothing: the dry and the damp try, and the run when dry. The first power would go too,
but the driver took it already, and the first event is the one that is named."""


async def test_a_valve_driver_and_a_pad_that_leaks_when_it_is_damp() -> None:
    rig = Rig(FILE.read_text(encoding="utf-8"))
    bench = await arrived(rig)
    await found_as_the_owner_says(rig, bench)
    await driver_renewed_and_pad_repaired(rig, bench)
    await retested(rig, bench)
    await accepted(rig, bench)


async def arrived(rig: Rig) -> Bench:
    """The unit is taken in with its owner's words, which are two symptoms of the sequence."""
    bench = await rig.job(serial="Q77777", complaint=COMPLAINT)
    await rig.do(bench, MapComplaint("t1", ("zone-dry", "rain-ignored"), ("damp at J3",)))
    assert bench.job.facts.complaint == COMPLAINT
    return bench


async def found_as_the_owner_says(rig: Rig, bench: Bench) -> None:
    """As found: zone 4 at once; the rain lock works dry and never comes once the pads at J3 are damp."""
    await begin(rig, bench, "as-found")
    for step in CONFIRMED:
        await tried(rig, bench, step, AS_FOUND.get(step))
    await tried(rig, bench, "d10-lock", NEVER, note=DAMP)
    await end(rig, bench)
    assert failing(bench.job, 1) == ["d08-current", "d10-lock"]
    assert "zone 4 close" in sentence_of(bench.job, "d08-current")
    assert bench.job.runs[-1].outcome == "intermittent: 1 of 2"
    assert all(it.facts.asked is None for it in bench.job.acknowledged), "in quiet times one key will do for a CAUTION"


async def driver_renewed_and_pad_repaired(rig: Rig, bench: Bench) -> None:
    """Two entries; the wire is not as drawn, so it is kept as a repair without anybody having to think of it."""
    await rig.do(bench, LogRework("t1", ("VALVE",), ("U5",), "replaced", "Zone 4 closes with 0.11 A"))
    assert newly_stale(bench.job) == STALE_BY_DRIVER
    assert_arrival_stands(bench.job)
    words = "Pad of R40 cleaned of green crust, wire from R40 to J3 in place of the eaten track"
    await rig.do(bench, LogRework("t1", ("RAIN",), ("R40",), "jumper", words))
    assert newly_stale(bench.job) == STALE_BY_WIRE
    assert_arrival_stands(bench.job)
    assert [entry.repair for entry in bench.job.reworks] == [False, True]


async def retested(rig: Rig, bench: Bench) -> None:
    """What failed in one of two tries has to hold five times, damp as it was: (1 - 1/2)^5 is under 0.05."""
    await begin(rig, bench, "retest")
    for step in ("d04", "d08-width", "d08-current", "d08-polarity", "d09"):
        await tried(rig, bench, step)
    for clean in range(5):
        assert clean == 0 or f"{clean} of 5 clean repeats" in blocking(bench)["d10-lock"]
        await tried(rig, bench, "d10-lock", LOCKED, note=DAMP)
    await tried(rig, bench, "d10-run", note="dry again")
    assert "d10-lock" not in blocking(bench)
    await end(rig, bench)
    assert failing(bench.job, 2) == []


async def accepted(rig: Rig, bench: Bench) -> None:
    """What was left to walk passes, everything is put back, and only the burn-in stands against the door."""
    await begin(rig, bench, "acceptance")
    await walk(rig, bench)
    await end(rig, bench)
    assert "All six 24 Ω dummies off J2" in {it.words for it in bench.job.fitted}
    for it in bench.job.fitted:
        await rig.do(bench, UndoChange("t1", it.change, "put back and looked at"))
    assert [one.sentence for one in blockers(bench.job, bench.outside(), bench.moment())] == [
        "Twelve hours, one zone every half hour: burn-in not done."
    ]


async def begin(rig: Rig, bench: Bench, purpose: Purpose) -> None:
    """Start a run."""
    await rig.do(bench, hand.start(bench.job, purpose))


async def end(rig: Rig, bench: Bench) -> None:
    """Make safe and close the run."""
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"))


async def walk(rig: Rig, bench: Bench, shown: Mapping[str, Answer] | None = None, *, until: str = "") -> None:
    """Walk what is planned, up to a step; what isn't shown otherwise reads as on a good board."""
    while (planned := plan(bench.job)) and planned[0].step.id != until:
        await tried(rig, bench, planned[0].step.id, (shown or {}).get(planned[0].step.id))


async def tried(rig: Rig, bench: Bench, step_id: str, answer: Answer | None = None, *, note: str = "") -> None:
    """Bring power and cautions to where the step may be tried; give what was seen, with the papers it asks for."""
    step = bench.job.sequence.step(step_id)
    states = told(bench.job, bench.moment())
    if any(state != "off" for name, state in states.items() if name != step.power or state == "unknown"):
        await rig.make_safe(bench)
    await rig.do(bench, *hand.answers_to_cautions(bench.job, step_id, "t1", bench.moment()))
    if hand.powered(bench.job, step_id) and told(bench.job, bench.moment())[step.power] != "on":
        await rig.do(bench, hand.energise(bench.job, step_id))
    await time_goes_by(rig, bench, float(step.minutes))
    seen = answer or hand.good(step)
    words = note or (f"{step.title}: written down" if step.note else "")
    photos = (f"photos/{bench.job.id}-{step_id}.jpg",) if step.photo else ()
    await rig.do(bench, Attempt("t1", step_id, seen, again=seen, note=words, photos=photos))


async def time_goes_by(rig: Rig, bench: Bench, minutes: float) -> None:
    """Let a step's minutes pass; a jotting every ten keeps a long one from looking like an empty bench."""
    supply = next(iter(bench.job.sequence.supplies.values()))
    while minutes > 10:
        rig.clock.pass_time(minutes=10)
        await rig.do(bench, Jot("t1", "supply display", supply.nominal.text))
        minutes -= 10
    rig.clock.pass_time(minutes=minutes)


def newly_stale(job: Job) -> list[str]:
    """Steps of the attempts that the latest change made worthless, one for each attempt, in the order of the file."""
    gone = [one.step for one in job.attempts if stale_by(job, one) is job.changes[-1]]
    return [step.id for step in job.sequence.steps for _ in range(gone.count(step.id))]


def assert_arrival_stands(job: Job) -> None:
    """The look on arrival counts whatever was done since."""
    look = counting(job, job.sequence.step("d01"))
    assert look is not None
    assert look.purpose == "as-found"
    assert stale_by(job, look) is None


def failing(job: Job, run: int) -> list[str]:
    """Steps that failed in a run, in the order walked."""
    return [one.step for one in job.attempts if one.run == run and one.judgement.verdict == "fail"]


def sentence_of(job: Job, step: str) -> str:
    """What the latest judgement of a step says."""
    return next(one.judgement.sentence for one in reversed(job.attempts) if one.step == step)


def blocking(bench: Bench) -> dict[str | None, str]:
    """What stands against the sign-off, by step."""
    return {one.step: one.sentence for one in blockers(bench.job, bench.outside(), bench.moment())}

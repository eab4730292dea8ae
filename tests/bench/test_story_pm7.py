"""Is an engine panel carried from a wet bus to all but its burn-in, and a fault of the bench kept off the unit?

The owner says that on rainy mornings three dashes stand there and the hooter goes. An open terminator, a corroded plug
and a cracked joint are found one after the other; in acceptance a code shows up that the bench's own lead has raised.
Which results each rework takes away is written down here by hand.
"""

from collections.abc import Mapping
from pathlib import Path

import hand
from rig import Rig

from passcheck.bench.bench import Bench
from passcheck.job.answers import Answer, CodesAnswer, CountAnswer, PowerUpAnswer, ReadingAnswer
from passcheck.job.commands import Attempt, CloseRun, Jot, LogRework, MapComplaint, UndoChange, VoidAttempt
from passcheck.job.events import Purpose
from passcheck.job.gate import blockers
from passcheck.job.plan import plan
from passcheck.job.power import told
from passcheck.job.staleness import stale_by
from passcheck.job.standing import counting, unexplained
from passcheck.job.state import Job

FILE = Path(__file__).parents[2] / "sequences" / "pm-7.yaml"
COMPLAINT = "Rainy mornings: three dashes and the hooter goes."
NOT_AS_FOUND = ("e13-quiet", "e17-errors")
"""Not walked as found: the bus fails dry, so neither half an hour's listening nor damp could show more."""

BARE_BENCH = ("SPN639-FMI9", "SPN96-FMI5")
LEAKS = "8.4 kΩ"
AS_FOUND: Mapping[str, Answer] = {
    "e02-fitted": ReadingAnswer((LEAKS,)),
    "e02-removed": ReadingAnswer((LEAKS,)),
    "e02-bench": ReadingAnswer(("118.3 Ω",)),
    "e04": PowerUpAnswer("0.171 A", "off"),
    "e05-5v": ReadingAnswer(("5.012 V",)),
    "e05-ripple": ReadingAnswer(("18 mVpp",)),
    "e07-errors": CountAnswer(61),
}
"""As it came in: R70 is open, so JP1 changes nothing; 8.4 kΩ of green crust is left, and the bench's 120 Ω beside it
gives 118.3 Ω. The bus works dry, with errors that climb."""

HEARD = "The horn starts with the dashes when messages stop: this is the hooter of the complaint"

STALE_BY_TERMINATOR = [
    *("e02-fitted", "e02-removed", "e02-bench"),
    "e04",
    *("e06-low", "e06-high", "e06-diff", "e07-claim", "e07-dm1", "e07-errors"),
    *("e08-pointer", "e08-digits", "e09-coolant", "e09-oil"),
    *("e10-dashes", "e10-held", "e10-back"),
    "e11",
]
"""R70 is on CAN, which feeds nothing: the resistances of the bus, the first power, the bus itself, all that is shown of
its messages, and the codes of the bare bench (one of them tells that the bus is silent). Supply input, rails, ripple,
J6, K1, buttons, display and low line prove other blocks and stand."""

STALE_BY_PLUG = ["e02-fitted", "e02-removed"]
"""J5 is on CAN too, but only these two were walked since R70; all else of the bus is stale already."""

STALE_BY_JOINT = ["e02-fitted", "e02-removed", "e02-bench", "e04", "e07-errors"]
"""L5 is on CAN: the three resistances, the first power and the count of errors, all walked since J5 was cleaned."""


async def test_a_wet_bus_and_a_fault_of_the_bench_that_is_none_of_the_unit() -> None:
    rig = Rig(FILE.read_text(encoding="utf-8"))
    bench = await arrived(rig)
    await found_as_the_owner_says(rig, bench)
    await terminator_renewed(rig, bench)
    await plug_cleaned(rig, bench)
    await joint_reflowed(rig, bench)
    await bench_lead_found_in_acceptance(rig, bench)
    await accepted(rig, bench)


async def arrived(rig: Rig) -> Bench:
    """The unit is taken in with its owner's words, which are two symptoms of the sequence."""
    bench = await rig.job(serial="Q7-77777", complaint=COMPLAINT)
    await rig.do(bench, MapComplaint("t1", ("no-engine-data", "false-alarm")))
    assert bench.job.facts.complaint == COMPLAINT
    return bench


async def found_as_the_owner_says(rig: Rig, bench: Bench) -> None:
    """As found: the bus fails without a drop of water, and the alarm's cause is heard at the time-out."""
    await begin(rig, bench, "as-found")
    while (step := next((one.step.id for one in plan(bench.job) if one.step.id not in NOT_AS_FOUND), None)) is not None:
        await tried(rig, bench, step, AS_FOUND.get(step), note=HEARD if step == "e10-held" else "")
    await end(rig, bench)
    assert failing(bench.job, 1) == ["e02-fitted", "e02-removed", "e02-bench", "e07-errors"]
    assert sentence_of(bench.job, "e02-fitted").startswith("8.4 kΩ")
    assert bench.job.runs[-1].outcome == "complaint reproduced"


async def terminator_renewed(rig: Rig, bench: Bench) -> None:
    """The terminator reads as it should again; without JP1 the crust between the pins is what still leaks."""
    await rig.do(bench, LogRework("t1", ("CAN",), ("R70",), "replaced", "Open: JP1 makes no difference"))
    assert newly_stale(bench.job) == STALE_BY_TERMINATOR
    assert_arrival_stands(bench.job)
    await begin(rig, bench, "retest")
    await tried(rig, bench, "e02-fitted", ReadingAnswer(("118.3 Ω",)))
    await tried(rig, bench, "e02-removed", ReadingAnswer((LEAKS,)))
    await end(rig, bench)
    assert failing(bench.job, 2) == ["e02-removed"]


async def plug_cleaned(rig: Rig, bench: Bench) -> None:
    """Nothing leaks any more; powered, the errors come when the cable is moved."""
    await rig.do(bench, LogRework("t1", ("CAN",), ("J5",), "cleaned", "Green crust between pins; cleaned, coated"))
    assert newly_stale(bench.job) == STALE_BY_PLUG
    assert_arrival_stands(bench.job)
    await begin(rig, bench, "retest")
    for step in ("e02-fitted", "e02-removed", "e02-bench", "e04"):
        await tried(rig, bench, step)
    await tried(rig, bench, "e07-errors", CountAnswer(12), note="only while the cable of J5 is moved")
    await end(rig, bench)
    assert failing(bench.job, 3) == ["e07-errors"]


async def joint_reflowed(rig: Rig, bench: Bench) -> None:
    """The third entry on the same block; now the bus holds while its cable is moved."""
    await rig.do(bench, LogRework("t1", ("CAN",), ("L5",), "reflowed", "Ring crack at one pin, opens when it is moved"))
    assert newly_stale(bench.job) == STALE_BY_JOINT
    assert_arrival_stands(bench.job)
    await begin(rig, bench, "retest")
    for step in ("e02-fitted", "e02-removed", "e02-bench", "e04", "e07-errors"):
        await tried(rig, bench, step)
    await end(rig, bench)
    assert failing(bench.job, 4) == []


async def bench_lead_found_in_acceptance(rig: Rig, bench: Bench) -> None:
    """A code too many is a fail; it is taken off the unit only with the bench's fault named and shown gone."""
    await begin(rig, bench, "acceptance")
    await walk(rig, bench, until="e11")
    await tried(rig, bench, "e11", CodesAnswer((*BARE_BENCH, "SPN158-FMI4")))
    assert "SPN158-FMI4 present that must be absent" in blocking(bench)["e11"]
    number = bench.job.attempts[-1].number
    await rig.do(bench, VoidAttempt("t1", number, "The bench's supply lead, not the panel"))
    assert "SPN158-FMI4" in blocking(bench)["e11"], "a reason alone takes no fail away"
    cause, gone = "Supply lead drops 1.9 V at 0.17 A", "New lead: 23.9 V at J1 with 24.0 V at the supply"
    await rig.do(bench, VoidAttempt("t1", number, "The bench's supply lead, not the panel", cause, gone))
    await tried(rig, bench, "e11", CodesAnswer(BARE_BENCH), note="with the new supply lead")
    assert unexplained(bench.job, bench.job.sequence.step("e11")) is None, "the unit never failed"
    assert "e11" not in blocking(bench)
    voided = next(one for one in bench.job.attempts if one.number == number)
    assert (voided.judgement.verdict, voided.void is not None) == ("fail", True), "it stays readable"


async def accepted(rig: Rig, bench: Bench) -> None:
    """Damp and half an hour's quiet pass, everything is put back, and only the burn-in stands against the door."""
    await walk(rig, bench)
    await end(rig, bench)
    damp = [(one.step, one.judgement.verdict) for one in bench.job.attempts if one.step.startswith("e17")]
    assert damp == [("e17-errors", "pass"), ("e17-after", "pass")]
    assert {"Damp bag off J5, J5 blown dry", "Dummy sender off J6"} <= {it.words for it in bench.job.fitted}
    for it in bench.job.fitted:
        await rig.do(bench, UndoChange("t1", it.change, "put back and looked at"))
    assert [one.sentence for one in blockers(bench.job, bench.outside(), bench.moment())] == [
        "Eight hours with a simulated engine: burn-in not done."
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
    look = counting(job, job.sequence.step("e01"))
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

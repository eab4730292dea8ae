"""Is the kiln board's story told as it happened: welded contact, cold zone, relays renewed, a terminal retightened?

The walk is made of functions that take the rig and the bench, one a visit to the bench, so that a test may stop after
any of them and another may go on from there. A table names the steps whose results one event made worthless, in the
order in which they were tried; each was worked out by hand from the board's blocks:

MAINS feeds SMPS; SMPS feeds LOGIC, RELAY and SAFE; LOGIC feeds RELAY, SAFE, THERM and UI; RELAY feeds SAFE.
"""

from dataclasses import replace
from pathlib import Path
from typing import Final

import hand
from rig import Rig

from passcheck.bench.bench import Bench
from passcheck.job import commands
from passcheck.job.answers import Answer, CountAnswer, ReadingAnswer, TableAnswer
from passcheck.job.gate import blockers
from passcheck.job.plan import plan
from passcheck.job.power import told
from passcheck.job.staleness import call, stale_by
from passcheck.job.standing import counting
from passcheck.sequence.model import Step

BOARD: Final = Path(__file__).parent.parent.parent / "sequences" / "ek-8.yaml"
COMPLAINT: Final = "Bottom left stays cold, and it cooked one load."
SERIAL: Final = "KQ30417"
LEAD: Final = "k9"  # authorised for hazardous-live work
SECOND: Final = "t2"  # within call

UNPOWERED: Final = ("b01", "b02-c3", "b02-cx1", "b03", "b04", "b05-12v", "b05-5v", "b06-contact", "b06-coil")
ON_12_V: Final = (
    *("b07", "b08-contact", "b08-pull-in", "b08-release", "b08-opens"),
    *("b09", "b10-sw1", "b10-sw2", "b11-probe", "b11-open"),
    *("b12-drop", "b12-latch", "b19-bench", "b19-probe"),
)
ON_MAINS: Final = (
    *("b13-current", "b13-lamp", "b14-12v", "b14-5v", "b15", "b16-low", "b16-high"),
    *(f"b17-zone{zone}" for zone in range(1, 9)),
    *("b20-rise", "b18-pins", "b18-c3"),
)
RELAYS_AND_LOOP: Final = (
    *("b06-contact", "b06-coil", "b07", "b08-contact", "b08-pull-in", "b08-release", "b08-opens"),
    *("b12-drop", "b12-latch"),
)
"""What a look at the relays asks for without mains: their own steps, and the door loop that their driver shares."""

RELAYS_RENEWED: Final = RELAYS_AND_LOOP
"""K1 to K8 renewed (RELAY, which feeds SAFE), after an as-found run that mains never entered.

- b06-contact, b06-coil: before-power checks that prove RELAY.
- b07: proves RELAY, and is a first power-up besides.
- the four of b08: prove RELAY.
- b12-drop, b12-latch: prove SAFE alone, which RELAY feeds, because U5 drives K9 as well.

What stays: b01 is how the unit came in and never goes stale; b02 to b05, b09 to b11 and b19 prove MAINS, SMPS, LOGIC,
UI or THERM, none of which RELAY feeds.
"""

TERMINAL_RETIGHTENED: Final = (
    *RELAYS_AND_LOOP,
    *("b13-current", "b13-lamp", "b17-zone1", "b17-zone2", "b17-zone3"),
)
"""The terminal of zone 3 retightened (RELAY again), after the retest of the relays and half of the acceptance.

- the nine of the retest, as before: tried anew since the relays were renewed, and worthless once more.
- b13-current, b13-lamp: prove MAINS and SMPS, but they are the first power-up, which every rework asks for again.
- b17-zone1, b17-zone2: passed, and prove RELAY; b17-zone3: the fail that led here.

What stays: the arrival, and of the acceptance so far b02 to b05, b09 to b11, b19, and b14 to b16, which prove SMPS and
LOGIC. The zones 4 to 8 and what comes after them weren't tried yet.
"""


def kiln_rig() -> Rig:
    """A bench that knows the kiln board."""
    return Rig(BOARD.read_text(encoding="utf-8"))


async def arrived(rig: Rig) -> Bench:
    """The board is taken in with its owner's words, and they are matched to two symptoms."""
    bench = await rig.job(serial=SERIAL, complaint=COMPLAINT)
    return await rig.do(bench, commands.MapComplaint("t1", ("zone-cold", "never-stops"), ("all eight zones on",)))


async def confirmed(rig: Rig, bench: Bench) -> None:
    """The as-found run: K5 is welded, K3 pulls in late, everything on 12 V is walked, and mains stays out."""
    found: dict[str, Answer] = {
        "b06-contact": shows(bench, "b06-contact", K5="0.2 Ω"),
        "b08-pull-in": shows(bench, "b08-pull-in", K3="11.4 V", K5="0.0 V"),
        "b08-release": shows(bench, "b08-release", K5="0.0 V"),
        "b08-opens": CountAnswer(7),
    }
    await rig.do(bench, hand.start(bench.job, "as-found", LEAD, SECOND))
    for step in (*UNPOWERED, *ON_12_V):
        await tried(rig, bench, step, found.get(step))
    await rig.make_safe(bench, LEAD)


async def relays_renewed(rig: Rig, bench: Bench) -> None:
    """The owner agrees; one entry renews the whole group, another says that its driver was looked at."""
    await rig.do(
        bench,
        commands.AgreeOwner("t1", "K1 to K8 renewed, U5 checked", "the owner, by telephone"),
        commands.LogRework(
            "t1",
            ("RELAY",),
            tuple(f"K{number}" for number in range(1, 9)),
            "replaced",
            "K5 welded, K3 pulls in late; the others switched as often",
            part_number="12 V coil, 16 A contact, lot 31-07",
        ),
    )
    rig.clock.pass_time(minutes=10)
    inspected = commands.LogRework("t1", ("RELAY",), ("U5",), "inspected", "no output leaks, joints whole")
    await rig.do(bench, inspected)


async def relays_retested(rig: Rig, bench: Bench) -> None:
    """What the rework made worthless is tried again without mains, and passes."""
    rig.clock.pass_time(minutes=40)
    await rig.do(bench, hand.start(bench.job, "retest", LEAD, SECOND))
    for step in RELAYS_AND_LOOP:
        await tried(rig, bench, step)
    await rig.make_safe(bench, LEAD)
    await rig.do(bench, commands.CloseRun(LEAD))


async def zone_3_runs_hot(rig: Rig, bench: Bench) -> None:
    """Acceptance from the top, to the load on zone 3, whose terminal rises by 52 K."""
    await rig.do(bench, hand.start(bench.job, "acceptance", LEAD, SECOND))
    await walk(rig, bench, before="b17-zone3")
    await tried(rig, bench, "b17-zone3", ReadingAnswer(("52 K",)))
    await rig.make_safe(bench, LEAD)
    await rig.do(bench, commands.CloseRun(LEAD))


async def terminal_retightened(rig: Rig, bench: Bench) -> None:
    """The screw of zone 3 was loose after the relays were changed."""
    rig.clock.pass_time(minutes=20)
    adjusted = commands.LogRework("t1", ("RELAY",), ("K3",), "adjusted", "terminal screw of zone 3 was loose")
    await rig.do(bench, adjusted)


async def accepted(rig: Rig, bench: Bench) -> None:
    """Acceptance to its end: zone 3 rises by 31 K, all else passes, the papers are given, all is put back."""
    await rig.do(bench, hand.start(bench.job, "acceptance", LEAD, SECOND))
    await walk(rig, bench, before="b17-zone3")
    await tried(rig, bench, "b17-zone3", ReadingAnswer(("31 K",)))
    await walk(rig, bench)
    await rig.make_safe(bench, LEAD)
    await rig.do(bench, commands.CloseRun(LEAD))
    await put_back(rig, bench)


async def put_back(rig: Rig, bench: Bench) -> None:
    """Whatever the steps fitted or set comes off again, one by one."""
    for fitted in bench.job.fitted:
        await rig.do(bench, commands.UndoChange(LEAD, fitted.change, "seen off the unit"))


async def told_until_renewed(rig: Rig) -> Bench:
    """The story from the door to the renewed relays."""
    bench = await arrived(rig)
    await confirmed(rig, bench)
    await rig.do(bench, commands.CloseRun(LEAD))
    await relays_renewed(rig, bench)
    return bench


async def told_until_retightened(rig: Rig) -> Bench:
    """The story from the door to the terminal that was made tight."""
    bench = await told_until_renewed(rig)
    await relays_retested(rig, bench)
    await zone_3_runs_hot(rig, bench)
    await terminal_retightened(rig, bench)
    return bench


async def told_until_accepted(rig: Rig) -> Bench:
    """The whole story from the door to the last step before burn-in."""
    bench = await told_until_retightened(rig)
    await accepted(rig, bench)
    return bench


async def walk(rig: Rig, bench: Bench, before: str | None = None) -> None:
    """Walk what the run still asks for, in the order of the sequence, up to a step that is left to the test."""
    asked = {planned.step.id for planned in plan(bench.job)}
    for step in bench.job.sequence.steps:
        if step.id == before:
            return
        if step.id in asked:
            await tried(rig, bench, step.id)


async def tried(rig: Rig, bench: Bench, step_id: str, answer: Answer | None = None) -> None:
    """Bring power and cautions to the step, take its time, and answer it; an answer of the test's own is given twice.

    A step that asks for a photo or a witness gets one.
    """
    step = bench.job.sequence.step(step_id)
    states = told(bench.job, bench.moment())
    if any(state == "unknown" or (state == "on" and name != step.power) for name, state in states.items()):
        await rig.make_safe(bench, LEAD)
    await rig.do(bench, *hand.answers_to_cautions(bench.job, step_id, LEAD, bench.moment()))
    if hand.powered(bench.job, step_id) and told(bench.job, bench.moment())[step.power] != "on":
        await rig.do(bench, hand.energise(bench.job, step_id, LEAD))
    rig.clock.pass_time(minutes=float(step.minutes))
    await rig.do(bench, attempt(step, answer))


def attempt(step: Step, answer: Answer | None) -> commands.Attempt:
    """A try at a step with the papers that it asks for."""
    return commands.Attempt(
        LEAD,
        step.id,
        answer or hand.good(step),
        again=answer,
        note="as written in the step" if step.note else "",
        photos=(f"photos/{step.id}.jpg",) if step.photo else (),
        second=SECOND if step.witness else None,
    )


def shows(bench: Bench, step_id: str, **shown: str) -> TableAnswer:
    """A table as a good unit answers it, but for the rows of the relays named."""
    step = bench.job.sequence.step(step_id)
    answer = hand.good(step)
    assert isinstance(answer, TableAnswer)
    outputs = list(answer.outputs)
    for relay, output in shown.items():
        outputs[int(relay[1:]) - 1] = output
    return replace(answer, outputs=tuple(outputs))


def made_stale(bench: Bench, event: str) -> tuple[str, ...]:
    """Steps of the attempts that this event made worthless, in the order they were tried."""
    spoiled = ((a, stale_by(bench.job, a)) for a in bench.job.attempts)
    return tuple(a.step for a, change in spoiled if change is not None and call(change) == event)


def verdicts(bench: Bench, *steps: str) -> list[str]:
    """The verdict of the latest attempt at each of these steps."""
    return [[a.judgement.verdict for a in bench.job.attempts if a.step == step][-1] for step in steps]


def sentences_against(bench: Bench) -> list[str]:
    """What stands against the sign-off, as everybody reads it."""
    return [one.sentence for one in blockers(bench.job, bench.outside(), bench.moment())]


async def test_a_welded_contact_keeps_every_step_from_mains_and_none_from_twelve_volts() -> None:
    rig = kiln_rig()
    bench = await arrived(rig)
    await confirmed(rig, bench)
    assert verdicts(bench, "b06-contact", "b06-coil") == ["fail", "pass"]
    assert [a.step for a in bench.job.attempts if a.step in ON_12_V] == list(ON_12_V), "12 V was allowed throughout"
    on_mains = tuple(s.id for s in bench.job.sequence.steps if s.power == "mains" and s.kind != "soak")
    assert on_mains == ON_MAINS
    for step in on_mains:
        for command in (hand.energise(bench.job, step, LEAD), hand.passing(bench.job, step, LEAD)):
            refusal = await rig.refused(bench, command)
            assert (refusal.code, refusal.lift) == ("needs", "Walk it first."), step
            assert refusal.sentence.startswith("Contacts open, coils off has not passed"), step


async def test_the_complaint_is_kept_in_the_owners_words_and_reproduced_without_mains() -> None:
    rig = kiln_rig()
    bench = await arrived(rig)
    await confirmed(rig, bench)
    await rig.do(bench, commands.CloseRun(LEAD))
    assert bench.job.facts.complaint == "Bottom left stays cold, and it cooked one load."
    assert bench.job.symptoms == ("zone-cold", "never-stops")
    failed = [a.step for a in bench.job.attempts if a.judgement.verdict == "fail"]
    assert failed == ["b06-contact", "b08-pull-in", "b08-release", "b08-opens"]
    late = next(a for a in bench.job.attempts if a.step == "b08-pull-in")
    assert "K3 closes: 11.4 V" in late.judgement.sentence
    assert bench.job.runs[-1].outcome == "complaint reproduced"


async def test_renewed_relays_make_their_steps_and_the_door_loop_stale() -> None:
    bench = await told_until_renewed(kiln_rig())
    assert made_stale(bench, "rework 1") == RELAYS_RENEWED
    assert made_stale(bench, "rework 2") == (), "U5 is in the same block: nothing was left for it to spoil"
    arrival = counting(bench.job, bench.job.sequence.step("b01"))
    assert arrival is not None, "how the unit came in never goes stale"
    assert arrival.purpose == "as-found"


async def test_the_renewed_group_is_one_entry_with_every_part_ticked() -> None:
    bench = await told_until_renewed(kiln_rig())
    first, second = bench.job.reworks
    assert (first.parts, first.action) == (("K1", "K2", "K3", "K4", "K5", "K6", "K7", "K8"), "replaced")
    assert (second.parts, second.action) == (("U5",), "inspected")
    assert [one for one in sentences_against(bench) if "left old" in one] == []


async def test_mains_stays_out_until_the_renewed_contacts_were_seen_open() -> None:
    rig = kiln_rig()
    bench = await told_until_renewed(rig)
    await rig.do(bench, hand.start(bench.job, "retest", LEAD, SECOND))
    refusal = await rig.refused(bench, hand.energise(bench.job, "b13-current", LEAD))
    assert refusal.sentence.startswith("Contacts open, coils off has not passed")
    await rig.do(bench, commands.CloseRun(LEAD))
    await relays_retested(rig, bench)
    await rig.do(bench, hand.start(bench.job, "acceptance", LEAD, SECOND))
    await tried(rig, bench, "b13-current")
    assert verdicts(bench, "b13-current") == ["pass"]


async def test_a_loose_terminal_found_under_load_asks_for_the_relays_and_the_first_power_again() -> None:
    bench = await told_until_retightened(kiln_rig())
    assert verdicts(bench, "b17-zone2", "b17-zone3") == ["pass", "fail"]
    assert made_stale(bench, "rework 3") == TERMINAL_RETIGHTENED
    assert made_stale(bench, "rework 1") == RELAYS_RENEWED, "what was worthless before stays so by its own event"


async def test_as_left_only_the_burn_in_stands_between_the_kiln_board_and_the_door() -> None:
    bench = await told_until_accepted(kiln_rig())
    zone_3 = [(a.judgement.verdict, a.judgement.value) for a in bench.job.attempts if a.step == "b17-zone3"]
    assert zone_3 == [("fail", "52"), ("pass", "31")]
    against = blockers(bench.job, bench.outside(), bench.moment())
    assert [one.step for one in against] == ["b20"], sentences_against(bench)


async def test_mains_is_entered_by_a_different_fact_each_time() -> None:
    bench = await told_until_accepted(kiln_rig())
    asked = [it.facts.asked for it in bench.job.acknowledged if it.facts.caution == "mains-section"]
    assert len(asked) == 2, "mains was told on once in each acceptance run"
    assert len(set(asked)) == 2

"""A newcomer who types what the panel shows passes a good unit, finds a broken one, and learns no true value."""

import dataclasses
from pathlib import Path

import hand
import pytest
from rig import Rig
from unit_shown import answer_shown

from passcheck.bench.bench import Bench
from passcheck.job import commands
from passcheck.job.instruments import instrument_for
from passcheck.job.judging import instrument_role
from passcheck.job.power import told
from passcheck.practice import seen
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.fault import Effect, Fault, When
from passcheck.practice.fault_list import FaultList
from passcheck.practice.panel import panel_for
from passcheck.practice.seen import Hands, Panel
from passcheck.sequence.model import Sequence, Step

SHEETS = Path(__file__).parents[2] / "sequences"
BROKEN = (
    ("ov-24p", "a02", Effect("a02", "reads", 3.2)),
    ("ov-24p", "a05", Effect("a05", "limit light", seen="on")),
    ("ov-24p", "a06", Effect("TP3 to TP0", "reads", 4.4)),
    ("ov-24p", "a08", Effect("a08", "ripple", 0.142)),
    ("ov-24p", "a09-restarts", Effect("a09-restarts", "counts", 2)),
    ("ov-24p", "a10", Effect("a10", "falls to", seen="E")),
    ("ov-24p", "a11", Effect("DS3", "dark")),
    ("ov-24p", "a11", Effect("a11", "lags", 1.8)),
    ("ov-24p", "a12", Effect("DS12", "flickers")),
    ("ov-24p", "a13-time", Effect("a13-time", "delays", 6.0)),
    ("ov-24p", "a14-fuel", Effect("fuel (M1)", "slow", 2.0)),
    ("ov-24p", "a14-fuel", Effect("fuel (M1)", "stalls", 0.6, nth=2)),
    ("ov-24p", "a15", Effect("a15", "offset", -9, nth=3)),
    ("ov-24p", "a17-sw4", Effect("SW4", "bounces", 0.3)),
    ("ov-24p", "a17-sw4", Effect("SW4", "dead spots", 0.6)),
    ("ov-24p", "a18-open", Effect("F31", "missing")),
    ("ov-24p", "a18-plug", Effect("F31", "stuck")),
    ("ov-24p", "a18-plug", Effect("F35", "mute")),
    ("ov-24p", "a19-segments", Effect("a19-segments", "looks", nth=3, seen="dark corner")),
    ("th-12", "d08-width", Effect("d08-width", "gives", 0.02, nth=4)),
    ("th-12", "d10-lock", Effect("d10-lock", "delays", 5.0)),
)


class Newcomer:
    """Walks a sheet by the panel."""

    def __init__(self, rig: Rig, bench: Bench, practice: PracticeBench) -> None:
        self.rig, self.bench, self.practice = rig, bench, practice

    def look(self, step: Step, hands: Hands, meter: str | None = None) -> Panel:
        job, role = self.bench.job, instrument_role(step)
        used = None if meter is None or role is None else instrument_for(job, role, meter, self.bench.outside())
        assert not isinstance(used, commands.Refusal)
        return panel_for(self.practice, job, step, self.bench.moment(), hands, used)

    async def tries(self, step: Step, meter: str | None = None) -> str:
        """Type what the panel shows, twice where it is asked again; gives the verdict."""
        answer = answer_shown(step, lambda hands: self.look(step, hands, meter))
        attempt = commands.Attempt("t1", step.id, answer, again=answer, note="seen", instrument=meter)
        await self.rig.do(self.bench, attempt)
        return self.bench.job.attempts[-1].judgement.verdict

    async def walks_to(self, wanted: str) -> Step:
        """Everything that stands before a step passes; then it may be tried."""
        seen_before: set[tuple[str, str]] = set()
        while planned := hand.still_open(self.bench.job, seen_before):
            if planned.step.id == wanted:
                break
            await self.rig.walk_step(self.bench, planned.step.id, under=planned.under)
        await self.made_ready(wanted)
        return self.bench.job.sequence.step(wanted)

    async def made_ready(self, wanted: str) -> None:
        """Cautions answered, power told on."""
        step = self.bench.job.sequence.step(wanted)
        states = told(self.bench.job, self.bench.moment())
        if any(state != "off" for name, state in states.items() if name != step.power):
            await self.rig.make_safe(self.bench)
        await self.rig.do(self.bench, *hand.answers_to_cautions(self.bench.job, wanted))
        if hand.powered(self.bench.job, wanted) and told(self.bench.job, self.bench.moment())[step.power] != "on":
            await self.rig.do(self.bench, hand.energise(self.bench.job, wanted))


async def newcomer(board: str, *effects: Effect) -> Newcomer:
    rig = Rig((SHEETS / f"{board}.yaml").read_text("utf-8"))
    sequence = rig.boards.read(rig.boards.listed()[0].text)

    def lists(of: Sequence) -> FaultList:
        block = next(iter(of.blocks))
        return FaultList(of.sequence, (), (), (Fault("broken", "it broke", block, (), effects),) if effects else ())

    bench = await rig.job(serial=hand.serial(sequence))
    await rig.do(bench, hand.start(bench.job))
    return Newcomer(rig, bench, PracticeBench(lists))


@pytest.mark.parametrize("board", ["ov-24p", "th-12"])
async def test_what_the_panel_shows_of_a_good_unit_passes_every_step_of_the_sheet(board: str) -> None:
    one = await newcomer(board)
    walked: set[tuple[str, str]] = set()
    verdicts = {}
    while planned := hand.still_open(one.bench.job, walked):
        await one.made_ready(planned.step.id)
        verdict = await one.tries(planned.step)
        # A hand multimeter can't decide everything; its better is taken then, as at any bench.
        verdicts[planned.step.id] = await one.tries(planned.step, "M9") if verdict == "in doubt" else verdict
    assert len(verdicts) > 20
    assert {step: verdict for step, verdict in verdicts.items() if verdict != "pass"} == {}


@pytest.mark.parametrize(("board", "step", "effect"), BROKEN, ids=lambda it: it.what if isinstance(it, Effect) else it)
async def test_what_the_panel_shows_of_a_broken_unit_fails_its_step(board: str, step: str, effect: Effect) -> None:
    one = await newcomer(board, effect)
    assert await one.tries(await one.walks_to(step)) == "fail"


async def test_a_unit_that_takes_too_long_to_come_back_is_seen_stopped_until_then_and_fails() -> None:
    one = await newcomer("ov-24p", Effect("a10", "falls to", seen="C"), Effect("a10", "recovers in", 4.5))
    step = await one.walks_to("a10")
    assert one.look(step, Hands(1, 4.0)).found == (("the unit", "has stopped"),)
    assert await one.tries(step) == "fail"


async def test_an_answer_stands_only_after_its_delay_and_its_time_no_sooner() -> None:
    one = await newcomer("th-12", Effect("d10-lock", "delays", 1.0))
    step = await one.walks_to("d10-lock")
    before, early, late = (one.look(step, hands) for hands in (Hands(), Hands(1, 0.5), Hands(1, 1.5)))
    assert [panel.lamps[0].state for panel in (before, early, late)] == ["dark", "dark", "LIT"]
    assert (before.meters, early.meters) == ((), ())
    assert early.next_s == pytest.approx(1.0, rel=0.1)
    assert late.next_s is None
    assert len(late.meters) == 1


async def test_lamps_light_after_power_on_and_go_out_again() -> None:
    one = await newcomer("ov-24p")
    step = await one.walks_to("a11")
    states = [one.look(step, Hands(1, at_s)).lamps[0].state for at_s in (0.05, 1.2, 3.9)]
    assert states == ["dark", "LIT", "dark"]
    assert one.look(step, Hands()).act == "switch off, wait, switch on"


async def test_each_lamp_alone_is_lit_in_turn_and_its_neighbours_stay_dark() -> None:
    one = await newcomer("ov-24p")
    step = await one.walks_to("a12")
    for acts in (1, 5, 12, 13):
        lit = [lamp.ref for lamp in one.look(step, Hands(acts)).lamps if lamp.state == "LIT"]
        assert lit == [f"DS{(acts - 1) % 12 + 1}"]


async def test_the_pointer_runs_up_and_down_and_its_times_come_when_it_rests() -> None:
    one = await newcomer("ov-24p")
    step = await one.walks_to("a14-fuel")
    shares = []
    for at_s in (0.0, 1.0, 2.9, 4.0, 7.0):
        dial = one.look(step, Hands(1, at_s)).dial
        assert dial is not None
        shares.append(dial.pointer)
    assert shares[0] == shares[-1] == 0
    assert 0 < shares[1] < 1
    assert 0 < shares[3] < 1
    assert shares[2] == 1
    assert not one.look(step, Hands(1, 4.0)).meters
    assert [name for name, _value in one.look(step, Hands(1, 7.0)).meters] == ["T1 up", "T1 down"]


async def test_an_eye_reads_a_pointer_to_its_scale_and_no_finer() -> None:
    one = await newcomer("ov-24p")
    step = await one.walks_to("a15")
    dial = one.look(step, Hands(1)).dial
    assert dial is not None
    assert dial.reads.removesuffix(" %").removeprefix("-").isdigit()
    assert [text for _share, text in dial.marks] == ["E", "¼", "½", "¾", "F"]


async def test_without_its_supply_the_unit_shows_nothing_and_the_bench_says_so() -> None:
    one = await newcomer("ov-24p")
    panel = one.look(one.bench.job.sequence.step("a11"), Hands(1, 1.0))
    assert panel.supply == ("battery off, 0 V",)
    assert (panel.lamps, panel.meters, panel.act) == ((), (), "")


async def test_the_supply_line_tells_volts_amperes_and_the_limit_light() -> None:
    one = await newcomer("ov-24p", Effect("a05", "limit light", seen="on"))
    await one.walks_to("a06")
    line = one.look(one.bench.job.sequence.step("a06"), Hands()).supply[0]
    assert line.startswith("battery on 24.0 V, ")
    assert line.endswith(", limit light ON")


async def test_what_cautions_and_make_safe_ask_for_stands_there_with_all_its_digits() -> None:
    one = await newcomer("ov-24p", Effect("TP9 to TP0", "holds charge", 4.0))
    step = await one.walks_to("a06")
    facts = dict(one.look(step, Hands()).facts)
    assert facts["Current limit in the limit preset display"] == "0.30 A"
    await one.rig.do(one.bench, commands.TellPower("t1", "off", "told at the bench"))
    one.rig.clock.pass_time(seconds=10)
    held = dict(panel_for(one.practice, one.bench.job, None, one.bench.moment()).facts)["tester at TP9 to TP0"]
    assert float(held.removesuffix(" V")) > 2


async def test_a_fault_that_shows_only_warm_is_not_to_be_seen_cold() -> None:
    one = await newcomer("ov-24p", Effect("fuel (M1)", "offset", -30, when=When(warm_min=15)))
    step = await one.walks_to("a16")
    cold = one.look(step, Hands()).found
    one.rig.clock.pass_time(minutes=20)
    assert cold != one.look(step, Hands()).found


async def test_the_panel_holds_words_and_shares_and_no_value_behind_a_display() -> None:
    numbers = {
        (kind.__name__, member.name)
        for kind in (Panel, seen.Dial, seen.LampSeen, seen.ButtonSeen)
        for member in dataclasses.fields(kind)
        if "float" in str(member.type)
    }
    assert numbers == {("Dial", "marks"), ("Dial", "pointer"), ("Panel", "next_s")}

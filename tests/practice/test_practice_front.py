"""The front has everything that its sequence names, once, and tells nothing that the step at hand doesn't."""

import dataclasses
from collections.abc import Iterator
from pathlib import Path

import hand
import pytest
from rig import Rig

from passcheck.bench.bench import Bench
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.fault import Effect, Fault
from passcheck.practice.fault_list import FaultList
from passcheck.practice.front import DARK, DOWN_S, NO_FIGURES, NOT_READ, Front, front_for
from passcheck.practice.front_parts import FrontParts, front_parts, keys_pressed
from passcheck.practice.panel import panel_for
from passcheck.practice.seen import Hands
from passcheck.sequence import model
from passcheck.sequence.load import read_sequence
from passcheck.sequence.model import Sequence, Step

SHEETS = Path(__file__).parents[2] / "sequences"
BOARDS = sorted(path.stem for path in SHEETS.glob("*.yaml"))
EVERYTHING = (
    Effect("DS3", "dark"),
    Effect("DS12", "flickers"),
    Effect("fuel (M1)", "stalls", 0.6, nth=2),
    Effect("fuel (M1)", "offset", -30),
    Effect("SW4", "dead spots", 0.6),
    Effect("F31", "stuck"),
    Effect("F35", "mute"),
    Effect("a10", "falls to", seen="E"),
)


def sheet(board: str) -> Sequence:
    return read_sequence((SHEETS / f"{board}.yaml").read_text("utf-8"), board)


def names(front: Front) -> list[str]:
    return [
        *(dial.name for dial in front.dials),
        *(name for name, _value in front.figures),
        *(lamp.ref for lamp in front.lamps),
        *(key.name for key in front.keys),
    ]


def named_in(steps: tuple[Step, ...]) -> Iterator[str]:
    """What the steps of a sheet look at, run or press."""
    for step in steps:
        match step:
            case model.SweepStep(gauge=gauge) | model.MarksStep(gauge=gauge):
                yield gauge
            case model.LampsStep(lamps=lamps):
                yield from (lamp.ref for lamp in lamps)
            case model.PressesStep(press=press):
                yield from press
            case _:
                pass


class AtStep:
    """A unit with a step at hand."""

    def __init__(self, rig: Rig, bench: Bench, practice: PracticeBench) -> None:
        self.rig, self.bench, self.practice = rig, bench, practice

    def front(self, step: str | None, hands: Hands | None = None) -> Front:
        job, hands = self.bench.job, hands or Hands()
        here = None if step is None else job.sequence.step(step)
        return front_for(job, here, panel_for(self.practice, job, here, self.bench.moment(), hands), hands)

    async def walks_to(self, wanted: str) -> None:
        """Everything before a step passes; then the unit has its supply."""
        walked: set[tuple[str, str]] = set()
        while (planned := hand.still_open(self.bench.job, walked)) and planned.step.id != wanted:
            await self.rig.walk_step(self.bench, planned.step.id, under=planned.under)
        await self.rig.do(self.bench, *hand.answers_to_cautions(self.bench.job, wanted))


async def unit(board: str, *effects: Effect, walked_to: str = "") -> AtStep:
    rig = Rig((SHEETS / f"{board}.yaml").read_text("utf-8"))

    def lists(of: Sequence) -> FaultList:
        block = next(iter(of.blocks))
        return FaultList(of.sequence, (), (), (Fault("broken", "it broke", block, (), effects),) if effects else ())

    bench = await rig.job(serial=hand.serial(rig.boards.read(rig.boards.listed()[0].text)))
    await rig.do(bench, hand.start(bench.job))
    one = AtStep(rig, bench, PracticeBench(lists))
    if walked_to:
        await one.walks_to(walked_to)
    return one


@pytest.mark.parametrize("board", BOARDS)
async def test_every_gauge_lamp_and_button_that_a_sheet_names_is_on_the_front_once(board: str) -> None:
    shown = names((await unit(board)).front(None))
    assert sorted(shown) == sorted(set(named_in(sheet(board).steps)))


@pytest.mark.parametrize("board", BOARDS)
async def test_codes_are_shown_by_the_boards_that_have_any(board: str) -> None:
    has_codes = any(isinstance(step, model.CodesStep) for step in sheet(board).steps)
    assert ((await unit(board)).front(None).codes is not None) == has_codes


@pytest.mark.parametrize("board", BOARDS)
async def test_without_a_supply_all_is_dark_and_every_pointer_lies_at_its_stop(board: str) -> None:
    one = await unit(board, *(EVERYTHING if board == "ov-24p" else ()))
    for step in (None, *(step.id for step in one.bench.job.sequence.steps)):
        front = one.front(step, Hands(1, 1.0))
        assert not front.powered
        assert {lamp.state for lamp in front.lamps} <= {"dark"}
        assert {dial.pointer for dial in front.dials} <= {0.0}
        assert {value for _name, value in front.figures} | {front.codes} <= {DARK, None}
        assert not any(key.wanted or key.down for key in front.keys)


def test_the_little_irrigation_timer_has_its_five_buttons_and_no_more() -> None:
    assert front_parts(sheet("th-12").steps) == FrontParts((), (), (), ("SW1", "SW2", "SW3", "SW4", "SW5"), False)


def test_what_is_told_in_figures_has_no_pointer() -> None:
    parts = front_parts(sheet("pm-7").steps)
    assert [dial.name for dial in parts.dials] == ["engine speed (M1)"]
    assert len(parts.figures) == 3


def test_a_gauge_has_the_marks_that_are_printed_on_it_and_only_their_number_where_none_is_told() -> None:
    dials = {dial.name: dial.marks for dial in front_parts(sheet("ov-24p").steps).dials}
    assert [text for _share, text in dials["fuel (M1)"]] == ["E", "¼", "½", "¾", "F"]
    assert dials["water tank (M4)"] == ((0.0, ""), (1 / 3, ""), (2 / 3, ""), (1.0, ""))


@pytest.mark.parametrize(
    ("press", "keys"),
    [
        ("SW6", ("SW6",)),
        ("SW1 to SW3 in turn", ("SW1", "SW2", "SW3")),
        ("S4 and S12 together", ("S4", "S12")),
        ("the supply's output key", ()),
        ("pull the simulator out of J6", ()),
        ("SW6 to SW1", ()),  # a row that runs backwards names none for certain
    ],
)
def test_buttons_are_told_by_their_designators(press: str, keys: tuple[str, ...]) -> None:
    timed = sheet("ov-24p").step("a17-time")
    assert keys_pressed(timed.model_copy(update={"press": press})) == keys


def test_a_step_without_lamp_gauge_button_or_code_makes_a_blank_front() -> None:
    parts = front_parts((sheet("ov-24p").step("a02"),))
    assert parts == FrontParts((), (), (), (), False)
    assert Front("A 1").is_blank
    assert not Front("A 1", codes=NOT_READ).is_blank


async def test_a_fault_is_not_to_be_seen_on_the_front_before_its_step() -> None:
    whole, broken = await unit("ov-24p", walked_to="a06"), await unit("ov-24p", *EVERYTHING, walked_to="a06")
    for step in (None, "a06", "a07", "a08", "a09-restarts"):
        assert broken.front(step, Hands(1, 1.0)) == whole.front(step, Hands(1, 1.0))
    resting = broken.front("a06")
    assert resting.powered
    assert {lamp.state for lamp in resting.lamps} == {"dark"}
    assert {dial.pointer for dial in resting.dials} == {0.0}
    assert resting.codes == NOT_READ


async def test_each_step_shows_on_the_front_what_it_is_about_and_leaves_the_rest_as_it_was() -> None:
    one = await unit("ov-24p", *EVERYTHING, walked_to="a06")
    rest = one.front("a06")
    sweeping = one.front("a14-fuel", Hands(1, 1.0))
    assert 0 < sweeping.dials[0].pointer < 1
    assert dataclasses.replace(sweeping, dials=rest.dials) == rest
    assert sweeping.dials[1:] == rest.dials[1:]
    marked = one.front("a15", Hands(2))
    assert marked.dials[0].pointer == pytest.approx(0.2, abs=0.05)  # half full, as far as it gets with its fault
    assert marked.dials[0].marks == rest.dials[0].marks


async def test_the_lamp_that_is_walked_to_is_lit_alone_and_a_broken_one_stays_dark() -> None:
    one = await unit("ov-24p", *EVERYTHING, walked_to="a06")
    states = [one.front("a12", Hands(acts)).lamps for acts in (1, 3, 12)]
    lit = [{lamp.ref: lamp.state for lamp in lamps if lamp.state != "dark"} for lamps in states]
    assert lit == [{"DS1": "LIT"}, {}, {"DS12": "flickers"}]


async def test_the_lamp_check_lights_all_and_they_go_out_again() -> None:
    one = await unit("ov-24p", walked_to="a06")
    states = [{lamp.state for lamp in one.front("a11", Hands(1, at_s)).lamps} for at_s in (0.02, 1.2, 3.9)]
    assert states == [{"dark"}, {"LIT"}, {"dark"}]


async def test_the_button_of_the_step_is_pointed_at_and_comes_up_again_after_a_press() -> None:
    one = await unit("ov-24p", walked_to="a06")
    before, pressed, later = (
        one.front("a17-sw4", hands) for hands in (Hands(), Hands(1, 0.1), Hands(1, DOWN_S + 0.01))
    )
    assert [key.name for key in before.keys if key.wanted] == ["SW4"]
    assert [[key.name for key in front.keys if key.down] for front in (before, pressed, later)] == [[], ["SW4"], []]
    assert (before.next_s, pressed.next_s, later.next_s) == (None, DOWN_S, None)


async def test_buttons_that_are_timed_in_turn_are_pressed_one_after_another_and_round_again() -> None:
    one = await unit("ov-24p", walked_to="a06")
    down = [next(key.name for key in one.front("a17-time", Hands(acts, 0.1)).keys if key.down) for acts in range(1, 8)]
    assert down == ["SW1", "SW2", "SW3", "SW4", "SW5", "SW6", "SW1"]


async def test_codes_stand_on_the_front_as_the_memory_showed_them_last() -> None:
    one = await unit("ov-24p", Effect("F31", "stuck"), walked_to="a06")
    assert [one.front("a18-plug", Hands(acts)).codes for acts in range(3)] == ["F31", "F35", "F31"]
    assert one.front("a06").codes == NOT_READ


async def test_figures_stand_there_while_something_is_fed_and_dashes_otherwise() -> None:
    one = await unit("pm-7", walked_to="e08-digits")
    fed = dict(one.front("e08-digits", Hands(1)).figures)
    assert fed.pop("engine speed in digits (LCD)").endswith(" rpm")
    assert set(fed.values()) == {NO_FIGURES}


async def test_a_step_that_waits_for_another_supply_moves_nothing() -> None:
    one = await unit("ek-8", walked_to="b08-contact")
    assert one.front("b09", Hands(1)).lamps[0].state == "LIT"
    other = one.front("b13-lamp", Hands(1, 0.1))
    assert other.powered
    assert {lamp.state for lamp in other.lamps} == {"dark"}
    assert not any(key.down for key in other.keys)

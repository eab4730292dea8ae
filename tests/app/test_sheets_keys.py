"""The keys that work over whatever is laid on the desk: every key in words, and make safe."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

import hand
import pytest
from at_desk import at_desk, press, settle, shown
from paper_maker import MakerAtHand
from rig import Rig
from textual.screen import ModalScreen

import sequences
from passcheck.app.every_screen import load_every_screen
from passcheck.app.job_screen import JobModal
from passcheck.app.laid_over import LaidOver
from passcheck.app.screens.agreed import AgreedSlip
from passcheck.app.screens.ask_quit import AskQuit
from passcheck.app.screens.caution import CautionScreen
from passcheck.app.screens.choose_board import ChooseBoard
from passcheck.app.screens.choose_job import ChooseJob
from passcheck.app.screens.close_run import CloseRunSlip
from passcheck.app.screens.find_words import FindWords
from passcheck.app.screens.give_back import GiveBackSlip
from passcheck.app.screens.hand_over import HandOverSlip
from passcheck.app.screens.how_tried import HowTriedSlip
from passcheck.app.screens.incident import IncidentSlip
from passcheck.app.screens.instrument import InstrumentScreen
from passcheck.app.screens.jot import JotSlip
from passcheck.app.screens.keys_help import KeysHelp
from passcheck.app.screens.late_entry import LateEntrySlip
from passcheck.app.screens.learn_key import LearnKey
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.map_complaint import MapComplaintSlip
from passcheck.app.screens.no_unit import NoUnit
from passcheck.app.screens.note import NoteScreen
from passcheck.app.screens.papers import PapersSheet
from passcheck.app.screens.power_on import PowerOnScreen
from passcheck.app.screens.propose import ProposeSlip
from passcheck.app.screens.put_back import PutBackSlip
from passcheck.app.screens.revise import ReviseSlip
from passcheck.app.screens.run_start import RunStartScreen
from passcheck.app.screens.scan_both import ScanBothSheet
from passcheck.app.screens.slip import Slip
from passcheck.app.screens.soak import LookSlip, SoakSlip, StartSoakSlip
from passcheck.app.screens.supply_read import SupplyReadScreen
from passcheck.app.screens.suspects import SuspectsSlip
from passcheck.app.screens.unit_sheet import UnitSheet
from passcheck.app.screens.void import VoidSlip
from passcheck.app.screens.who import Who
from passcheck.app.screens.withdraw import Withdraw
from passcheck.app.screens.work_done import WorkDoneSheet
from passcheck.app.trying import Trying
from passcheck.bench.bench import Bench
from passcheck.sequence.model import ReadingStep, SoakStep, Step

Sheet = Callable[[Bench], ModalScreen[Any]]
BARE = (JobModal, Slip, SoakSlip)
"""What sheets are made from; never laid on the desk themselves."""


def soak_of(bench: Bench) -> SoakStep:
    step = bench.job.sequence.step("soak")
    assert isinstance(step, SoakStep)
    return step


def rail(bench: Bench) -> Step:
    return bench.job.sequence.step(sequences.RAIL)


def reading(bench: Bench) -> ReadingStep:
    step = rail(bench)
    assert isinstance(step, ReadingStep)
    return step


SHEETS: Mapping[type[ModalScreen[Any]], Sheet] = {
    AgreedSlip: AgreedSlip,
    AskQuit: lambda _: AskQuit(("battery told on",)),
    CautionScreen: lambda bench: CautionScreen(bench, ("fault-current",), dwell_s=0),
    ChooseBoard: lambda _: ChooseBoard(("OV-24P", "TH-12")),
    ChooseJob: lambda _: ChooseJob("7Q22051", ()),
    CloseRunSlip: CloseRunSlip,
    FindWords: lambda _: FindWords(),
    GiveBackSlip: GiveBackSlip,
    HandOverSlip: HandOverSlip,
    HowTriedSlip: lambda bench: HowTriedSlip(bench, rail(bench), Trying()),
    IncidentSlip: IncidentSlip,
    InstrumentScreen: lambda bench: InstrumentScreen(bench, "voltmeter"),
    JotSlip: JotSlip,
    LateEntrySlip: lambda bench: LateEntrySlip(bench, reading(bench), Trying()),
    LearnKey: lambda _: LearnKey(),
    LookSlip: lambda bench: LookSlip(bench, soak_of(bench)),
    MapComplaintSlip: MapComplaintSlip,
    NoteScreen: lambda bench: NoteScreen(bench, None),
    NoUnit: lambda _: NoUnit(),
    PapersSheet: PapersSheet,
    PowerOnScreen: lambda bench: PowerOnScreen(bench, rail(bench)),
    ProposeSlip: ProposeSlip,
    PutBackSlip: PutBackSlip,
    ReviseSlip: lambda bench: ReviseSlip(bench, sequences.sequence(revision=2), "text", "digest"),
    RunStartScreen: RunStartScreen,
    ScanBothSheet: lambda bench: ScanBothSheet(bench, MakerAtHand(Rig())),
    StartSoakSlip: lambda bench: StartSoakSlip(bench, soak_of(bench)),
    SupplyReadScreen: lambda bench: SupplyReadScreen(bench, "battery"),
    SuspectsSlip: SuspectsSlip,
    VoidSlip: lambda bench: VoidSlip(bench, bench.job.attempts[-1]),
    Who: lambda _: Who(),
    Withdraw: lambda _: Withdraw(),
    WorkDoneSheet: WorkDoneSheet,
}


def below(kind: type[object]) -> Iterator[type[object]]:
    for one in kind.__subclasses__():
        yield one
        yield from below(one)


def test_no_sheet_is_left_out_here() -> None:
    load_every_screen()
    ours = {one for one in below(ModalScreen) if one.__module__.startswith("passcheck.")}
    assert ours - set(SHEETS) == {
        LaidOver,
        *BARE,
        MakeSafeScreen,
        KeysHelp,
        UnitSheet,
    }  # the last opens in practice only


@pytest.mark.parametrize("kind", SHEETS, ids=lambda kind: kind.__name__)
async def test_over_any_sheet_f1_tells_its_keys_and_f8_makes_safe(kind: type[ModalScreen[Any]]) -> None:
    rig = Rig(sequences.with_soak())
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, sequences.GUARD))
    async with at_desk(rig) as pilot:
        sheet = SHEETS[kind](bench)
        await pilot.app.push_screen(sheet)
        pilot.app.bench = bench  # type: ignore[attr-defined]
        await settle(pilot)
        await press(pilot, "f1")
        assert isinstance(pilot.app.screen, KeysHelp)
        assert "make-safe" in shown(pilot)
        await press(pilot, "f1")
        assert pilot.app.screen is sheet
        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, MakeSafeScreen)
        await press(pilot, "f1")
        assert isinstance(pilot.app.screen, KeysHelp)
        await press(pilot, "escape", "f8", "escape")
        assert pilot.app.screen is sheet


async def test_a_question_mark_in_an_entry_is_text() -> None:
    rig = Rig()
    bench = await rig.job()
    async with at_desk(rig) as pilot:
        await pilot.app.push_screen(JotSlip(bench))
        await settle(pilot)
        await press(pilot, "question_mark")
        assert isinstance(pilot.app.screen, JotSlip)

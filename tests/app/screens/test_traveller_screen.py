"""The card of a unit on the desk: where you stand, what is struck, what is in the way, and every act from it."""

import hand
import pytest
from at_desk import LARGE, SMALL, at_desk, matches_sample, press, settle, shown, type_in
from rig import Rig
from textual.pilot import Pilot

import sequences
from passcheck.app.screens.attempts import AttemptsScreen
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.run_start import RunStartScreen
from passcheck.app.screens.shelf import ShelfScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.card import Card
from passcheck.app.widgets.typed import Slot
from passcheck.bench.bench import Bench
from passcheck.job.commands import CloseRun, VoidAttempt
from passcheck.job.events import Purpose
from passcheck.job.gate import blockers
from passcheck.job.power import told


async def storied(rig: Rig) -> Bench:
    """As found with a fail, a rework, acceptance with an unexplained pass and a void."""
    bench = await rig.job()
    job = bench.job
    await rig.do(bench, hand.start(job, "as-found"))
    await rig.make_safe(bench)
    await rig.do(bench, hand.passing(job, sequences.GUARD))
    await rig.power(bench, sequences.RAIL)
    await rig.do(bench, hand.failing(job, sequences.RAIL), hand.failing(job, sequences.LAMPS))
    await rig.make_safe(bench)
    await rig.do(bench, CloseRun("t1"), hand.rework("PWR", parts=("C1",)), hand.start(job))
    await rig.do(bench, hand.passing(job, sequences.GUARD))
    await rig.power(bench, sequences.RAIL)
    await rig.do(bench, hand.failing(job, sequences.RAIL), hand.passing(job, sequences.RAIL))
    await rig.do(bench, hand.passing(job, sequences.LAMPS))
    return await rig.do(bench, VoidAttempt("t1", len(bench.job.attempts), "hand slipped"))


async def retested(rig: Rig) -> Bench:
    """As found low, a rework, two retests, a good unit, another rework, a retest that passes, acceptance begun."""
    bench = await rig.job()
    job, rail = bench.job, sequences.RAIL

    async def read(purpose: Purpose, *shown: str) -> None:
        await rig.do(bench, hand.start(job, purpose), hand.passing(job, sequences.GUARD))
        await rig.power(bench, rail)
        for text in shown:
            rig.clock.pass_time(minutes=4)
            await rig.do(bench, hand.reading(rail, text))
        await rig.make_safe(bench)
        await rig.do(bench, CloseRun("t1"))

    await rig.make_safe(bench)
    await read("as-found", "4.62 V")
    await rig.do(bench, hand.rework("PWR", parts=("C1",)))
    await read("retest", "4.71 V", "4.70 V")
    await read("good-unit", "5.02 V")
    await rig.do(bench, hand.rework("PWR", parts=("C2",)))
    await read("retest", "4.98 V")
    await read("acceptance", "4.99 V")
    return bench


async def open_card(pilot: Pilot[None]) -> TravellerScreen:
    await press(pilot, *"7Q22051", "enter")
    assert isinstance(pilot.app.screen, TravellerScreen)
    return pilot.app.screen


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_card_tells_the_units_story(size: tuple[int, int]) -> None:
    rig = Rig()
    await storied(rig)
    async with at_desk(rig, size) as pilot:
        await open_card(pilot)
        matches_sample(pilot, f"traveller-{size[0]}x{size[1]}")
        text = shown(pilot)
        for words in ("FAIL 10.30 V t1", "struck: rework 1", "struck: void", "0/5 repeats", "battery told on"):
            assert words in text


async def test_beside_the_card_stand_the_sentences_of_the_gate() -> None:
    rig = Rig()
    bench = await storied(rig)
    async with at_desk(rig, (140, 60)) as pilot:
        await open_card(pilot)
        window = shown(pilot).splitlines()
        edge = next(line.index("BETWEEN THIS UNIT") for line in window if "BETWEEN THIS UNIT" in line)
        beside = " ".join(line[edge:] for line in window)
        beside = " ".join(beside.split())
        for one in blockers(bench.job, bench.outside(), bench.moment()):
            assert " ".join(one.sentence.split())[:60] in beside


async def test_at_eighty_columns_the_door_moves_under_a_key_and_leads_back_to_a_step() -> None:
    rig = Rig()
    await storied(rig)
    async with at_desk(rig) as pilot:
        screen = await open_card(pilot)
        screen.query_one(Card).stand_on(sequences.GUARD)
        await press(pilot, "tab")
        matches_sample(pilot, "door-80x24")
        assert "BETWEEN THIS UNIT AND THE DOOR" in shown(pilot)
        await press(pilot, "down", "enter")
        assert "TRAVELLER" in shown(pilot)
        assert screen.query_one(Card).step == sequences.LAMPS


async def test_the_first_enter_at_the_door_leads_to_the_step_of_its_first_line() -> None:
    rig = Rig()
    bench = await storied(rig)
    async with at_desk(rig) as pilot:
        screen = await open_card(pilot)
        first = blockers(bench.job, bench.outside(), bench.moment())[0]
        other = sequences.LAMPS if first.step != sequences.LAMPS else sequences.GUARD
        screen.query_one(Card).stand_on(other)
        await press(pilot, "tab", "enter")
        assert screen.query_one(Card).step == first.step


async def test_arrows_move_the_mark_and_a_click_chooses() -> None:
    rig = Rig()
    await storied(rig)
    async with at_desk(rig) as pilot:
        card = (await open_card(pilot)).query_one(Card)
        await press(pilot, "home")
        assert card.step == sequences.GUARD
        await press(pilot, "down")
        assert card.step == sequences.RAIL
        await press(pilot, "end")
        assert card.step == sequences.LAMPS
        await pilot.click(Card, offset=(6, 3))
        await settle(pilot)
        assert card.step == sequences.GUARD


async def test_enter_takes_the_step_to_the_bench() -> None:
    rig = Rig()
    await storied(rig)
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, BenchScreen)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, TravellerScreen)


async def test_without_an_open_run_a_run_is_started_first() -> None:
    rig = Rig()
    await rig.job()
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "b")
        assert isinstance(pilot.app.screen, RunStartScreen)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, TravellerScreen)


async def test_every_attempt_is_shown_with_all_that_is_kept_of_it() -> None:
    rig = Rig()
    await storied(rig)
    async with at_desk(rig) as pilot:
        (await open_card(pilot)).query_one(Card).stand_on(sequences.RAIL)
        await press(pilot, "a")
        assert isinstance(pilot.app.screen, AttemptsScreen)
        matches_sample(pilot, "attempts-80x24")
        await press(pilot, "down")
        assert "typed twice" in shown(pilot)
        assert "Hand multimeter" in shown(pilot)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_retests_have_a_column_of_their_own_and_keep_the_rework_that_struck_them(size: tuple[int, int]) -> None:
    rig = Rig(sequences.with_soak())
    await retested(rig)
    async with at_desk(rig, size) as pilot:
        await open_card(pilot)
        matches_sample(pilot, f"traveller-retests-{size[0]}x{size[1]}")
        head = next(row for row in shown(pilot).splitlines() if "as found" in row)
        places = [head.index(name) for name in ("as found", "retest", "as left", "burn-in")]
        assert places == sorted(places)
        assert "rework 1" in shown(pilot)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_before_and_after_stand_above_the_attempts_with_the_good_unit_beside(size: tuple[int, int]) -> None:
    rig = Rig()
    await retested(rig)
    async with at_desk(rig, size) as pilot:
        (await open_card(pilot)).query_one(Card).stand_on(sequences.RAIL)
        await press(pilot, "a")
        matches_sample(pilot, f"attempts-retests-{size[0]}x{size[1]}")
        text = shown(pilot)
        assert "changed by +0.37 V ± 0.05 V" in text
        for words in (
            "as found  FAIL 4.62 V",
            "retest 1",
            "retest 3",
            "as left   PASS 4.99 V",
            "good unit PASS 5.02 V",
        ):
            assert words in text


async def test_one_attempt_is_compared_with_nothing() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.make_safe(bench)
    await rig.do(bench, hand.start(bench.job), hand.passing(bench.job, sequences.GUARD))
    async with at_desk(rig) as pilot:
        (await open_card(pilot)).query_one(Card).stand_on(sequences.GUARD)
        await press(pilot, "a")
        assert "BEFORE AND AFTER" not in shown(pilot)


async def test_a_good_unit_s_reading_stands_beside_this_one_s_with_its_serial() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job, "as-found"), hand.passing(bench.job, sequences.GUARD), CloseRun("t1"))
    await rig.do(bench, hand.start(bench.job, "good-unit"), hand.passing(bench.job, sequences.GUARD))
    async with at_desk(rig, LARGE) as pilot:
        (await open_card(pilot)).query_one(Card).stand_on(sequences.GUARD)
        await press(pilot, "a")
        assert "pass 7Q22052" in shown(pilot)
        assert "7Q22052, not this one" in shown(pilot)


async def test_an_attempt_is_voided_with_its_reason_and_stays_readable() -> None:
    rig = Rig()
    bench = await storied(rig)
    async with at_desk(rig) as pilot:
        (await open_card(pilot)).query_one(Card).stand_on(sequences.RAIL)
        await press(pilot, "a", "v", "f4")
        assert "A void needs its reason." in " ".join(shown(pilot).split())
        await type_in(pilot, "[red]probe[/red] slipped")
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, AttemptsScreen)
        assert "[red]probe[/red] slipped" in shown(pilot)
    assert bench.job.attempts[-3].void or bench.job.attempts[-2].void


async def test_an_incident_makes_power_unknown() -> None:
    rig = Rig()
    bench = await storied(rig)
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "i")
        matches_sample(pilot, "incident-80x24")
        await type_in(pilot, "smoke at C1")
        await press(pilot, "tab", "space", "f4")
        assert "battery unknown: make safe first (F8)" in shown(pilot)
    assert bench.job.open_incidents == (1,)
    assert told(bench.job, bench.moment())["battery"] == "unknown"


async def test_the_complaint_is_shown_whole_and_matched_to_symptoms() -> None:
    rig = Rig()
    bench = await rig.job(complaint="everything dim\n[b]when warm[/b]")
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "m")
        matches_sample(pilot, "complaint-80x24")
        await press(pilot, "space", "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
    assert bench.job.symptoms


async def test_a_run_is_closed_with_the_outcome_that_was_shown() -> None:
    rig = Rig()
    await storied(rig)
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "c")
        matches_sample(pilot, "close-run-80x24")
        await press(pilot, "f4")
        assert "no run open" in shown(pilot)
        await press(pilot, "c")
        assert "No run is open." in shown(pilot)


async def test_a_hand_over_puts_the_other_person_at_the_bench() -> None:
    rig = Rig()
    bench = await storied(rig)
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "h")
        matches_sample(pilot, "hand-over-80x24")
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
        assert "at the bench: t2" in shown(pilot)
    assert bench.job.holder == "t2"


async def test_a_jotting_is_kept() -> None:
    rig = Rig()
    bench = await storied(rig)
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "j")
        await type_in(pilot, "TP3")
        await press(pilot, "enter")
        await type_in(pilot, "4.92 V")
        await press(pilot, "enter", "enter")
        assert isinstance(pilot.app.screen, TravellerScreen)
    assert bench.job.jottings[-1].value == "4.92 V"


async def test_what_was_fitted_for_a_test_is_put_back() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.do(bench, hand.start(bench.job), hand.proved_dead(bench.job, shorting_lead=True))
    fitted = len(bench.job.fitted)
    assert fitted
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "o")
        assert "shorting lead" in shown(pilot)
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, TravellerScreen)
    assert len(bench.job.fitted) == fitted - 1


async def test_a_unit_goes_back_unrepaired_and_its_card_says_so() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.make_safe(bench)
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "u")
        matches_sample(pilot, "give-back-80x24")
        await press(pilot, "f4")
        assert "Say why the unit goes back unrepaired." in " ".join(shown(pilot).split())
        await type_in(pilot, "owner declines")
        await press(pilot, "f4")
        assert "ended: returned unrepaired" in shown(pilot)
        await press(pilot, "s")
        assert "This is not a release." in shown(pilot)
    assert bench.job.ended == "returned unrepaired"


async def test_a_unit_goes_back_repaired_in_part_by_its_owner_s_choice() -> None:
    rig = Rig()
    bench = await rig.job()
    await rig.make_safe(bench)
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "u")
        await type_in(pilot, "owner declines")
        await press(pilot, "enter")
        await type_in(pilot, "Ms Orme, by telephone 14:10: the lamps stay as they are")
        await press(pilot, "f4")
        assert "Both are filled in." in " ".join(shown(pilot).split())
        pilot.app.screen.query_one("#reason", Slot).value = ""
        await press(pilot, "f4")
        assert "ended: returned repaired in part" in shown(pilot)
    assert bench.job.ended == "returned repaired in part"
    assert bench.job.ended_by == "t1"


async def test_leaving_with_a_supply_told_on_is_called_to_mind() -> None:
    rig = Rig()
    await storied(rig)
    async with at_desk(rig) as pilot:
        await open_card(pilot)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, ShelfScreen)
        assert "battery told on" in shown(pilot)

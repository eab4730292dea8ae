"""A unit's earlier visits on the screen: at a glance, visit by visit, before a known unit is worked on again."""

from dataclasses import replace

import pytest
from at_desk import SMALL, at_desk, matches_sample, press, settle, shown, type_in
from rig import Rig
from textual.pilot import Pilot
from unit_visits import HeldArchive, job_row, told_unit

from passcheck.app.screens.arrival import ArrivalScreen
from passcheck.app.screens.choose_job import ChooseJob
from passcheck.app.screens.find_words import FindWords
from passcheck.app.screens.history import HistoryScreen
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.shelf import ShelfScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.history_card import HistoryCard
from passcheck.app.widgets.typed import Slot
from passcheck.app.widgets.writing import Writing
from passcheck.bench.bench import Bench
from passcheck.job.archive_rows import JobRows
from passcheck.job.commands import SignOff

WIDE = (130, 40)


def bench_with(archive: HeldArchive | None) -> Rig:
    """A bench in memory, three days after the third visit of the unit that the archive tells of."""
    rig = Rig()
    rig.shop.archive = archive
    rig.clock.pass_time(minutes=13 * 24 * 60)
    return rig


async def released(rig: Rig, serial: str = "7Q22051") -> Bench:
    """A job of the unit that was signed off."""
    bench = await rig.walk(await rig.job(serial=serial))
    return await rig.do(bench, SignOff("t1", bench.job.serial))


async def opened(pilot: Pilot[None], serial: str = "7Q22051", in_hand: str = "") -> HistoryScreen:
    screen = HistoryScreen(serial, in_hand)
    await pilot.app.push_screen(screen)
    await settle(pilot)
    return screen


def kind(pilot: Pilot[None]) -> type[object]:
    return type(pilot.app.screen)


def words(pilot: Pilot[None]) -> str:
    return " ".join(shown(pilot).split())


@pytest.mark.parametrize("size", [SMALL, WIDE])
async def test_visits_stand_beside_each_other_the_latest_at_the_right(size: tuple[int, int]) -> None:
    async with at_desk(bench_with(HeldArchive(*told_unit())), size) as pilot:
        await opened(pilot)
        matches_sample(pilot, f"history-{size[0]}x{size[1]}")
        text = words(pilot)
        assert "3rd visit, here for 3 days. Last released 2031-03-02 (A31-0392), back after 41 days." in text
        assert text.index("2nd visit A31-0392") < text.index("3rd visit A31-0417")
        assert text.index("BLOCKS TOUCHED") < text.index("VISITS ─")
        assert ("A30-0211" in text) is (size == WIDE)
        await press(pilot, "end")
        matches_sample(pilot, f"history-end-{size[0]}x{size[1]}")
        assert "[red]panel[/red] is ␛[31mdark" in words(pilot)


async def test_each_step_shows_how_it_left_beside_how_it_came_back_and_what_changed() -> None:
    async with at_desk(bench_with(HeldArchive(*told_unit())), (130, 60)) as pilot:
        await opened(pilot)
        lines = shown(pilot).splitlines()
        at = next(place for place, line in enumerate(lines) if line.startswith(" 5 V logic rail"))
        rules = {
            tuple(place for place, sign in enumerate(line) if sign == "│") for line in lines if line.count("│") == 3
        }
        assert len(rules) == 1, "every line is ruled alike"
        assert " ".join(lines[at].split()) == (
            "5 V logic rail │ FAIL 4.62 V PASS 5.04 V │ PASS 5.03 V PASS 5.02 V │ FAIL 4.81 V ----"
        )
        assert "since: no change (± 0.06 V)" in lines[at + 1]
        assert "since: -0.21 V ± 0.06 V; read" in lines[at + 1]
        found, left = lines[at + 3].index("○"), lines[at + 3].index("●")
        assert lines[at + 3].index("┃") < left
        assert found < lines[at + 3].index("┃")
        assert "lower at each of 2 returns that can be compared" in lines[at + 4]
        assert "no change beyond what these readings can tell" in words(pilot)


async def test_what_changed_since_the_unit_left_comes_before_the_other_steps() -> None:
    async with at_desk(bench_with(HeldArchive(*told_unit())), (130, 60)) as pilot:
        await opened(pilot)
        text = shown(pilot)
        order = ("THAT CHANGED SINCE THE UNIT LEFT", "5 V logic rail", "Ripple on 5 V", "OTHER STEPS", "Look inside")
        places = [text.rindex(words) for words in order]
        assert places == sorted(places)


async def test_left_and_right_go_from_visit_to_visit_and_bring_earlier_ones_in() -> None:
    async with at_desk(bench_with(HeldArchive(*told_unit()))) as pilot:
        screen = await opened(pilot)
        card = screen.query_one(HistoryCard)
        assert "◄ 1 earlier" in shown(pilot)
        await press(pilot, "left", "left", "left")
        assert card.at_hand is not None
        assert card.at_hand.visit.job.job == "A30-0211"
        assert "▶1st visit" in shown(pilot)
        assert "► 1 later" in shown(pilot)
        await press(pilot, "right")
        assert "▶2nd visit" in shown(pilot)


async def test_a_unit_that_was_never_here_is_told_so() -> None:
    async with at_desk(bench_with(HeldArchive())) as pilot:
        await opened(pilot)
        assert "No visit of this unit is on record." in shown(pilot)
        await press(pilot, "enter", "left", "escape")
        assert kind(pilot) is ShelfScreen


@pytest.mark.parametrize(
    ("archive", "sentence"),
    [
        (None, "This bench has no archive"),
        (HeldArchive(fault="No rights to read the archive."), "Earlier visits couldn't be read: No rights to read"),
        (HeldArchive(*told_unit(), unread=("A31-0009",)), "Left out, because they can't be read: A31-0009."),
    ],
)
async def test_what_the_archive_can_not_tell_is_a_sentence(archive: HeldArchive | None, sentence: str) -> None:
    async with at_desk(bench_with(archive)) as pilot:
        await opened(pilot)
        assert sentence in words(pilot)


async def test_from_the_shelf_f3_tells_of_the_unit_that_is_typed_or_at_hand() -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    await rig.job()
    async with at_desk(rig) as pilot:
        await press(pilot, *"7q22051", "f3")
        assert kind(pilot) is HistoryScreen
        assert "A31-0392" in shown(pilot)
        await press(pilot, "escape", "escape", "down", "f3")
        assert kind(pilot) is HistoryScreen
        assert "unit 7Q22051" in shown(pilot)


async def test_from_the_traveller_f3_tells_of_its_unit_and_enter_on_its_own_visit_goes_back() -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    bench = await rig.job()
    rig.shop.archive = HeldArchive(*told_unit()[:2], JobRows(job_row(bench.job.id)))
    async with at_desk(rig) as pilot:
        await press(pilot, *"7Q22051", "enter", "f3")
        assert kind(pilot) is HistoryScreen
        await press(pilot, "enter")
        assert kind(pilot) is TravellerScreen


async def test_enter_opens_the_traveller_of_an_earlier_visit_to_look_at() -> None:
    rig = bench_with(None)
    before = await released(rig)
    bench = await rig.job()
    rows = (
        JobRows(job_row(before.job.id, ended="signed off", ended_at="2031-04-02T09:00:00Z")),
        JobRows(job_row(bench.job.id)),
    )
    rig.shop.archive = HeldArchive(*rows)
    async with at_desk(rig) as pilot:
        await press(pilot, *bench.job.id, "enter", "f3", "left", "enter")
        screen = pilot.app.screen
        assert isinstance(screen, TravellerScreen)
        assert screen.bench.job.id == before.job.id
        assert pilot.app.bench.job.id == bench.job.id  # type: ignore[attr-defined]
        await press(pilot, "f8")
        safe = pilot.app.screen
        assert isinstance(safe, MakeSafeScreen)
        assert safe.bench.job.id == bench.job.id  # the unit that is still here, whatever is looked at
        await press(pilot, "escape", "escape")
        assert kind(pilot) is HistoryScreen


async def test_another_open_job_is_not_taken_up_from_the_history_of_the_one_in_hand() -> None:
    async with at_desk(bench_with(HeldArchive(*told_unit()))) as pilot:
        await opened(pilot, in_hand="A31-0999")
        await press(pilot, "enter")
        assert kind(pilot) is HistoryScreen
        assert "A31-0417 is still open" in shown(pilot)


async def arrived_again(pilot: Pilot[None]) -> None:
    """Take the unit in by the keys, on the first board."""
    await press(pilot, *"7Q22051", "enter")
    if kind(pilot) is ChooseJob:
        await press(pilot, "end", "enter")
    form = pilot.app.screen
    assert isinstance(form, ArrivalScreen)
    form.query_one("#second", Slot).value = "7Q22051"
    form.query_one("#complaint", Writing).text = "needle drops"
    await press(pilot, "f4")
    assert kind(pilot) is not ArrivalScreen
    busy = [worker for worker in pilot.app.workers if worker.group == "arrive"]
    if busy:
        await pilot.app.workers.wait_for_complete(busy)
    await settle(pilot)


async def test_a_unit_that_is_known_here_shows_its_history_first_and_escape_goes_on() -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    await released(rig)
    async with at_desk(rig) as pilot:
        await arrived_again(pilot)
        assert kind(pilot) is HistoryScreen
        assert "Last released 2031-03-02" in shown(pilot)
        await press(pilot, "escape")
        assert kind(pilot) is TravellerScreen


async def test_a_failing_archive_keeps_no_known_unit_from_being_taken_in() -> None:
    rig = bench_with(HeldArchive(fault="No rights to read the archive."))
    await released(rig)
    async with at_desk(rig) as pilot:
        await arrived_again(pilot)
        assert "The unit can be worked on without it" in words(pilot)
        await press(pilot, "escape")
        assert kind(pilot) is TravellerScreen


async def test_visits_that_the_shelf_does_not_know_are_told_in_passing() -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    async with at_desk(rig) as pilot:
        await arrived_again(pilot)
        assert kind(pilot) is TravellerScreen
        assert "Unit 7Q22051 has been here before: F3" in words(pilot)


async def test_a_new_unit_is_simply_taken_in() -> None:
    for archive in (None, HeldArchive(), HeldArchive(JobRows(job_row("A31-0001")))):
        async with at_desk(bench_with(archive)) as pilot:
            await arrived_again(pilot)
            assert kind(pilot) is TravellerScreen
            assert "been here before" not in words(pilot)


async def test_a_failing_archive_is_one_sentence_over_the_traveller_of_a_new_unit() -> None:
    async with at_desk(bench_with(HeldArchive(fault="No rights to read the archive."))) as pilot:
        await arrived_again(pilot)
        assert kind(pilot) is TravellerScreen
        assert "Whether this unit has been here before couldn't be read: No rights to read" in words(pilot)


async def test_words_are_found_in_the_whole_shop_and_lead_to_a_unit_s_history() -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    bench = await rig.job(serial="7Q22060")
    first = told_unit()[0]
    mine = replace(first, job=replace(first.job, job=bench.job.id, serial="7Q22060"), attempts=(), touched=())
    said = tuple(replace(row, job=bench.job.id, serial="7Q22060") for row in mine.said)
    rig.shop.archive = HeldArchive(*told_unit(), replace(mine, said=said))
    async with at_desk(rig) as pilot:
        await opened(pilot)
        await press(pilot, "slash")
        assert kind(pilot) is FindWords
        await type_in(pilot, '"BULG')
        await press(pilot, "enter")
        matches_sample(pilot, "find-words-80x24")
        assert "2 found, the latest first" in shown(pilot)
        await press(pilot, "enter")
        assert kind(pilot) is HistoryScreen
        assert "unit 7Q22060" in shown(pilot)
        await press(pilot, "escape")
        assert "unit 7Q22051" in shown(pilot)


async def test_a_unit_that_was_at_another_bench_only_is_told_from_there() -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    async with at_desk(rig) as pilot:
        await press(pilot, "f3")
        await type_in(pilot, "bulg")
        await press(pilot, "enter", "enter")
        assert kind(pilot) is HistoryScreen
        assert "unit 7Q22051" in shown(pilot)


async def test_without_a_unit_f3_finds_words_from_the_shelf() -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    async with at_desk(rig) as pilot:
        await press(pilot, "f3")
        assert kind(pilot) is FindWords
        await type_in(pilot, "nobody wrote this")
        await press(pilot, "enter")
        assert "Nobody wrote all of these words." in shown(pilot)
        await press(pilot, "escape")
        assert kind(pilot) is ShelfScreen


@pytest.mark.parametrize("archive", [None, HeldArchive(fault="No rights to read the archive.")])
async def test_a_search_that_fails_is_a_sentence(archive: HeldArchive | None) -> None:
    async with at_desk(bench_with(archive)) as pilot:
        await press(pilot, "f3")
        await type_in(pilot, "fuel")
        await press(pilot, "enter")
        assert "Nothing could be looked up" in shown(pilot)


async def test_a_scan_goes_to_the_unit_that_was_scanned() -> None:
    rig = bench_with(HeldArchive(*told_unit()))
    await rig.job(serial="7Q22060")
    async with at_desk(rig) as pilot:
        await opened(pilot)
        pilot.app.scanned("7Q22060")  # type: ignore[attr-defined]
        await settle(pilot)
        assert kind(pilot) is TravellerScreen


async def test_thirty_visits_and_a_narrow_window_still_fit() -> None:
    many = tuple(
        JobRows(
            job_row(
                f"A31-{place:04d}",
                opened_at=f"2031-{1 + place // 20:02d}-{1 + place % 20:02d}T08:00:00Z",
                ended="signed off",
                ended_at=f"2031-{1 + place // 20:02d}-{1 + place % 20:02d}T09:00:00Z",
                complaint="x" * 3000,
            )
        )
        for place in range(30)
    )
    async with at_desk(bench_with(HeldArchive(*many)), (60, 18)) as pilot:
        await opened(pilot)
        assert "▶30th visit" in shown(pilot)
        assert "(all of it below)" in shown(pilot)
        await press(pilot, *["left"] * 29)
        assert "▶1st visit" in shown(pilot)

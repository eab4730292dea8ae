"""The figures of the shop on the screen: drawn, in a table, and in words."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import replace

import pytest
from at_desk import SMALL, at_desk, matches_sample, press, settle, shown
from counted import COUNTED, NOTHING, PANEL, CountedArchive
from rig import Rig
from textual.pilot import Pilot

from passcheck.app.plain import Words
from passcheck.app.screens.choose_board import ChooseBoard
from passcheck.app.screens.figures import FiguresScreen
from passcheck.app.screens.shelf import ShelfScreen
from passcheck.app.widgets.plot import Plot
from passcheck.job.figures import NAMES

WALL = (130, 40)


@asynccontextmanager
async def the_figures(
    archive: CountedArchive | None = None, size: tuple[int, int] = SMALL
) -> AsyncIterator[Pilot[None]]:
    rig = Rig()
    rig.shop.archive = archive
    rig.clock.pass_time(hours=24 * 366)
    async with at_desk(rig, size) as pilot:
        await press(pilot, "f4")
        yield pilot


async def open_figure(pilot: Pilot[None], name: str) -> None:
    await press(pilot, *["right"] * NAMES.index(name))


@pytest.mark.parametrize("size", [SMALL, WALL])
@pytest.mark.parametrize("name", ["first-try", "returns", "margins", "review"])
async def test_a_figure_is_drawn_with_its_table_and_its_words(name: str, size: tuple[int, int]) -> None:
    async with the_figures(CountedArchive(), size) as pilot:
        await open_figure(pilot, name)
        matches_sample(pilot, f"figures-{name}-{size[0]}x{size[1]}")


async def test_a_list_of_thousands_is_cut_and_says_where_the_rest_is() -> None:
    many = tuple(replace(COUNTED.review[0], number=number) for number in range(2000))
    async with the_figures(CountedArchive(replace(COUNTED, review=many))) as pilot:
        await open_figure(pilot, "review")
        table = str(pilot.app.screen.query_one("#figures-table", Words).content)
        assert len(table.splitlines()) == 302
        assert table.endswith("and 1700 more: passcheck figures --only review")


async def test_all_figures_are_gone_through_both_ways_and_round() -> None:
    async with the_figures(CountedArchive()) as pilot:
        seen = []
        for _ in NAMES:
            screen = pilot.app.screen
            assert isinstance(screen, FiguresScreen)
            assert screen.figure is not None
            seen.append(screen.figure.name)
            assert f"[{screen.figure.name}]" in shown(pilot)
            await press(pilot, "n")
        assert seen == list(NAMES)
        await press(pilot, "left")
        assert "[review]" in shown(pilot)


async def test_each_step_s_course_is_shown_by_a_key_and_its_row_marked() -> None:
    async with the_figures(CountedArchive()) as pilot:
        await open_figure(pilot, "margins")
        assert "plot 1 of 3" in shown(pilot)
        assert "> OV-24P  Ripple" in shown(pilot)
        await press(pilot, "v", "v")
        assert "> OV-24P  5 V log" in shown(pilot)
        await press(pilot, "v")
        assert "plot 1 of 3" in shown(pilot)


async def test_one_board_is_chosen_and_given_up_again() -> None:
    archive = CountedArchive()
    async with the_figures(archive) as pilot:
        await press(pilot, "b")
        assert isinstance(pilot.app.screen, ChooseBoard)
        await press(pilot, "down", "enter")
        assert f"{PANEL}: 14 jobs" in shown(pilot)
        assert "TH-12" not in shown(pilot)
        await press(pilot, "b", "escape")
        assert f"{PANEL}: 14 jobs" in shown(pilot)
        await press(pilot, "b", "enter")
        assert "all boards: 15 jobs" in shown(pilot)
        assert [board for board, _doubtful in archive.asked] == [None, PANEL, None]


async def test_what_the_journals_gained_is_counted_anew() -> None:
    archive = CountedArchive(NOTHING)
    async with the_figures(archive) as pilot:
        assert "No acceptance run was closed yet." in shown(pilot)
        archive.counted = COUNTED
        await press(pilot, "f5")
        assert "7 of 9 (45 to 94 %)" in shown(pilot)


async def test_a_disk_that_refuses_is_one_sentence_and_no_figure_of_before_stays() -> None:
    archive = CountedArchive()
    async with the_figures(archive) as pilot:
        archive.fault = "No room left on the disk. Make room and count again."
        await press(pilot, "f5")
        assert archive.fault in shown(pilot)
        assert "7 of 9" not in shown(pilot)
        assert not pilot.app.screen.query_one(Plot).display
        await press(pilot, "right", "v")
        assert archive.fault in shown(pilot)
        archive.fault = ""
        await press(pilot, "f5", "left")
        assert "7 of 9" in shown(pilot)


async def test_a_shop_without_an_archive_says_so() -> None:
    async with the_figures() as pilot:
        assert "Figures need the archive of this shop" in shown(pilot)


async def test_journals_that_were_left_out_are_counted() -> None:
    async with the_figures(CountedArchive(left_out=("A31-0003",))) as pilot:
        assert "15 jobs, 1 can't be read, 5204 attempts" in shown(pilot)


async def test_a_window_made_larger_and_smaller_shows_the_same_figure() -> None:
    async with the_figures(CountedArchive()) as pilot:
        small = shown(pilot)
        await pilot.resize_terminal(*WALL)
        await settle(pilot)
        heads = next(row for row in shown(pilot).splitlines() if "PASSED AT THE FIRST TRY" in row)
        assert "Counted is each job's first acceptance run" in heads, "words beside the table"
        await pilot.resize_terminal(*SMALL)
        await settle(pilot)
        assert shown(pilot) == small


async def test_a_wide_table_keeps_its_columns_and_has_its_words_below() -> None:
    async with the_figures(CountedArchive(), WALL) as pilot:
        await open_figure(pilot, "margins")
        assert "> OV-24P  Ripple on 5 V    2032-03" in shown(pilot)
        heads = next(row for row in shown(pilot).splitlines() if "A MONTH" in row)
        assert heads.rstrip().endswith("A MONTH")


async def test_the_key_for_another_plot_is_told_only_where_there_is_one() -> None:
    async with the_figures(CountedArchive()) as pilot:
        assert "← Previous  → Next  b Board" in shown(pilot)
        await open_figure(pilot, "margins")
        assert "← Previous  → Next  v Plot  b Board" in shown(pilot)
        assert "f1 Keys" in shown(pilot), "all of them find room"


async def test_what_lies_below_the_window_is_scrolled_to_and_another_figure_begins_at_its_top() -> None:
    async with the_figures(CountedArchive()) as pilot:
        await open_figure(pilot, "returns")
        assert "can't be compared yet" not in shown(pilot)
        await press(pilot, "end")
        assert "can't be compared yet" in shown(pilot)
        await press(pilot, "right", "left")
        assert "How many released units come back?" in shown(pilot)


async def test_escape_goes_back_to_the_shelf() -> None:
    async with the_figures(CountedArchive()) as pilot:
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, ShelfScreen)

"""Does a job that is kept in memory only stay what it was?"""

import json

import pytest
from rig import Rig, RigBoards, settings

import sequences
from passcheck.bench.shop import Shop
from passcheck.errors import BenchFailed, FileFault, OurBug
from passcheck.job.commands import AddNote, SignOff
from passcheck.job.fold import fold
from passcheck.job.journal_line import Line
from passcheck.job.replay import recorded
from passcheck.job.shelf_row import ShelfRow
from passcheck.practice.memory import MemoryBoards, MemoryFiles, MemorySettings, MemoryShelf
from passcheck.sequence.model import Sequence

BOARDS = {
    "three steps": sequences.sequence(),
    "much energy": sequences.much_energy(),
    "arrival and final": sequences.with_arrival_and_final(),
}
SHEET = """\
sequence: LB-9
revision: 1
title: Lamp box
supplies: {}
blocks: {PWR: {title: Supply}}
steps: [{id: look-in, kind: look, title: As it came in, proves: [PWR], points: [nothing burnt]}]
"""


class PlainRig(Rig):
    """The rig on practice's own files, without anything that a test may have refused."""

    def __init__(self, *boards: Sequence | str) -> None:
        self.plain = MemoryFiles()
        super().__init__(*boards)

    def _new_shop(self) -> Shop:
        shelf = MemoryShelf(self.plain)
        return Shop(self.plain, shelf, self.boards, self.settings, self.clock, lambda: "practice", "none", self.chance)


def a_line(number: int, job: str = "A31-0001") -> Line:
    return Line(number, "2031-04-02T08:00:00.000Z", "t1", number, "note added", {"text": job})


def opened(files: MemoryFiles) -> str:
    return files.new_job(lambda job, _ledger: a_line(0, job))[0]


@pytest.mark.parametrize("board", BOARDS.values(), ids=BOARDS.keys())
async def test_a_job_folded_anew_from_its_lines_is_the_job_that_was_walked(board: Sequence) -> None:
    rig = PlainRig(board)
    bench = await rig.job()
    await rig.walk(bench)
    await rig.do(bench, SignOff("t1", bench.job.serial))
    assert bench.job.ended == "signed off"
    lines = rig.plain.read_job(bench.job.id)
    assert fold(recorded(lines), rig.boards.read) == bench.job
    assert [json.loads(json.dumps(line.data)) for line in lines] == [dict(line.data) for line in lines]


async def test_a_shop_in_memory_tells_its_jobs_as_one_on_a_disk_does() -> None:
    plain, on_disk = PlainRig(), Rig()
    for rig in (plain, on_disk):
        await rig.do(await rig.job(), AddNote("t1", "flux on R41"))
    assert plain.shop.shelf() == on_disk.shop.shelf()
    assert plain.plain.read_job("A31-0001")[1:] == on_disk.files.read_job("A31-0001")[1:]


async def test_a_job_is_taken_up_again_where_it_was_let_go() -> None:
    rig = PlainRig()
    bench = await rig.do(await rig.job(), AddNote("t1", "flux on R41"))
    await rig.shop.close()
    again = await rig.shop.open(bench.job.id, "t1")
    assert [note.text for note in again.job.notes] == ["flux on R41"]


def test_job_numbers_count_up_behind_the_letter_and_year_asked_for() -> None:
    files = MemoryFiles("P44")
    assert [opened(files), opened(files)] == ["P44-0001", "P44-0002"]
    assert files.job_ids() == ("P44-0001", "P44-0002")
    assert files.intact("P44-0001") == ()


def test_a_job_has_one_writer_and_a_second_has_to_wait() -> None:
    files = MemoryFiles()
    job, writer = files.new_job(lambda job, _ledger: a_line(0, job))
    with pytest.raises(BenchFailed, match="in use"):
        files.open_job(job)
    writer.close()
    assert not writer.writing
    with pytest.raises(BenchFailed, match="closed"):
        writer.append([a_line(1)])
    second, lines = files.open_job(job)
    assert second.writing
    assert lines == second.lines == (a_line(0),)


def test_a_sealed_journal_lets_go_of_its_writer() -> None:
    files = MemoryFiles()
    job, writer = files.new_job(lambda job, _ledger: a_line(0, job))
    writer.append([a_line(1), a_line(2)], fail=True)
    assert (writer.next_number, writer.writing) == (3, True)
    writer.append([a_line(3)], seal=True)
    assert not writer.writing
    assert [line.number for line in files.read_job(job)] == [0, 1, 2, 3]


def test_a_line_out_of_its_turn_is_a_fault_of_ours() -> None:
    _job, writer = MemoryFiles().new_job(lambda job, _ledger: a_line(0, job))
    with pytest.raises(OurBug, match="line 2 came where line 1 belongs"):
        writer.append([a_line(2)])


def test_a_job_that_is_not_there_is_said() -> None:
    with pytest.raises(FileFault, match="no job A31-0007"):
        MemoryFiles().open_job("A31-0007")


def test_a_row_is_made_again_only_when_its_journal_has_grown() -> None:
    files, asked = MemoryFiles(), list[int]()
    shelf = MemoryShelf(files)
    job, writer = files.new_job(lambda job, _ledger: a_line(0, job))

    def summarise(lines: tuple[Line, ...]) -> ShelfRow:
        asked.append(len(lines))
        return ShelfRow(job, "7Q22051", "LB-9", "1", "Lamp box", "confirm", "", "", "", len(lines), None)

    assert shelf.rows(summarise) == shelf.rows(summarise)
    writer.append([a_line(1)])
    assert [row.blockers for row in shelf.rows(summarise)] == [2]
    assert asked == [1, 2]


def test_boards_are_given_as_texts_and_the_latest_of_a_name_is_listed() -> None:
    newer = SHEET.replace("revision: 1", "revision: 2")
    boards = MemoryBoards(SHEET, newer)
    (board,) = boards.listed()
    assert (board.name, board.text) == ("LB-9", newer)
    assert board.sequence is boards.read(newer)
    assert boards.read(SHEET).revision == 1
    assert RigBoards(newer).listed() == (board,)
    with pytest.raises(FileFault, match="a text"):
        MemoryBoards(SHEET, "a text")


def test_settings_are_a_value_and_the_tap_key_is_kept_in_it() -> None:
    kept = MemorySettings(settings())
    kept.keep_tap_key("y")
    assert kept.read() == settings().model_copy(update={"tap_key": "y"})

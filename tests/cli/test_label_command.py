"""Do the commands print a label and tell a swapped one?"""

import asyncio
import io
from pathlib import Path

import pytest
from lamp_box import JOB, lamp_box_job
from paper_maker import HeadsAtHand, head_of

from passcheck.bench.bench import Done
from passcheck.bench.shop import Shop
from passcheck.cli.label import label_command, scan_both_command
from passcheck.errors import FileFault
from passcheck.job import commands

PAPERS = HeadsAtHand({JOB: head_of()})


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    """One job, returned unrepaired."""
    opened, _ = lamp_box_job(tmp_path)

    async def give_back() -> None:
        bench = await opened.open(JOB, "t1")
        for command in (commands.CloseRun("t1"), commands.ReturnUnrepaired("t1", "owner declines")):
            done = await bench.do(command)
            assert isinstance(done, Done), done
        await opened.close()

    asyncio.run(give_back())
    return opened


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_the_label_of_an_ended_job_is_printed_line_by_line(shop: Shop, capsys: pytest.CaptureFixture[str]) -> None:
    assert label_command(shop, PAPERS, JOB.lower()) == 0
    said = capsys.readouterr().out.splitlines()
    assert said[:4] == ["A31-0001  LB-1", "unit 7Q22051", "NOT RELEASED", "returned unrepaired 2031-04-02"]
    assert said[-1] == f"A31-0001 7Q22051 {said[-2].removeprefix('code ')}"


def test_an_open_job_has_no_label(tmp_path: Path) -> None:
    opened, _ = lamp_box_job(tmp_path)
    with pytest.raises(FileFault, match="still open"):
        label_command(opened, HeadsAtHand({JOB: head_of(sealed=False)}), JOB)


def test_unit_and_label_that_belong_together_match(shop: Shop, capsys: pytest.CaptureFixture[str]) -> None:
    label_command(shop, PAPERS, JOB)
    line = capsys.readouterr().out.splitlines()[-1]
    assert scan_both_command(shop, PAPERS, JOB, io.StringIO(f"7Q22051\n{line}\n")) == 0
    said = capsys.readouterr()
    assert said.out.splitlines()[0] == "MATCH"
    assert said.err == ""


@pytest.mark.parametrize(
    ("scanned", "word"),
    [
        ("", "NOT READ"),
        ("7Q22051\n", "NOT READ"),
        ("7Q22051\nA31-0001 7Q22051\n", "NOT READ"),
        ("7Q22064\nA31-0001 7Q22051 000000\n", "OTHER SERIAL"),
        ("7Q22051\nA31-0002 7Q22064 000000\n", "OTHER JOB"),
        ("7Q22051\nA31-0001 7Q22051 000000\n", "OTHER CODE"),
        ("\x1b[2J\n\x1b[2J\n", "NOT READ"),
    ],
)
def test_anything_else_does_not(shop: Shop, scanned: str, word: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert scan_both_command(shop, PAPERS, JOB, io.StringIO(scanned)) == 1
    said = capsys.readouterr().out
    assert said.splitlines()[0] == word
    assert "\x1b" not in said


def test_bytes_that_are_no_text_are_not_read(shop: Shop, capsys: pytest.CaptureFixture[str]) -> None:
    source = io.TextIOWrapper(io.BytesIO(b"7Q22051\n\xff\xfe\xff\n"), encoding="utf-8")
    assert scan_both_command(shop, PAPERS, JOB, source) == 1
    assert capsys.readouterr().out.startswith("NOT READ")


def test_on_a_terminal_each_scan_is_asked_for(shop: Shop, capsys: pytest.CaptureFixture[str]) -> None:
    scan_both_command(shop, PAPERS, JOB, Terminal("7Q22051\nA31-0001 7Q22051 000000\n"))
    asked = capsys.readouterr().err.splitlines()
    assert asked == ["Scan the unit's serial, off the unit:", "Scan the label's last line:"]


def test_the_standard_input_is_read_where_nothing_else_is_given(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("7Q22064\n\n"))
    assert scan_both_command(shop, PAPERS, JOB) == 1
    assert capsys.readouterr().out.startswith("NOT READ")

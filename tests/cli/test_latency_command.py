"""Is the latency kept beside the PINs, shown with its day and terminal, and tied to the way to the screen?"""

from datetime import date
from pathlib import Path

import pytest

from passcheck.cli.bench_show import show_bench
from passcheck.cli.main import main
from passcheck.errors import FileFault
from passcheck.job.kept_latency import KeptLatency
from passcheck.records.settings_file import BenchFiles

DAY = date(2031, 4, 2)
KEPT = KeptLatency("0.0583", "0.0017", ("14", "14", "13", "15", "14"), "240", "2031-04-02", "xterm, local")


def test_what_was_filmed_is_kept_and_shown_and_leaves_the_pins(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = BenchFiles(tmp_path, DAY)
    files.make()
    show_bench(files.read(), DAY, as_json=False)
    assert "latency: not measured (passcheck bench latency)" in capsys.readouterr().out
    files.keep_pin("t1", "a hash")
    files.keep_latency(KEPT)
    again = BenchFiles(tmp_path, DAY).read()
    assert again.latency == KEPT
    assert again.pin_hashes == {"t1": "a hash"}
    show_bench(again, DAY, as_json=False)
    assert "latency: 58 ms, standard uncertainty 2 ms, filmed 2031-04-02 on xterm, local" in capsys.readouterr().out
    show_bench(again, DAY, as_json=True)
    assert '"terminal": "xterm, local"' in capsys.readouterr().out


@pytest.mark.parametrize("damage", [('"0.0583"', '"soon"'), ('"0.0583"', '"99"'), ('"2031-04-02"', '"April"')])
def test_a_damaged_latency_is_a_loud_fault(tmp_path: Path, damage: tuple[str, str]) -> None:
    files = BenchFiles(tmp_path, DAY)
    files.make()
    files.keep_latency(KEPT)
    path = tmp_path / "bench.json"
    path.write_text(path.read_text("utf-8").replace(*damage), "utf-8")
    with pytest.raises(FileFault, match="can't be read"):
        BenchFiles(tmp_path, DAY).read()


def test_without_a_terminal_it_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--logs", str(tmp_path), "bench", "latency"]) == 2
    assert "need a terminal" in capsys.readouterr().err

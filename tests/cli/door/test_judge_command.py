"""Do the command, its help and the README tell one story?"""

import io
import json
import sys
from pathlib import Path

import pytest

from passcheck.cli.door.help_text import EXAMPLE, computes_in_words
from passcheck.cli.door.table import TABLE
from passcheck.cli.main import main

ROOT = Path(__file__).parents[3]


def judged(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], given: bytes) -> tuple[int, list[str]]:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(given), encoding="utf-8"))
    status = main(["judge"])
    return status, capsys.readouterr().out.splitlines()


def test_good_lines_end_good(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    status, lines = judged(monkeypatch, capsys, EXAMPLE.encode() + b"\r\n\n" + EXAMPLE.encode())
    assert status == 0
    assert [json.loads(line)["verdict"] for line in lines] == ["in doubt", "in doubt"]


def test_a_bad_line_has_its_own_error_and_the_rest_go_on(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    status, lines = judged(monkeypatch, capsys, b'{"compute": "latency"}\n\xff\xfe\n' + EXAMPLE.encode())
    assert status == 1
    answers = [json.loads(line) for line in lines]
    assert [list(answer)[:2] for answer in answers] == [["compute", "error"]] * 2 + [["compute", "p_conform"]]


def test_nothing_asked_is_nothing_wrong(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert judged(monkeypatch, capsys, b"") == (0, [])


def test_a_stream_of_text_will_do(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(EXAMPLE))
    assert main(["judge"]) == 0
    assert json.loads(capsys.readouterr().out)["compute"] == "conformity"


def test_the_help_lists_every_computation_with_its_fields(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["judge", "--help"]) == 0
    said = capsys.readouterr().out
    assert EXAMPLE in said
    for name, compute in TABLE.items():
        assert f"\n{name}\n" in said
        for field in compute.fields:
            assert f"\n    {field.mark}: " in said


def test_the_readme_holds_the_same_list() -> None:
    assert computes_in_words() in (ROOT / "README.md").read_text("utf-8")


def test_every_field_says_what_it_holds() -> None:
    for compute in TABLE.values():
        names = [field.name for field in compute.fields]
        assert len(names) == len(set(names))
        assert all(field.says for field in compute.fields)
        assert compute.says.endswith(".")
        assert compute.answers

"""Files from strangers are data: each attack gets one clear refusal, soon, by either of PyYAML's parsers."""

import os
import time
from pathlib import Path
from typing import Any

import pytest
import yaml

from passcheck.sequence.faults import SequenceFaults
from passcheck.sequence.load import check_text, load_sequence
from passcheck.sequence.nodes import read_nodes

LOADERS = [pytest.param(yaml.SafeLoader, id="pure")]
if hasattr(yaml, "CSafeLoader"):
    LOADERS.append(pytest.param(yaml.CSafeLoader, id="libyaml"))

NAMED = ("alias bomb", "5,000 deep", "30 MB text", "python tag")  # these are promised within a second
SOON_S = 3.0  # the others too, with room for a busy machine

HOSTILE: dict[str, tuple[str | bytes, str]] = {
    "alias bomb": ("a: &a [x, x]\n" + "".join(f"b{n}: &b{n} [*a, *a]\n" for n in range(9)), "anchors"),
    "alias without its anchor": ("a: *b\n", "aliases"),
    "recursive alias": ("a: &a [*a]\n", "anchors"),
    "5,000 deep": ("a: " + "[" * 5000 + "]" * 5000, "nested"),
    "5,000 deep, a line each": ("[\n" * 5000, "nested"),
    "1,000 deep by indentation": ("".join(" " * n + "a:\n" for n in range(1000)), "nested"),
    "200,000 deep": ("[" * 200_000, "a line of 200000 characters"),
    "30 MB text": ("a: " + "x" * 30_000_000, "larger than"),
    "1 MB line": ("a: " + "x" * 1_000_000, "larger than 512 KiB|a line of"),
    "400 kB block text": ("a: |\n" + ("  " + "x" * 70 + "\n") * 6_000, "a text of 426000 characters"),
    "400 kB quoted text": ('a: "' + ("x" * 70 + "\n ") * 6_000 + '"', "a text of 426000 characters"),
    "escapes": ('a: "' + ("\\x41" * 30 + "\\\n ") * 4_000 + '"', "a text of 120000 characters"),
    "a million blank lines": ("\n" * 1_000_000, "larger than 512 KiB|more than 20000 lines"),
    "comments only": (("# " + "x" * 70 + "\n") * 6_000, "the file is empty"),
    "a flat list": ("a: [" + "1,1,1,1,1,1,1,1,1,1,\n" * 19_000 + "]", "entries; a sequence has fewer"),
    "keys by the thousand": (
        "".join(f"k{n}: {{a: 1, b: 2}}\n" for n in range(18_000)),
        "entries; a sequence has fewer",
    ),
    "python tag": ("a: !!python/object/apply:os.system ['true']", "tags"),
    "unknown tag": ("a: !thing x", "tags"),
    "core tag": ("a: !!str x", "tags"),
    "tag directive": ("%TAG ! tag:example.org,2000:\n---\na: 1", "%TAG"),
    "second document": ("a: 1\n---\nb: 2", "a second document"),
    "UTF-16": ("a: 1".encode("utf-16"), "UTF-16"),
    "NUL": ("a: \x00", "U+0000"),
    "NUL in bytes": (b"a: \x00", "U+0000"),
    "escape sequence": ("a: \x1b]52;c;aGk=\x07", "U+001B"),
    "C1 control": ("a: \x9b31m", "U+009B"),
    "lone surrogate": ("a: \ud800", "U+D800"),
    "Latin-1": (b"a: \xe9", "not in UTF-8"),
    "list as a key": ("? [a]\n: b", "before a colon"),
    "entries as a key": ("{{a: 1}: 2}", "before a colon"),
    "no key": ('"": x', "before this colon"),
}


@pytest.mark.parametrize("loader", LOADERS)
@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_gets_one_refusal_soon(name: str, loader: Any) -> None:
    text, words = HOSTILE[name]
    began = time.perf_counter()
    checked = check_text(text, name, loader=loader)
    took_s = time.perf_counter() - began
    assert checked.sequence is None
    assert len(checked.faults) == 1
    assert any(each in checked.faults[0].sentence for each in words.split("|")), checked.faults
    assert checked.faults[0].show(name).replace("\n", "").isprintable()
    assert took_s < (1.0 if name in NAMED else SOON_S)


@pytest.mark.parametrize("loader", LOADERS)
def test_a_file_of_nothing_but_mistakes_is_told_soon(loader: Any) -> None:
    rows = "".join(f"- {{id: a{n}, kind: look, title: t, needs: [b{n}]}}\n" for n in range(1500))
    text = f"sequence: X\nrevision: 1\ntitle: t\nsupplies: {{}}\nblocks: {{}}\nsteps:\n{rows}"
    began = time.perf_counter()
    checked = check_text(text, "x.yaml", loader=loader)
    assert len(checked.faults) > 1500
    assert time.perf_counter() - began < 2 * SOON_S


@pytest.mark.parametrize("loader", LOADERS)
def test_only_true_false_and_decimal_numbers_are_more_than_text(loader: Any) -> None:
    written = {
        "true": True,
        "false": False,
        "3": 3,
        "-7": -7,
        "0.5": 0.5,
        "yes": "yes",
        "no": "no",
        "on": "on",
        "True": "True",
        "12:30": "12:30",
        "010": "010",
        "0x10": "0x10",
        "1e3": "1e3",
        "1_000": "1_000",
        ".inf": ".inf",
        ".nan": ".nan",
        "2031-04-02": "2031-04-02",
        "=": "=",
        "~": "~",
        "null": "null",
        "'3'": "3",
        '"true"': "true",
        "9" * 400: "9" * 400,
    }
    text = "".join(f"k{number}: {value}\n" for number, value in enumerate(written))
    data = read_nodes(text, loader).data
    assert list(data.values()) == list(written.values())
    assert [type(value) for value in data.values()] == [type(value) for value in written.values()]


@pytest.mark.parametrize("loader", LOADERS)
def test_a_key_is_always_text(loader: Any) -> None:
    assert read_nodes("no: a\n1: b\ntrue: c\n", loader).data == {"no": "a", "1": "b", "true": "c"}


@pytest.mark.parametrize("loader", LOADERS)
def test_places_count_characters_from_one_also_after_wide_ones(loader: Any) -> None:
    nodes = read_nodes("a: 1\nlist: [日本, {b: é, c: x}]\n", loader)
    assert nodes.place(("a",)) == (1, 4)
    assert nodes.place(("list", 1, "c")) == (2, 22)
    assert nodes.place(("list", 1, "c"), of_key=True) == (2, 19)
    assert nodes.place(("list", 1, "missing")) == (2, 12)


def test_a_pipe_is_not_opened(tmp_path: Path) -> None:
    pipe = tmp_path / "board.yaml"
    os.mkfifo(pipe)
    with pytest.raises(SequenceFaults, match="a pipe or a device"):
        load_sequence(pipe)


def test_a_device_is_not_opened() -> None:
    with pytest.raises(SequenceFaults, match="a pipe or a device"):
        load_sequence(Path("/dev/zero"))


def test_a_folder_and_a_missing_file_are_told(tmp_path: Path) -> None:
    with pytest.raises(SequenceFaults, match="a folder"):
        load_sequence(tmp_path)
    with pytest.raises(SequenceFaults, match="No such file"):
        load_sequence(tmp_path / "none.yaml")


def test_a_sparse_giant_is_not_read_whole(tmp_path: Path) -> None:
    giant = tmp_path / "board.yaml"
    with giant.open("wb") as file:
        file.truncate(1 << 30)
    began = time.perf_counter()
    with pytest.raises(SequenceFaults, match="larger than 1 MiB"):
        load_sequence(giant)
    assert time.perf_counter() - began < SOON_S

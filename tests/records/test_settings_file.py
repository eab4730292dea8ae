"""Are people and instruments read as they stand, and does nothing that a person wrote get lost?"""

import json
import os
from datetime import date
from pathlib import Path

import pytest
from tapping import TapHand

from passcheck.errors import BenchFailed, FileFault
from passcheck.job.carried import Carried
from passcheck.job.commands import TapReference
from passcheck.job.kept_block import KeptBlock
from passcheck.job.pin import pin_hash, pin_matches
from passcheck.judge.accuracy import no_worse
from passcheck.records.bench_starter import starter_text
from passcheck.records.disk import Disk
from passcheck.records.settings_file import BenchFiles
from passcheck.sequence.load import load_sequence

TODAY = date(2031, 4, 2)
SEQUENCES = Path(__file__).parents[2] / "sequences"


def bench(folder: Path, text: str | None = None) -> BenchFiles:
    if text is not None:
        (folder / "bench.yaml").write_text(text, encoding="utf-8")
    return BenchFiles(folder, TODAY)


def test_the_first_day_brings_a_file_with_examples_that_can_be_used(tmp_path: Path) -> None:
    files = bench(tmp_path / "logs")
    assert files.make()
    settings = files.read()
    assert list(settings.people) == ["t1", "t2", "l1"]
    assert settings.letter == "A"
    assert all(instrument.due == date(2032, 4, 1) for instrument in settings.instruments.values())


def test_looking_at_settings_makes_no_file(tmp_path: Path) -> None:
    assert bench(tmp_path / "logs").read().people
    assert not (tmp_path / "logs").exists()


def test_the_examples_are_good_enough_for_every_role_of_the_demo_boards(tmp_path: Path) -> None:
    settings = bench(tmp_path).read()
    for path in sorted(SEQUENCES.glob("*.yaml")):
        for role, need in load_sequence(path)[0].instruments.items():
            able = settings.filling(role, TODAY)
            assert able, f"{path.name}: nothing fills {role}"
            assert no_worse(settings.instruments[able[0]].fills[role], need.accuracy), f"{path.name}: {role}"


def test_a_file_that_is_there_is_never_made_again(tmp_path: Path) -> None:
    files = bench(tmp_path, "letter: Q\n")
    assert not files.make()
    assert (tmp_path / "bench.yaml").read_text(encoding="utf-8") == "letter: Q\n"


def test_faults_come_with_their_places_and_what_to_do(tmp_path: Path) -> None:
    text = (
        starter_text(TODAY)
        .replace("role: second", "role: secnd")
        .replace("letter: A", "leter: A")
        .replace("due: 2032-04-01", "due: next spring", 1)
        .replace("voltmeter: 0.1 % + 2 digits", "voltmeter: quite good")
    )
    with pytest.raises(FileFault) as raised:
        bench(tmp_path, text).read()
    said = str(raised.value)
    name = tmp_path / "bench.yaml"
    assert f"{name}:4:1: 'leter' is not an entry here; did you mean 'letter'?" in said
    assert f"{name}:11:35: 'secnd' is not one of technician, lead or second; did you mean 'second'?" in said
    assert f"{name}:20:10: 'next spring' is not a day; write year-month-day" in said
    assert f"{name}:22:18: 'quite good' is not an accuracy" in said
    assert "nothing was changed or overwritten" in said
    assert (tmp_path / "bench.yaml").read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("people: [t1]\n", "entries (name: value) are wanted here, not a list"),
        ("just a line\n", "this is something else"),
        ("people: &a {t1: *a}\n", "anchors (&name) are not read"),
        ("people: {T1: {name: Somebody}}\n", "a person's id is up to 12 small letters and digits"),
        ("people: {t1: {name: X, hazardous_live: yes}}\n", "true or false is wanted here"),
        ("letter: A\nletter: B\n", "'letter' is already given on line 1"),
        ("pin_hashes: {t1: x}\n" + starter_text(TODAY), "PINs don't stand here"),
        ("people: {t1: \x1b[31m}\n", "the character U+001B can't stand in a text file"),
        ("", "the file is empty"),
    ],
)
def test_each_slip_of_the_pen_has_its_sentence(tmp_path: Path, text: str, sentence: str) -> None:
    with pytest.raises(FileFault) as raised:
        bench(tmp_path, text).read()
    assert sentence in str(raised.value)
    assert "\x1b" not in str(raised.value)


def test_bytes_that_are_no_text_are_a_fault_of_the_file(tmp_path: Path) -> None:
    (tmp_path / "bench.yaml").write_bytes(b"letter: \xff\n")
    with pytest.raises(FileFault, match="not in UTF-8"):
        bench(tmp_path).read()


class CountingDisk(Disk):
    """A disk that counts how often a file was read."""

    reads = 0

    def read_behind(self, path: Path) -> bytes:
        self.reads += 1
        return super().read_behind(path)


def test_settings_are_read_again_only_when_the_file_looks_different(tmp_path: Path) -> None:
    (tmp_path / "bench.yaml").write_text(starter_text(TODAY), encoding="utf-8")
    disk = CountingDisk()
    files = BenchFiles(tmp_path, TODAY, disk=disk)
    assert files.read().shop == files.read().shop == "The shop"
    assert disk.reads == 1
    changed = starter_text(TODAY).replace("shop: The shop", "shop: A shop")
    (tmp_path / "bench.yaml").write_text(changed, encoding="utf-8")
    assert files.read().shop == "A shop"


def test_a_new_person_is_added_and_every_comment_stays(tmp_path: Path) -> None:
    files = bench(tmp_path)
    files.make()
    before = (tmp_path / "bench.yaml").read_text(encoding="utf-8").splitlines()
    files.add("people", "t3", {"name": 'Third: "the" one # really', "role": "technician", "hazardous_live": True})
    after = (tmp_path / "bench.yaml").read_text(encoding="utf-8").splitlines()
    assert [line for line in after if line in before] == before
    person = files.read().people["t3"]
    assert (person.name, person.hazardous_live) == ('Third: "the" one # really', True)


def test_a_new_instrument_is_added_at_the_end_of_its_section(tmp_path: Path) -> None:
    files = bench(tmp_path)
    files.make()
    fills = {"voltmeter": "0.05 % + 1 digit"}
    files.add("instruments", "M9", {"title": "Six-digit meter", "due": date(2031, 5, 1), "fills": fills})
    settings = files.read()
    assert list(settings.instruments)[-1] == "M9"
    assert settings.instruments["M9"].fills["voltmeter"].text == "0.05 % + 1 digit"
    assert settings.known_source.title == "Proving cell, 12 V"


def test_an_entry_that_would_spoil_the_file_is_refused_and_the_file_stays(tmp_path: Path) -> None:
    files = bench(tmp_path)
    files.make()
    before = (tmp_path / "bench.yaml").read_bytes()
    with pytest.raises(FileFault, match="stays as it was"):
        files.add("instruments", "M9", {"title": "Meter", "due": TODAY, "fills": {"voltmeter": "good"}})
    with pytest.raises(FileFault, match="already among the people"):
        files.add("people", "t1", {"name": "Another"})
    assert (tmp_path / "bench.yaml").read_bytes() == before


def test_a_section_in_braces_is_left_to_the_person_with_the_lines_to_write(tmp_path: Path) -> None:
    text = starter_text(TODAY)
    block = text[text.index("people:") : text.index("# due:")]
    files = bench(tmp_path, text.replace(block, "people: {t1: {name: One}}\n"))
    with pytest.raises(FileFault, match="Add the entry by hand:\nt2:\n  name: Two"):
        files.add("people", "t2", {"name": "Two"})


def test_a_file_that_ends_without_a_line_feed_takes_an_entry(tmp_path: Path) -> None:
    text = starter_text(TODAY)
    block = text[text.index("people:") : text.index("# due:")].rstrip()
    files = bench(tmp_path, text.replace(block, "") + block)
    files.add("people", "t9", {"name": "Nine"})
    assert files.read().people["t9"].name == "Nine"


def test_an_entry_that_would_end_up_inside_another_s_text_is_refused(tmp_path: Path) -> None:
    people = "people:\n  t1:\n    role: technician\n    name: |\n      One\n      and the same\n"
    text = starter_text(TODAY)
    block = text[text.index("people:") : text.index("# due:")]
    files = bench(tmp_path, text.replace(block, people))
    before = (tmp_path / "bench.yaml").read_bytes()
    with pytest.raises(FileFault, match="stays as it was"):
        files.add("people", "t2", {"name": "Two"})
    assert (tmp_path / "bench.yaml").read_bytes() == before


@pytest.mark.parametrize("written", ["2032-04-01", '"2032-04-01"', "'2032-04-01'  # sticker says so"])
def test_a_new_due_date_replaces_the_day_and_nothing_else(tmp_path: Path, written: str) -> None:
    text = starter_text(TODAY).replace("due: 2032-04-01", f"due: {written}", 1)
    files = bench(tmp_path, text)
    files.set_due("M1", date(2033, 1, 31))
    assert files.read().instruments["M1"].due == date(2033, 1, 31)
    assert files.read().instruments["M2"].due == date(2032, 4, 1)
    assert ("sticker" in written) == ("sticker" in (tmp_path / "bench.yaml").read_text(encoding="utf-8"))
    with pytest.raises(FileFault, match="no instrument 'M8'"):
        files.set_due("M8", date(2033, 1, 31))


def test_a_pin_is_kept_as_a_hash_beside_the_file_that_people_read(tmp_path: Path) -> None:
    files = bench(tmp_path)
    files.make()
    files.keep_pin("t1", pin_hash("2580", b"0123456789abcdef"))
    assert pin_matches(BenchFiles(tmp_path, TODAY).read().pin_hashes["t1"], "2580")
    assert "2580" not in (tmp_path / "bench.json").read_text(encoding="utf-8")
    assert "scrypt" not in (tmp_path / "bench.yaml").read_text(encoding="utf-8")
    with pytest.raises(FileFault, match="'zz' is not among the people"):
        files.keep_pin("zz", "x")


def test_what_was_carried_over_holds_for_its_day_and_keeps_pins_and_later_members(tmp_path: Path) -> None:
    files = bench(tmp_path)
    files.make()
    files.keep_pin("t1", "kept")
    kept = json.loads((tmp_path / "bench.json").read_text(encoding="utf-8"))
    (tmp_path / "bench.json").write_text(json.dumps(kept | {"later": {"mean_ms": "12"}}), encoding="utf-8")
    files.carry(TODAY, Carried({"voltmeter": "M1"}, "21.5"))
    again = BenchFiles(tmp_path, TODAY)
    assert again.carried(TODAY) == Carried({"voltmeter": "M1"}, "21.5")
    assert again.carried(date(2031, 4, 3)) == Carried({})
    assert again.read().pin_hashes == {"t1": "kept"}
    assert json.loads((tmp_path / "bench.json").read_text(encoding="utf-8"))["later"] == {"mean_ms": "12"}


@pytest.mark.parametrize("damage", ["", "{", "[]", '{"format": 2}', '{"format": 1, "pins": {"t1": 5}}', "[" * 99_999])
def test_damage_to_what_the_program_keeps_is_loud_because_pins_must_not_vanish(tmp_path: Path, damage: str) -> None:
    (tmp_path / "bench.json").write_text(damage, encoding="utf-8")
    files = bench(tmp_path, starter_text(TODAY))
    for act in (files.read, lambda: files.carry(TODAY, Carried({}))):
        with pytest.raises(FileFault, match="it keeps the PINs"):
            act()
    assert (tmp_path / "bench.json").read_text(encoding="utf-8") == damage


def test_a_disk_that_refuses_is_said_and_leaves_no_half_file(tmp_path: Path) -> None:
    class FullDisk(Disk):
        def write(self, handle: int, data: bytes) -> int:
            raise OSError(28, os.strerror(28))

    with pytest.raises(BenchFailed, match="Make room on the disk"):
        BenchFiles(tmp_path, TODAY, disk=FullDisk()).make()
    assert list(tmp_path.iterdir()) == []


def test_the_tap_key_and_todays_reference_trials_are_kept_beside_the_pins(tmp_path: Path) -> None:
    files = bench(tmp_path)
    files.make()
    files.keep_pin("t1", pin_hash("2846", b"0123456789abcdef"))
    files.keep_tap_key("space")
    taps = TapHand(1)
    first, second = (_kept_block(taps.block(middle_s), "2031-04-02") for middle_s in (0.5, 1.0))
    for block in (first, second):
        files.keep_block(block)
    again = bench(tmp_path)
    assert (again.read().tap_key, again.blocks()) == ("space", (first, second))
    assert pin_matches(again.read().pin_hashes["t1"], "2846")
    tomorrow = _kept_block(taps.block(), "2031-04-03")
    files.keep_block(tomorrow)
    assert bench(tmp_path).blocks() == (tomorrow,)


@pytest.mark.parametrize(
    "damage", [("programmed", "prog"), ("0.500000", "soon"), ('"tap_key": "space"', '"tap_key": 5')]
)
def test_reference_trials_that_cannot_be_read_are_a_loud_fault(tmp_path: Path, damage: tuple[str, str]) -> None:
    files = bench(tmp_path)
    files.make()
    files.keep_tap_key("space")
    files.keep_block(_kept_block(TapHand(1).block(), "2031-04-02"))
    path = tmp_path / "bench.json"
    path.write_text(path.read_text("utf-8").replace(*damage), "utf-8")
    with pytest.raises(FileFault, match="can't be read"):
        bench(tmp_path).blocks()


def _kept_block(block: TapReference, day: str) -> KeptBlock:
    return KeptBlock("t1", day, f"{day}T08:00:00Z", "xterm, local", block.middle_s, block.trials, block.how)

"""A file is read whole or refused with every fault at its place."""

import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from passcheck.sequence.faults import SequenceFaults
from passcheck.sequence.load import Checked, check_text, digest, load_sequence, read_sequence
from passcheck.sequence.nodes import read_nodes

Board = dict[str, Any]
Check = Callable[[Board], Checked]

SAMPLES = Path(__file__).parents[1] / "samples"

EIGHT = [
    (4, 11, "a whole number is wanted here"),
    (24, 5, "a WARNING is acknowledged by a fact"),
    (47, 13, "has no unit"),
    (55, 13, "no step has the id 'short-5V'; did you mean 'short-5v'?"),
    (66, 13, "the low limit is above the high one"),
    (75, 5, "'limts' is not an entry here: a reading step has none of that name; did you mean 'limits'?"),
    (85, 28, "'cyan' is not one of red, amber, yellow, green, blue or white"),
    (86, 9, "already has the id 'lamps'"),
]


def test_eight_mistakes_give_eight_located_messages_in_one_go() -> None:
    checked = check_text((SAMPLES / "eight-mistakes.yaml").read_bytes(), "eight-mistakes.yaml")
    assert [(fault.line, fault.column) for fault in checked.faults] == [place[:2] for place in EIGHT]
    for fault, (_, _, words) in zip(checked.faults, EIGHT, strict=True):
        assert words in fault.sentence
    assert checked.sequence is None


def spoilt(board: Board, **entries: Any) -> Board:
    """The board with its rail step's entries changed; None takes one out."""
    rail: Board = next(step for step in board["steps"] if step["id"] == "rail-5v")
    rail.update(entries)
    for name in [name for name, value in entries.items() if value is None]:
        del rail[name]
    return board


@pytest.mark.parametrize(
    ("entries", "words"),
    [
        ({"limits": 0.5}, "the unit is missing: 0.5 of what?"),
        ({"limits": "4.85 .. 5.15"}, "has no unit"),
        ({"typical": 5}, "the unit is missing: 5 of what?"),
        ({"typical": "5"}, "the unit is missing: 5 of what?"),
        ({"typical": "5 volt"}, "'volt' is not a unit known here"),
        ({"limits": ["4.85 V", "5.15 V"]}, "a value with its unit is wanted here"),
        ({"limits": "5,0 V .. 5.15.1 V"}, "5.15.1"),
        ({"title": None}, "'title' is missing here: a reading step must have it"),
        ({"title": 5}, 'put it in quotes: "5"'),
        ({"title": ""}, "nothing is written here"),
        ({"title": ["a"]}, "text is wanted here, not a list"),
        ({"title": "x" * 5000}, "longer than the 4000 characters"),
        ({"photo": "yes"}, "true or false is wanted here, not text"),
        ({"minutes": "five"}, "a number is wanted here, not text"),
        ({"minutes": 0}, "it must be more than 0"),
        ({"minutes": 900}, "it must be at most 600"),
        ({"readings": 20}, "it must be at most 10"),
        ({"readings": 1.5}, "a whole number is wanted here, not the number 1.5"),
        ({"kind": "raeding"}, "'raeding' is not a kind of step; did you mean 'reading'?"),
        ({"kind": "zzz"}, "the kinds are reading, power-up"),
        ({"kind": None}, "'kind' is missing here"),
        ({"class": "buss"}, "did you mean 'bus'?"),
        ({"id": "Rail_5V"}, "an id is small letters"),
        ({"power": "a b"}, "no supply is called 'a b'"),
        ({"proves": ["pwr"]}, "no block is called 'pwr'; did you mean 'PWR'?"),
        ({"cautions": ["fault-curent"]}, "did you mean 'fault-current'?"),
        ({"instrument": "voltmetre"}, "did you mean 'voltmeter'?"),
        ({"variant": "beeper"}, "no variant is called 'beeper'"),
        ({"unplugged": ["mains"]}, "no supply is called 'mains'"),
        ({"depends_on": ["short-5"]}, "did you mean 'short-5v'?"),
        ({"fails_when": {"PWE": "always"}}, "no block is called 'PWE'; did you mean 'PWR'?"),
        ({"fails_when": {"PWR": "often"}}, "doesn't fit here|is not one of|wanted here|did you mean"),
        ({"derive": {"form": "drop", "of": ["rail-5v"]}}, "doesn't fit here|is missing here"),
        ({"derive": {"form": "drop", "of": ["rail-5v", "nowhere"]}}, "no step has the id 'nowhere'"),
        ({"node": "red on TP3"}, "entries (name: value) are wanted here, not text"),
        ({"do": {"first": "this"}}, "a list is wanted here, not entries"),
        ({"supply_class": "x"}, "'supply_class' is not an entry here"),
        ({"step_class": "bus"}, "'step_class' is not an entry here: a reading step"),
    ],
)
def test_a_mistake_in_a_step_is_said_in_our_own_words(
    board: Board, check: Check, entries: dict[str, Any], words: str
) -> None:
    checked = check(spoilt(board, **entries))
    assert checked.sequence is None
    sentences = [fault.sentence for fault in checked.faults if fault.severity == "error"]
    assert any(word in sentence for sentence in sentences for word in words.split("|")), sentences
    for sentence in sentences:
        assert "Input should" not in sentence
        assert "Value error" not in sentence


@pytest.mark.parametrize(
    ("section", "name", "value", "words"),
    [
        ("symptoms", "restarts", {"says": "It restarts", "steps": "ripple"}, "did you mean 'ripple-5v'?"),
        ("blocks", "PWR", {"title": "Supply", "feeds": ["LAMPS"]}, "no block is called 'LAMPS'; did you mean 'LAMP'?"),
        ("blocks", "all", {"title": "Everything", "feeds": []}, "'all' has a meaning of its own"),
        ("blocks", "bad name", {"title": "Supply", "feeds": []}, "a name is letters, digits"),
        ("blocks", "Ωmega", {"title": "Supply", "feeds": []}, "a name is letters, digits"),
        ("cautions", "fault-current", {"signal": "CAUTOIN"}, "did you mean 'CAUTION'?"),
        ("cautions", "fault-current", {"signal": "CAUTION"}, "'harm' is missing here: a caution must have it"),
        ("instruments", "voltmeter", {"accuracy": "good"}, "is not an accuracy"),
        ("instruments", "voltmeter", {"acuracy": "1 %"}, "did you mean 'accuracy'?"),
        ("supplies", "none", {"class": "extra-low"}, "'none' has a meaning of its own"),
        ("supplies", "battery", {"class": "extra-low", "cautions": "x"}, "no caution is called 'x'"),
    ],
)
def test_a_mistake_outside_the_steps_is_said_too(
    board: Board, check: Check, section: str, name: str, value: Any, words: str
) -> None:
    board[section][name] = value
    checked = check(board)
    assert checked.sequence is None
    assert any(words in fault.sentence for fault in checked.faults), [fault.sentence for fault in checked.faults]


def test_the_short_round_names_steps_that_exist_and_results_last_a_time(board: Board, check: Check) -> None:
    board["short_round"] = ["rail-5"]
    board["results_last"] = "30 V"
    sentences = [fault.sentence for fault in check(board).faults]
    assert any("no step has the id 'rail-5'" in sentence for sentence in sentences), sentences
    board["short_round"] = ["rail-5v"]
    sentences = [fault.sentence for fault in check(board).faults]
    assert any("'results_last' is compared with a time" in sentence for sentence in sentences), sentences


def test_a_caution_of_a_stored_charge_and_a_soak_check_have_to_exist(board: Board, check: Check) -> None:
    board["stored_energy"][0]["cautions"] = ["nowhere"]
    board["steps"].append(
        {"id": "soak", "kind": "soak", "title": "Soak", "hours": "4 h", "every": "1 h", "check": ["rail"]}
    )
    sentences = " ".join(fault.sentence for fault in check(board).faults)
    assert "no caution is called 'nowhere'" in sentences
    assert "no step has the id 'rail'; did you mean 'rail-5v'?" in sentences


def test_a_key_given_twice_is_refused_with_both_lines() -> None:
    checked = check_text("sequence: A\ntitle: b\nsequence: C\n", "x.yaml")
    fault = next(it for it in checked.faults if "already given" in it.sentence)
    assert (fault.line, fault.column) == (3, 1)
    assert "'sequence' is already given on line 1" in fault.sentence


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ("a: b: c\n", (1, 5), "a second colon"),
        ("a:\n\tb: 1\n", (2, 1), "indent with spaces"),
        ('a: "x\n', (2, 1), "is not closed by here"),
        ("a:\n  b: 1\n c: 2\n", (3, 2), "indentation"),
        ("a: [1, 2\nb: 3\n", (2, 2), "a comma or the closing bracket"),
        ("hello\n", (1, 1), "a sequence begins with entries"),
        ("[a, b]\n", (1, 1), "a sequence begins with entries"),
        ("", (1, 1), "the file is empty"),
    ],
)
def test_what_is_not_yaml_is_told_at_its_place(text: str, place: tuple[int, int], words: str) -> None:
    checked = check_text(text, "x.yaml")
    assert words in checked.faults[0].sentence
    assert (checked.faults[0].line, checked.faults[0].column) == place


def test_a_journal_reads_a_sequence_without_the_rules_and_refuses_what_is_none(board: Board, check: Check) -> None:
    text = (SAMPLES / "small-board.yaml").read_text(encoding="utf-8").replace("needs: [input, short-5v]", "needs: []")
    assert any("no unpowered check" in fault.sentence for fault in check_text(text, "x").faults)
    assert read_sequence(text, "journal line 1").sequence == "OV-24P-MINI"
    with pytest.raises(SequenceFaults, match="journal line 1:"):
        read_sequence(text.replace("kind: look", "kind: loook"), "journal line 1")


def test_loading_gives_the_model_and_the_exact_text() -> None:
    path = SAMPLES / "small-board.yaml"
    sequence, text = load_sequence(path)
    assert sequence.step("rail-5v").title == "5 V logic rail"
    assert text.encode() == path.read_bytes()
    assert digest(text) == hashlib.sha256(path.read_bytes()).hexdigest()
    with pytest.raises(KeyError):
        sequence.step("none")


def test_line_ends_of_another_system_stay_in_the_text(tmp_path: Path) -> None:
    path = tmp_path / "board.yaml"
    path.write_bytes((SAMPLES / "small-board.yaml").read_bytes().replace(b"\n", b"\r\n"))
    _, text = load_sequence(path)
    assert text.encode() == path.read_bytes()


def test_warnings_alone_do_not_refuse_a_file_and_errors_come_all_at_once(tmp_path: Path) -> None:
    path = tmp_path / "board.yaml"
    good = (SAMPLES / "small-board.yaml").read_text(encoding="utf-8")
    path.write_text(good.replace("typical: 5.01 V", "typical: 5.30 V"), encoding="utf-8")
    sequence, text = load_sequence(path)
    assert [fault.severity for fault in check_text(text, "x").faults] == ["warning"]
    assert sequence.revision == 1
    path.write_text((SAMPLES / "eight-mistakes.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    with pytest.raises(SequenceFaults) as refused:
        load_sequence(path)
    assert len(refused.value.faults) == 8
    assert str(refused.value).count(f"{path}:") == 8


ANYTHING = st.recursive(
    st.sampled_from(["", "x", "rail-5v", "none", "all", "4.85 V .. 5.15 V", "at most 5 V", "-5 s", "look", "soak"])
    | st.integers(-5, 5)
    | st.booleans()
    | st.floats(allow_nan=False, allow_infinity=False),
    lambda part: (
        st.lists(part, max_size=3)
        | st.dictionaries(st.sampled_from(["id", "kind", "limits", "check", "of", "signal", "x"]), part, max_size=3)
    ),
    max_leaves=6,
)


def places(data: Any, loc: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """The path of every entry of a file."""
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [loc, *(place for part, held in inner for place in places(held, (*loc, part)))]


@settings(deadline=None)
@given(st.data())
def test_whatever_is_written_in_place_of_an_entry_the_check_ends_in_faults_or_a_sequence(data: st.DataObject) -> None:
    board = read_nodes((SAMPLES / "small-board.yaml").read_text(encoding="utf-8")).data
    for _ in range(data.draw(st.integers(1, 3))):
        *holders, last = data.draw(st.sampled_from(places(board)[1:]))
        here = board
        for part in holders:
            here = here[part]
        here[last] = data.draw(ANYTHING)
    checked = check_text(yaml.safe_dump(board, allow_unicode=True, sort_keys=False), "x.yaml")
    assert (checked.sequence is None) == any(fault.severity == "error" for fault in checked.faults)
    assert list(checked.faults) == sorted(checked.faults, key=lambda fault: (fault.line, fault.column))


@settings(deadline=None)
@given(st.text(max_size=300) | st.binary(max_size=300))
def test_any_text_at_all_ends_in_faults(text: str | bytes) -> None:
    checked = check_text(text, "x.yaml")
    assert checked.sequence is None
    assert checked.faults

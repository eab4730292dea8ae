"""Is a practice sheet the board's own, shorter, with every guard in its place?"""

from pathlib import Path

import hand
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rig import Rig

from passcheck.errors import FileFault
from passcheck.practice.sheet import ShortSoak, kept_steps, short_sheet
from passcheck.sequence.load import check_text, read_sequence
from passcheck.sequence.model import Sequence, SoakStep
from passcheck.sequence.nodes import read_nodes

FOLDER = Path(__file__).parents[2] / "sequences"
BOARDS = {file.stem: file.read_text(encoding="utf-8") for file in sorted(FOLDER.glob("*.yaml"))}
WHOLE = {name: read_sequence(text, name) for name, text in BOARDS.items()}
KEPT = {
    "ek-8": ["b01", "b09", "b14-12v", "b17-zone3", "b20", "final"],
    "ov-24p": ["a01", "a08", "a11", "a13-time", "a17-sw1", "a23", "final"],
    "pm-7": ["e01", "e05-5v", "e14-sw1", "e19", "final"],
    "qm-48": ["c01", "c13-currents", "c19", "c19-15v", "final"],
    "th-12": ["d01", "d05", "d07-sw1", "d15", "final"],
}
NOT_SHORTER = ShortSoak("500 h", "100 h", 10_000, "100 h", "1 h", 1_000)
ODD_SCALARS = """\
sequence: LB-9
revision: 4  # goes
title: 'on'
results_last: 24 h
short_round: look-in
supplies: {}
blocks: {PWR: {title: yes, parts: [010, 'F1'], feeds: []}}
symptoms:
  dark: {says: "no: nothing # at all", steps: look-in, try: ['1.0', null, ~, 12:30, 'true', 1e3]}
steps:
  - id: look-in
    kind: look
    heading: no
    title: plain text
      over two lines
    proves: [PWR]
    minutes: 2.0
    photo: false
    do: >-
      folded
      lines
    points:
      - |
        kept
        lines
      - it''s µ
      - 'it''s "quoted"'
      - "tab\\there"
  - {id: fuse, kind: reading, title: F1, proves: [PWR], limits: at most 1 Ω, seen: at least 0.01 Ω, at: F1}
  - {id: lamp, kind: reading, title: H1, proves: [PWR], limits: at most 9 Ω, seen: at least 0.01 Ω, at: H1}
  - {id: both, kind: reading, title: Both, proves: [PWR], derive: {form: drop, of: [fuse, lamp]}, limits: at most 9 Ω}
"""


def board(name: str, keep: list[str] | None = None, soak: ShortSoak | None = None) -> Sequence:
    return read_sequence(short_sheet(BOARDS[name], keep, soak or ShortSoak()), name)


def soak_of(sequence: Sequence) -> SoakStep:
    return next(step for step in sequence.steps if isinstance(step, SoakStep))


@pytest.mark.parametrize("name", BOARDS)
def test_a_sheet_of_a_demo_board_breaks_no_rule_of_the_trade(name: str) -> None:
    for keep in (None, KEPT[name], ["final"]):
        text = short_sheet(BOARDS[name], keep, ShortSoak())
        assert check_text(text, name).errors == ()
        assert read_sequence(text, name).title == f"{WHOLE[name].title} (practice sheet)"


@settings(deadline=None, max_examples=40)  # each draws and reads a whole board
@given(st.sampled_from(sorted(BOARDS)), st.data())
def test_any_choice_of_steps_gives_a_sheet_whose_powered_steps_stand_behind_their_guards(
    name: str, data: st.DataObject
) -> None:
    whole = WHOLE[name]
    ids = [step.id for step in whole.steps]
    keep = data.draw(st.lists(st.sampled_from(ids), min_size=1, max_size=6, unique=True))
    sheet = board(name, keep)
    left = [step.id for step in sheet.steps]
    assert set(keep) <= set(left)
    assert left == [one for one in ids if one in left]
    assert tuple(left) == kept_steps(whole, keep)
    before = {step.id for step in whole.steps if step.role == "before-power"}
    for step in sheet.steps:
        assert step.needs == whole.step(step.id).needs
        assert set(step.needs) <= set(left)
        assert step.power == "none" or before <= set(left)
        first = [one.id for one in whole.steps if one.kind == "power-up" and one.power == step.power][:1]
        assert set(first) <= set(left)


@pytest.mark.parametrize("name", BOARDS)
def test_but_for_the_soak_a_kept_step_is_the_author_s_own(name: str) -> None:
    sheet = board(name, KEPT[name])
    left = {step.id for step in sheet.steps}
    for step in sheet.steps:
        own = WHOLE[name].step(step.id)
        changed = {"depends_on": own.depends_on and step.depends_on, "heading": step.heading}
        assert set(step.depends_on) == set(own.depends_on) & left
        if step.kind != "soak":
            assert step == own.model_copy(update=changed)


@pytest.mark.parametrize("name", BOARDS)
def test_hazards_supplies_and_blocks_stay_whole(name: str) -> None:
    sheet, whole = board(name, KEPT[name]), WHOLE[name]
    for member in ("supplies", "instruments", "stored_energy", "make_safe", "cautions", "blocks", "variants", "serial"):
        assert getattr(sheet, member) == getattr(whole, member)


def test_what_points_to_a_step_that_was_left_out_is_taken_out() -> None:
    sheet = board("pm-7", ["e08-pointer", "e11", "e12-lamp", "e19"])
    assert set(sheet.symptoms) == {"no-engine-data", "tach-sticks"}
    assert sheet.symptoms["no-engine-data"].steps == ("e02-fitted", "e02-removed", "e02-bench", "e07-errors")
    assert sheet.short_round == ("e05-5v", "e07-errors", "e11")
    assert soak_of(sheet).check == ("e05-5v",)
    bare = board("th-12", ["d01"])
    assert (bare.symptoms, bare.short_round) == ({}, ())


def test_a_group_whose_first_row_is_left_out_keeps_its_heading() -> None:
    sheet, whole = board("ov-24p", ["a13-zero", "a17-sw2"]), WHOLE["ov-24p"]
    assert sheet.step("a13-zero").heading == whole.step("a13-time").heading
    assert sheet.step("a17-sw2").heading == whole.step("a17-sw1").heading


def test_the_soak_is_shortened_and_says_so_on_itself() -> None:
    soak = soak_of(board("ov-24p", ["a23"], ShortSoak("30 min", "15 min", 3, "2 min", "10 s")))
    assert (soak.hours.text, soak.every.text, soak.cycles) == ("30 min", "15 min", 3)
    assert soak.warm_up is not None
    assert soak.off is not None
    assert (soak.warm_up.text, soak.off.text) == ("2 min", "10 s")
    assert soak.title == "Four hours at power (shortened)"
    first, *rest = soak.do
    assert first == ("Shortened for practice: 30 min at power, a look every 15 min, power off for 10 s and on 3 times.")
    assert tuple(rest) == soak_of(WHOLE["ov-24p"]).do


def test_a_soak_is_given_nothing_that_its_author_did_not_ask_for() -> None:
    soak = soak_of(board("th-12", ["d15"]))
    assert (soak.cycles, soak.warm_up, soak.off) == (0, None, None)
    assert soak.do[0] == "Shortened for practice: 20 min at power, a look every 10 min."


@pytest.mark.parametrize("name", BOARDS)
def test_a_soak_that_is_short_already_stays_as_it_is(name: str) -> None:
    assert soak_of(board(name, None, NOT_SHORTER)) == soak_of(WHOLE[name])


@pytest.mark.parametrize("text", [*BOARDS.values(), ODD_SCALARS], ids=[*BOARDS, "odd scalars"])
def test_every_entry_comes_out_as_it_was_written(text: str) -> None:
    before, after = (read_nodes(one).data for one in (text, short_sheet(text, None, NOT_SHORTER)))
    assert after["title"] == f"{before['title']} (practice sheet)"
    assert repr({**after, "title": ""}) == repr({**before, "title": ""})


def test_a_derived_value_brings_the_two_readings_it_is_worked_out_from() -> None:
    assert kept_steps(read_sequence(ODD_SCALARS, "odd"), ["both"]) == ("fuse", "lamp", "both")


def test_a_sheet_that_names_one_step_in_place_of_a_list_is_cut_too() -> None:
    sheet = read_sequence(short_sheet(ODD_SCALARS, ["fuse"], ShortSoak()), "odd")
    assert (sheet.symptoms, sheet.short_round) == ({}, ())


@pytest.mark.parametrize(
    ("keep", "said"),
    [
        (["a06", "a0"], "can't keep step 'a0': OV-24P has none of that id"),
        (["a17-sw9"], r"'a17-sw9': OV-24P has none of that id; did you mean 'a17-sw\d'\?"),
        ([], "has to keep at least one step"),
    ],
)
def test_a_choice_that_can_not_be_kept_is_one_sentence(keep: list[str], said: str) -> None:
    with pytest.raises(FileFault, match=said) as raised:
        board("ov-24p", keep)
    assert "\n" not in str(raised.value)


def test_a_soak_that_would_check_nothing_is_refused() -> None:
    text = BOARDS["th-12"].replace("check: [d05, d15-missed]", "check: [d15-missed]")
    with pytest.raises(FileFault, match="Soak 'd15' would check nothing; keep one of its steps d15-missed as well"):
        short_sheet(text, ["d15"], ShortSoak())


@pytest.mark.parametrize(
    ("soak", "said"),
    [
        (ShortSoak("20 min", "15 min"), "fewer than two looks"),
        (ShortSoak("soon"), "'hours' can't be read"),
        (ShortSoak(off="12 V"), "'off' is '12 V', which is no time"),
    ],
)
def test_a_short_soak_that_is_none_is_refused(soak: ShortSoak, said: str) -> None:
    with pytest.raises(FileFault, match=said):
        board("th-12", None, soak)


def test_a_text_that_is_no_sequence_is_refused_before_anything_is_cut() -> None:
    for text in ("", "a: &b c\nd: *b\n", "sequence: [", "steps: []"):
        with pytest.raises(FileFault):
            short_sheet(text, None, ShortSoak())


@pytest.mark.parametrize("name", BOARDS)
async def test_a_unit_is_taken_in_and_its_first_run_begun_on_the_sheet(name: str) -> None:
    rig = Rig(short_sheet(BOARDS[name], KEPT[name], ShortSoak()))
    bench = await rig.job(serial=hand.serial(WHOLE[name]))
    await rig.do(bench, hand.start(bench.job, "acceptance", "k9", "t2"))
    assert hand.still_open(bench.job, set()) is not None

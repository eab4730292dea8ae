"""Is every slip in a fault list shown where it stands, with what to write?"""

import re

import demo_boards
import pytest

from passcheck.errors import FileFault
from passcheck.practice.fault import Effect, Fault, When
from passcheck.practice.fault_list import read_fault_list

GOOD = """\
unit: OV-24P
short: [a01, a06]
faults:
  tired:
    says: C7 has leaked
    block: PWR
    parts: [C7]
    complaint: She reboots.
    symptoms: [restarts]
    shows:
      - {on: a08, ripple: 142 mVpp, warm: 20 min, under: supply dip, share: 0.5}
      - {on: a15, offset: -9 %, nth: 3}
      - {on: a10, falls to: D}
      - {on: F35, stuck: true}
      - {on: TP9 to TP0, holds charge: 4}
"""
SLIPS = [
    ("unit: OV-24P", "unit: ^EK-8", "the sequence is OV-24P and this list is for 'EK-8'; write unit: OV-24P"),
    ("unit: OV-24P", "^uint: OV-24P", "'uint' is no entry here; write one of faults, first, short, unit"),
    ("[a01, a06]", "^a01", "write a list"),
    ("[a01, a06]", "[a01, ^a99]", "there is no step 'a99'; the sequence has a01"),
    ("block: PWR", "block: ^POWER", "the sequence has no block 'POWER'; write one of PWR, MCU"),
    ("parts: [C7]", "parts: [C7, ^Q5]", "there is no part of PWR 'Q5'; the sequence has F1, D1"),
    ("[restarts]", "[^reboots]", "there is no symptom 'reboots'; the sequence has needle-drops"),
    ("says: C7 has leaked", "says: ^''", "write under 'says' what broke"),
    ("says:", "^tells:", "'tells' is no entry here; write one of block, complaint"),
    ("ripple: 142 mVpp", "^rippel: 142 mVpp", "'rippel' is no entry here; write one of blinks at"),
    ("{on: a08, ripple: 142 mVpp, ", "^{on: a08, ", "say with one word what shows there: reads, source"),
    ("{on: a08, ripple: 142 mVpp, ", "^{on: a08, ripple: 142 mVpp, reads: 5 V, ", "say with one word what shows there"),
    ("142 mVpp", "^142 mV", "'142 mV' is not what shows there; write it in Vpp"),
    ("142 mVpp", "^142", "'142' is not what shows there; write it in Vpp"),
    ("142 mVpp", "^plenty", "plenty"),
    ("on: a08", "on: ^a88", "nothing in the sequence shows 'ripple' at 'a88'; write the id of a step"),
    ("on: a08", "on: ^a11", "nothing in the sequence shows 'ripple' at 'a11'"),
    ("{on: a08, ", "^{", "nothing in the sequence shows 'ripple' at ''"),
    ("20 min", "^20 V", "20 V"),
    ("supply dip", "^a thump", "no symptom of the sequence names the condition 'a thump'; write one of: 20 min warm"),
    ("share: 0.5", "share: ^5", "5 is no share of tries; write 0.7"),
    ("share: 0.5", "share: ^0", "0 is no share of tries"),
    ("nth: 3", "nth: ^6", "count from 1 to 5"),
    ("nth: 3", "nth: ^half", "count from 1 to 5"),
    ("falls to: D", "falls to: D, nth: ^1", "nothing is counted there; leave nth out"),
    ("falls to: D", "falls to: ^F", "'F' can't be; write one of A, B, C, D, E"),
    ("stuck: true", "stuck: ^3", "'stuck' has no size; write stuck: true"),
    ("on: F35", "on: ^F53", "nothing in the sequence shows 'stuck' at 'F53'"),
    ("holds charge: 4", "holds charge: ^4 s", "'4 s' is not what shows there; write it in a bare number"),
    ("on: TP9 to TP0", "on: ^TP8 to TP0", "nothing in the sequence shows 'holds charge' at 'TP8 to TP0'"),
    ("faults:\n", "faults: none\n^rest:\n", "'rest' is no entry here"),
    ("  tired:\n", "  tired: ^broken\n  other:\n", "entries such as 'block: PWR' are wanted here"),
    ("    parts: [C7]\n", "    parts: [C7]\n    ^parts: [C1]\n", "'parts' is given again, first in line 7"),
]
"""What is written in place of what, a caret before the place that is shown, and what is said of it."""


def read(text: str) -> tuple[Fault, ...]:
    return read_fault_list(text, "ov-24p.yaml", demo_boards.board("OV-24P")).faults


def refused(text: str) -> str:
    with pytest.raises(FileFault) as slip:
        read(text)
    return str(slip.value)


def test_a_list_is_read_in_base_units() -> None:
    whole = read_fault_list(GOOD, "ov-24p.yaml", demo_boards.board("OV-24P"))
    assert (whole.board, whole.short) == ("OV-24P", ("a01", "a06"))
    assert whole.faults == (
        Fault(
            name="tired",
            says="C7 has leaked",
            block="PWR",
            parts=("C7",),
            effects=(
                Effect("a08", "ripple", 0.142, when=When(20.0, "supply dip", 0.5)),
                Effect("a15", "offset", -9.0, nth=3),
                Effect("a10", "falls to", seen="D"),
                Effect("F35", "stuck"),
                Effect("TP9 to TP0", "holds charge", 4.0),
            ),
            complaint="She reboots.",
            symptoms=("restarts",),
        ),
    )


@pytest.mark.parametrize(("good", "slip", "why"), SLIPS, ids=[slip.strip() for _good, slip, _why in SLIPS])
def test_a_slip_is_shown_where_it_stands_with_its_remedy(good: str, slip: str, why: str) -> None:
    assert GOOD.count(good) == 1
    before, after = GOOD.replace(good, slip).split("^")
    lines = before.split("\n")
    said = refused(before + after)
    assert said.startswith(f"ov-24p.yaml:{len(lines)}:{len(lines[-1]) + 1}: ")
    assert why in said


@pytest.mark.parametrize(
    "text",
    [
        "",
        "- a list",
        "unit: OV-24P\nfaults: [a\n",
        "unit: OV-24P",
        "unit: OV-24P\nfaults: {tired: {says: x, block: PWR}}",
        "unit: OV-24P\nfaults: {tired: {says: x, block: PWR, shows: []}}",
        "unit: &name OV-24P\nfaults: {}",
        "unit: OV-24P\nfaults: {tired: {says: x, block: PWR, shows: [a08]}}",
    ],
)
def test_a_text_that_is_no_list_is_refused_with_its_place(text: str) -> None:
    assert re.match(r"ov-24p\.yaml:\d+:\d+: .{10,}", refused(text))

"""A paper with every part that there is, for whoever tests how papers are drawn or written."""

from dataclasses import replace

from passcheck.report.document import (
    Attached,
    Box,
    Boxes,
    Cell,
    Code,
    Column,
    Facts,
    Heading,
    NumberLine,
    Outcome,
    PageBreak,
    Paper,
    Part,
    Plot,
    Said,
    Series,
    Table,
    Together,
    ToWrite,
    Words,
)

JOURNAL = b'{"#":0,"event":"job opened"}\n{"#":1,"event":"signed off"}\n'
DIGEST = "5f3a9c01" * 8
CODE = f"A31-0417 7Q22051 journal 4821:{DIGEST} ledger 2381:5f3a9c0112345678"
RAIL = NumberLine(5.01, 0.02, 4.85, 5.15, "5.01 V, 4.85 V .. 5.15 V", before=4.7)
RIPPLE = NumberLine(0.024, 0.004, None, 0.06, "24 mV, at most 60 mV", before=0.142)
INSULATION = NumberLine(9.1e6, 2e5, 1e6, None, "9.1 MΩ, at least 1 MΩ")
JUST_READ = NumberLine(0.2, 0.05, None, None, "0.2 A")
COLUMNS = (
    Column("Step", 2.4),
    Column("As found", 1.2, right=True),
    Column("As left", 1.2, right=True),
    Column("Between its limits", 2),
)
SOAK = Plot(
    "5 V rail while the unit soaked",
    "hours since the start",
    "5 V rail, V",
    (
        Series("this unit", ((0.0, 5.0), (1.0, 5.02), (2.0, 4.99))),
        Series("good unit", ((0.0, 5.03), (2.0, 5.04))),
        Series("second meter", ((0.5, 5.01), (1.5, 5.06)), joined=False),
        Series("one look", ((1.0, 5.1),)),
    ),
    4.85,
    5.15,
    "Between 4.99 V and 5.02 V; limits 4.85 V and 5.15 V.",
)
EVERY_PART: tuple[Part, ...] = (
    Outcome("Released", "Every step passed since the last rework.", good=True),
    Outcome("Returned unrepaired", "This paper is no release.", good=False),
    Outcome("Reproduced", "2 of 2, warm."),
    Facts((("Unit", "Dash panel, serial 7Q22051"), ("Sequence", f"OV-24P revision 3, SHA-256 {DIGEST}"))),
    Facts((("Ambient", "21.5 °C"), ("Supply", "24.0 V, limit 0.30 A"), ("Burn-in", "4 h")), wide=True),
    Heading("The complaint"),
    Words("Fuel goes to nothing after half an hour", "quote"),
    Words("Capacitor C7 leaked onto the supply."),
    Words("Small print.", "small"),
    Words("Agreed by telephone.", "strong"),
    Words("The lid stays on while the unit is warm.", "notice"),
    Heading("Supply", 2),
    Table(
        COLUMNS,
        (
            "Supply",
            ("5 V rail", Cell("FAIL 4.70 V", struck=True), Cell("PASS 5.01 V", strong=True), RAIL),
            ("Ripple on 5 V", "FAIL 142 mV", "PASS 24 mV", RIPPLE),
            "Insulation",
            ("J1 to case", "", "PASS 9.1 MΩ", INSULATION),
            ("Idle current", "0.2 A", "0.2 A", JUST_READ),
        ),
    ),
    SOAK,
    PageBreak(),
    Heading("Received"),
    Boxes((Said("Point 1", 0.4), Box("seen, 1", 0.3), Box("", 0.3), Box("initials", 0.5))),
    Together((Heading("Held together", 2), Words("A line."), Boxes((Box("reading 1", 0.5),)))),
    ToWrite((("Technician", 0.6), ("Date", 0.3), ("Owner", 0.7), ("Date", 0.3))),
    Code(CODE, ("Job A31-0417, unit 7Q22051", "journal, sealed, 4821 bytes, SHA-256", DIGEST[:32], DIGEST[32:])),
)


def some_paper(*parts: Part, practice: bool = False) -> Paper:
    """A sealed job's paper with these parts, or with every part where none is given."""
    return Paper(
        kind="test-record",
        title="Test record",
        shop="Example Repairs, Harbour Road 4",
        job="A31-0417",
        serial="7Q22051",
        made="2031-04-02T09:14:03Z",
        parts=parts or EVERY_PART,
        footer="Bench function test to revision 3 of the sequence on this date. Not an electrical safety test.",
        attached=(Attached("A31-0417.jsonl", "The job's journal, sealed", "application/jsonl", JOURNAL),),
        practice=practice,
    )


def of_another_moment(paper: Paper) -> Paper:
    """The same paper, dated one second later."""
    return replace(paper, made="2031-04-02T09:14:04Z")

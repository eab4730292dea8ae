"""A unit that waits bears the fault that was wanted, with its owner's words, and can be seen on its sheet."""

import pytest
from practising import BOARDS, sheet_of, whole

from passcheck.job.arrival import fits_mask
from passcheck.practice.fault import Effect, Fault
from passcheck.practice.lists import list_for
from passcheck.practice.serials import drawn_from, fault_of
from passcheck.practice.waiting import NO_WORDS, drawn_fault, shows_on, waiting
from passcheck.sequence.load import read_sequence

DRAW = drawn_from("7Q22051")
NAMES = sorted(path.stem for path in BOARDS.glob("*.yaml"))


@pytest.mark.parametrize("name", NAMES)
def test_what_is_drawn_shows_on_the_short_sheet_and_has_a_complaint(name: str) -> None:
    faults, sheet = list_for(whole(name)).faults, read_sequence(sheet_of(name), name)
    drawn = {
        fault.name: fault
        for nth in range(40)
        if (fault := drawn_fault(sheet, faults, drawn_from("7Q22051", nth))) is not None
    }
    assert len(drawn) >= 3
    for fault in drawn.values():
        assert fault.complaint
        assert shows_on(sheet, fault)
        unit = waiting(sheet, faults, fault, DRAW)
        assert fault_of(faults, unit.serial) == fault
        assert fits_mask(unit.serial, sheet.serial or unit.serial)
        assert set(unit.symptoms) <= set(sheet.symptoms)


def test_a_fault_that_no_owner_notices_waits_all_the_same_where_it_is_wanted() -> None:
    sheet = read_sequence(sheet_of(), "sheet")
    quiet = Fault("quiet", "R21 is open", "KEY", ("R21",), (Effect("a06", "reads", 4.7),))
    assert waiting(sheet, (quiet,), quiet, DRAW).complaint == NO_WORDS
    assert drawn_fault(sheet, (quiet,), DRAW) == quiet


def test_nothing_is_drawn_from_nothing() -> None:
    assert drawn_fault(read_sequence(sheet_of(), "sheet"), (), DRAW) is None


def test_a_unit_comes_with_the_variant_that_shows_its_fault() -> None:
    sheet = whole()
    silent = Fault("silent", "LS1 is open", "BEEP", ("LS1",), (Effect("a20", "counts", 0.0),), "It never beeps.")
    assert waiting(sheet, (silent,), silent, DRAW).variants == ("beeper",)
    assert waiting(sheet, list_for(sheet).faults, list_for(sheet).faults[0], DRAW).variants == ()

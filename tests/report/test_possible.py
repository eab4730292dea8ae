"""Does a job have the papers that fit how it stands, and no other?"""

import pytest
from sample_set import rig_of, sample_set, sets

from passcheck.errors import FileFault
from passcheck.job.state import Job
from passcheck.report.document import Kind
from passcheck.report.possible import KINDS, demand_possible, possible, wanted

SET = sets()[0]
SIGNED_OFF, BACK_AT_ONCE, BACK_TRIED, IN_PART = "A31-0001", "A31-0003", "A31-0004", "A31-0005"
ONLY_ARRIVED, AS_FOUND_OPEN, AS_FOUND_CLOSED = "A31-0007", "A31-0008", "A31-0012"
NEVER_AS_FOUND = "A31-0013"


def job(number: str) -> Job:
    """A job of the samples."""
    return rig_of(sample_set(SET).folder, number).shop.look(number)


@pytest.mark.parametrize(
    ("number", "papers"),
    [
        (SIGNED_OFF, ("release-note", "test-record", "findings")),
        (NEVER_AS_FOUND, ("release-note", "test-record")),
        (BACK_AT_ONCE, ("returned-unrepaired",)),
        (BACK_TRIED, ("returned-unrepaired", "test-record", "findings")),
        (IN_PART, ("returned-in-part", "test-record", "findings")),
        (ONLY_ARRIVED, ("blank-sheet",)),
        (AS_FOUND_OPEN, ("test-record", "blank-sheet")),
        (AS_FOUND_CLOSED, ("findings", "test-record", "blank-sheet")),
    ],
)
def test_papers_fit_how_the_job_stands(number: str, papers: tuple[Kind, ...]) -> None:
    assert possible(job(number)) == papers


@pytest.mark.parametrize(
    ("number", "papers"),
    [
        (SIGNED_OFF, ("release-note", "test-record")),
        (BACK_AT_ONCE, ("returned-unrepaired",)),
        (IN_PART, ("returned-in-part", "test-record")),
        (AS_FOUND_OPEN, ("test-record",)),
        (AS_FOUND_CLOSED, ("findings",)),
    ],
)
def test_without_a_word_the_papers_are_made_that_go_out(number: str, papers: tuple[Kind, ...]) -> None:
    assert wanted(job(number)) == papers


def test_a_unit_that_nobody_tried_has_no_paper_that_goes_out() -> None:
    with pytest.raises(FileFault, match=r"nothing was tried on this unit yet.*It has: blank-sheet\."):
        wanted(job(ONLY_ARRIVED))


@pytest.mark.parametrize(
    ("kind", "number", "said"),
    [
        ("release-note", AS_FOUND_OPEN, r"has no release note: it is still open, and .* signed off\. It has: test-rec"),
        ("release-note", BACK_TRIED, "it was returned unrepaired, and this paper is for a unit that was signed off"),
        ("returned-in-part", SIGNED_OFF, "it was signed off, and this paper is for a unit that was returned repaired"),
        ("blank-sheet", SIGNED_OFF, "it was signed off, and a sheet to fill in is for a job that goes on"),
        ("findings", AS_FOUND_OPEN, "no as-found run of it was closed"),
        ("test-record", ONLY_ARRIVED, "nothing was tried on it yet"),
    ],
)
def test_a_paper_that_doesnt_fit_is_refused_with_the_reason_and_what_there_is(
    kind: Kind, number: str, said: str
) -> None:
    with pytest.raises(FileFault, match=said):
        demand_possible(kind, job(number))


@pytest.mark.parametrize("number", [number for number in sample_set(SET).about if number.startswith("A")])
def test_what_is_possible_is_demanded_without_a_word_and_nothing_else_is(number: str) -> None:
    it = job(number)
    for kind in KINDS:
        if kind in possible(it):
            demand_possible(kind, it)
        else:
            with pytest.raises(FileFault, match=number):
                demand_possible(kind, it)

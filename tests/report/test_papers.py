"""Has every kind of paper a writer, and does each bear what the records say against themselves?"""

from dataclasses import replace

import pytest
from sample_set import rig_of, sample_set, sets

from passcheck.errors import FileFault
from passcheck.job.outside import Outside
from passcheck.job.record_head import RecordHead
from passcheck.report.document import Kind, texts
from passcheck.report.papers import WRITERS, make
from passcheck.report.plain import plain_text
from passcheck.report.possible import KINDS, possible
from passcheck.report.source import Source
from passcheck.report.typeset import typeset

SET = sets()[0]
OPEN, SEALED = "A31-0012", "A31-0001"
TORN = "A31-0012.jsonl, line 7: it is not a whole line. Its end was cut short; open the job and it is mended."
HEAD = RecordHead(20417, "ab" * 32, True, 4711, "cd" * 32)


def source_for(outside: Outside) -> Source:
    """What a shop's records say, of which the writers print what they need."""
    return Source(HEAD, outside, "Example Repairs", "Harbour Road 4", (), (), None, None, "passcheck test")


def test_every_kind_of_paper_has_a_writer() -> None:
    assert set(WRITERS) == set(KINDS)


@pytest.mark.parametrize("number", [number for number in sample_set(SET).about if number.startswith("A")])
def test_every_paper_that_a_sample_has_becomes_text_and_page(number: str) -> None:
    shop = rig_of(sample_set(SET).folder, number).shop
    job = shop.look(number)
    for kind in possible(job):
        paper = make(kind, job, source_for(shop.outside(job)))
        assert (paper.kind, paper.job, paper.serial) == (kind, number, job.serial)
        assert plain_text(paper)
        assert typeset(paper, "letter").warnings == ()


def test_what_the_records_say_against_themselves_stands_on_every_paper_once() -> None:
    shop = rig_of(sample_set(SET).folder, OPEN).shop
    job = shop.look(OPEN)
    outside = replace(shop.outside(job), records_faults=(TORN,), records_marks=("Somebody answered for the ledger.",))
    for kind in possible(job):
        said = texts(make(kind, job, source_for(outside)).parts)
        for one in (*outside.records_faults, *outside.records_marks):
            assert any(one in text for text in said)


def test_a_paper_that_doesnt_fit_is_refused() -> None:
    shop = rig_of(sample_set(SET).folder, SEALED).shop
    job, refused = shop.look(SEALED), "blank-sheet"
    kind: Kind = next(one for one in KINDS if one == refused)
    with pytest.raises(FileFault, match="has no blank sheet"):
        make(kind, job, source_for(shop.outside(job)))

"""Is every entry of what was done told in one sentence, and a repair from other work?"""

from story import Story

import sequences
from passcheck.job.commands import AgreeOwner, LogRework, OpenCase, Propose, ReportIncident
from passcheck.job.events import LeftOld
from passcheck.job.remarks import remarks
from passcheck.job.work_done import repairs, work_done


def test_every_entry_is_told_in_order_with_all_that_belongs_to_it() -> None:
    story = Story()
    left = (LeftOld("C2", "renewed last year"),)
    story.do(
        OpenCase("t1", "looked at the fuse"),
        LogRework("t2", ("PWR",), ("C1",), "replaced", "bulging", "A-17 lot 3", left_old=left, photos=("p/1.jpg",)),
        LogRework("t1", ("PWR",), (), "jumper", "track burnt open"),
        LogRework("t1", ("LAMP",), ("DS1",), "swapped in", "comparing", donor="7Q22099"),
        ReportIncident("t1", ("LAMP",), "probe slipped"),
    )
    story.make_safe().do(LogRework("t1", ("LAMP",), ("RN3",), "inspected", "whole", incident=1))
    told = work_done(story.job)
    assert [one.words for one in told] == [
        "case opened 1: looked at the fuse",
        "rework 1: replaced C1 (PWR). bulging; part number A-17 lot 3; C2 left old: renewed last year; photo p/1.jpg",
        "rework 2, a repair, not as drawn: jumper (PWR). track burnt open",
        "rework 3: swapped in DS1 from unit 7Q22099 (LAMP). comparing",
        "incident 1 (LAMP): probe slipped",
        "rework 4: inspected RN3 (LAMP). whole; answers incident 1",
    ]
    assert [one.by for one in told[:2]] == ["t1", "t2"]


def test_a_repair_is_one_by_its_jumper_or_by_hand() -> None:
    story = Story()
    story.do(
        LogRework("t1", ("PWR",), ("C1",), "replaced", "none other to be had", repair=True),
        LogRework("t1", ("PWR",), ("C2",), "replaced", "aged"),
        LogRework("t1", ("PWR",), (), "jumper", "track open"),
    )
    assert repairs(story.job) == ("rework 1", "rework 3")
    assert remarks(story.job, story.outside) == ("rework 1, rework 3: a repair, not as drawn.",)


def test_of_a_unit_that_nothing_was_done_to_there_is_nothing_to_say() -> None:
    story = Story(sequences.sequence())
    assert not work_done(story.job)
    assert not remarks(story.job, story.outside)


def test_a_proposal_is_called_to_mind_until_an_answer_is_entered() -> None:
    story = Story()
    story.do(Propose("t1", ("C1 and C2 renewed",)))
    assert remarks(story.job, story.outside) == ("Proposed to the owner on 2031-04-02, no answer entered yet.",)
    story.do(AgreeOwner("t1", "C1 and C2 renewed", "Ms Orme"))
    assert all("Proposed" not in words for words in remarks(story.job, story.outside))
    story.do(Propose("t1", ("lens polished",)))
    assert "Proposed to the owner on 2031-04-02, no answer entered yet." in remarks(story.job, story.outside)

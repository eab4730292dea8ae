"""A technician at another unit is told of a look that falls due, and again when it is late."""

from dataclasses import replace

from test_rack import NOW, row, tag

from passcheck.job.due_words import DueWords
from passcheck.job.moment import Moment


def after(minutes: float) -> Moment:
    return replace(NOW, boottime_ms=NOW.boottime_ms + int(minutes * 60_000))


def test_a_look_is_told_of_when_it_falls_due_when_it_is_late_and_when_it_is_missed() -> None:
    told, rows = DueWords(), [row("A31-0001", tag(20))]
    assert told.news(rows, after(19)) == ()
    assert told.news(rows, after(20)) == ("On soak: S-A31-0001, DUE NOW. Rack: F7 on the shelf.",)
    assert told.news(rows, after(21)) == ()
    assert told.news(rows, after(30)) == ("On soak: S-A31-0001, LATE by 10 min. Rack: F7 on the shelf.",)
    assert told.news(rows, after(40)) == ()
    assert len(told.news(rows, after(81))) == 1


def test_the_next_look_of_the_same_unit_is_told_of_again() -> None:
    told = DueWords()
    assert told.news([row("A31-0001", tag(0))], after(0))
    later = [row("A31-0001", tag(60))]
    assert told.news(later, after(30)) == ()
    assert told.news(later, after(60))


def test_a_look_that_is_open_is_not_called_for() -> None:
    assert DueWords().news([row("A31-0001", tag(-5, still_to_pass=2))], NOW) == ()
    assert DueWords().news([row("A31-0001", tag(-5, complete=True))], NOW) == ()


def test_each_unit_is_told_of() -> None:
    assert len(DueWords().news([row(f"A31-{n:04d}", tag(-1)) for n in range(3)], NOW)) == 3

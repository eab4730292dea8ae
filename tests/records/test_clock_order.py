"""Is a clock that was set back told where it shows, and nothing else?"""

import pytest
from journal_lines import AT, a_line
from standings import written

from passcheck.job.journal_line import Line
from passcheck.records.clock_order import SENTENCES, set_back


def dated(*moments: str) -> bytes:
    """A journal of as many lines."""
    lines = [a_line(number) for number in range(len(moments))]
    return written(*(Line(one.number, at, *_rest(one)) for one, at in zip(lines, moments, strict=True)))


def _rest(line: Line) -> tuple[str, int, str, dict[str, object]]:
    return line.by, line.clock, line.event, dict(line.data)


@pytest.mark.parametrize(
    ("then", "back"),
    [
        ("2031-04-01T09:14:03.512Z", "1 d 0 h"),
        ("2031-03-02T08:14:03.512Z", "31 d 1 h"),
        ("2031-04-02T06:12:03.512Z", "3 h 2 min"),
        ("2031-04-02T09:12:58.512Z", "1 min 5 s"),
        ("2031-04-02T09:14:01.500Z", "2 s"),
    ],
)
def test_a_line_dated_before_the_one_above_it_is_told_with_its_place_and_by_how_much(then: str, back: str) -> None:
    (said,) = set_back("ledger.jsonl", dated(AT, AT, then, AT))
    assert said.startswith(f"ledger.jsonl, line 3: it is dated {back} before the line above it. ")


@pytest.mark.parametrize("then", [AT, "2031-04-02T09:14:02.512Z", "2031-05-02T09:14:03.512Z"])
def test_a_second_of_a_time_server_and_any_step_forward_are_not(then: str) -> None:
    assert set_back("ledger.jsonl", dated(AT, then)) == ()


def test_ahead_and_back_again_is_told_once_where_it_goes_back() -> None:
    ahead = ["2031-05-02T09:14:03.512Z"] * 3
    (said,) = set_back("A31-0001.jsonl", dated(AT, *ahead, AT, AT))
    assert said.startswith("A31-0001.jsonl, line 5: it is dated 30 d 0 h before")


def test_bytes_that_are_no_line_and_dates_that_are_none_are_passed_over() -> None:
    later, earlier = dated(AT), dated("2031-04-02T08:14:03.512Z")
    torn = b'{"#":1,"at":"2031\n\xff\n\n'
    no_date = dated("2031-13-45T99:00:00.000Z")
    assert len(set_back("x", later + torn + earlier)) == 1
    assert "line 5: it is dated 1 h 0 min" in set_back("x", later + torn + earlier)[0]
    assert set_back("x", no_date + later) == ()
    assert set_back("x", b"") == ()


def test_two_machines_with_two_clocks_do_not_fill_the_screen() -> None:
    said = set_back("ledger.jsonl", dated(*["2031-04-02T09:14:03.512Z", "2031-04-02T09:12:03.512Z"] * 20))
    assert len(said) == SENTENCES + 1
    assert said[-1] == f"ledger.jsonl: {20 - SENTENCES} more of its lines are dated before the line above them."

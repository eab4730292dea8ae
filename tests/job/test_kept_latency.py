"""Is a filmed latency used only on the terminal and in the months for which it was filmed?"""

from dataclasses import replace
from datetime import date

import pytest

from passcheck.job.kept_latency import KeptLatency, latency_now, latency_words
from passcheck.judge.latency import UNMEASURED, Latency

TERMINAL = "xterm-256color, local"
KEPT = KeptLatency("0.0583", "0.0017", ("14", "14", "13", "15", "14"), "240", "2031-04-02", TERMINAL)


def test_on_its_own_terminal_and_in_its_months_the_figure_is_used_and_nothing_is_said() -> None:
    now = latency_now(KEPT, date(2031, 7, 1), TERMINAL)
    assert (now.latency, now.said) == (Latency(0.0583, 0.0017), "")


@pytest.mark.parametrize(
    ("kept", "today", "terminal", "why"),
    [
        (None, date(2031, 4, 2), TERMINAL, "was not measured"),
        (KEPT, date(2031, 7, 2), TERMINAL, "more than 90 days"),
        (KEPT, date(2031, 4, 1), TERMINAL, "more than 90 days from today"),
        (KEPT, date(2031, 4, 2), "xterm-256color, over SSH", "and this is xterm-256color, over SSH"),
    ],
)
def test_otherwise_the_wide_figure_is_used_and_it_is_said_why(
    kept: KeptLatency | None, today: date, terminal: str, why: str
) -> None:
    now = latency_now(kept, today, terminal)
    assert now.latency == UNMEASURED
    assert why in now.said
    assert "30 to 200 ms" in now.said


def test_the_figure_is_shown_no_finer_than_it_is_known() -> None:
    assert latency_words(KEPT) == f"58 ms, standard uncertainty 2 ms, filmed 2031-04-02 on {TERMINAL}"
    assert "uncertainty 1 ms" in latency_words(replace(KEPT, u_s="0.0002"))

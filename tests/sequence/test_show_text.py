"""Text from strangers is shown whole, on one line, and does nothing."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.sequence.show_text import show_text


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("5 V logic rail, 4k7 Ω ± 3 %", "5 V logic rail, 4k7 Ω ± 3 %"),
        ("[red]12[/red] [@click=app.boom]77[/]", "[red]12[/red] [@click=app.boom]77[/]"),
        ("\x1b]52;c;aGk=\x07", "␛]52;c;aGk=␇"),
        ("\x1b[2J\x1b[31m", "␛[2J␛[31m"),
        ("one\ntwo\ttabs\rback\x08", "one␊two␉tabs␍back␈"),
        ("nul\x00del\x7f", "nul␀del␡"),
        ("csi \x9b31m", "csi <009B>31m"),
        ("sn \u202e1234\u2066", "sn <202E>1234<2066>"),
        ("zero\u200bwidth\ufeff", "zero<200B>width<FEFF>"),
        ("line\u2028para\u2029", "line<2028>para<2029>"),
        ("filler\u3164blank\u2800", "filler<3164>blank<2800>"),
        ("heart\ufe0f", "heart<FE0F>"),
        ("24\u00a0V 3\u2009A", "24 V 3 A"),
        ("lone \ud800", "lone <D800>"),
        ("e\u0301", "e\u0301"),
        ("日本", "日本"),
    ],
)
def test_what_a_text_holds_is_seen_and_nothing_of_it_acts(text: str, shown: str) -> None:
    assert show_text(text) == shown


def test_a_pile_of_accents_is_cut_to_three() -> None:
    assert show_text("a" + "\u0301" * 500 + "b") == "a" + "\u0301" * 3 + "…b"


def test_a_long_paste_is_cut_and_says_so() -> None:
    shown = show_text("x" * 10_000)
    assert len(shown) == 2000
    assert shown.endswith("x…")
    assert show_text("x" * 2000) == "x" * 2000
    assert show_text("abcdef", limit=3) == "ab…"


@given(st.text(max_size=200), st.integers(min_value=1, max_value=150))
def test_whatever_comes_in_one_printable_line_within_the_limit_goes_out(text: str, limit: int) -> None:
    shown = show_text(text, limit)
    assert len(shown) <= limit
    assert all(c.isprintable() and unicodedata.category(c) not in {"Cf", "Cc", "Cs", "Zl", "Zp"} for c in shown)
    assert show_text(shown, limit) == shown

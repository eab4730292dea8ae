"""A burst of keys is told from a hand by its speed alone."""

from textual.events import Key
from textual.widgets import Label

from passcheck.app.scan import ScanGuard
from passcheck.app.widgets.typed import takes_text
from passcheck.app.widgets.writing import Writing


def key(name: str, at: float) -> Key:
    event = Key(name, name if len(name) == 1 else None)
    event.time = at
    return event


def typed(guard: ScanGuard, text: str, apart: float) -> float:
    at = 10.0
    for sign in text:
        assert guard.is_held(key(sign, at))
        at += apart
    return at


def test_a_burst_that_ends_in_enter_is_a_code() -> None:
    guard = ScanGuard()
    at = typed(guard, "q7Q22051", 0.0005)
    assert guard.code_ended_by(key("enter", at)) == "q7Q22051"
    assert guard.given_back() == ()


def test_a_blank_inside_a_burst_is_part_of_the_code() -> None:
    guard = ScanGuard()
    at = typed(guard, "A31-0417 7Q22051 K7F3QX", 0.0005)
    assert guard.code_ended_by(key("enter", at)) == "A31-0417 7Q22051 K7F3QX"


def test_a_blank_after_a_hand_s_key_is_a_key_of_its_own() -> None:
    guard = ScanGuard()
    at = typed(guard, "b", 0.08)
    assert not guard.is_held(key(" ", at))


def test_a_scanner_that_ends_with_a_line_feed_is_one_too() -> None:
    guard = ScanGuard()
    at = typed(guard, "7Q22", 0.0005)
    assert guard.code_ended_by(key("ctrl+j", at)) == "7Q22"


def test_keys_of_a_hand_are_given_back_as_they_were() -> None:
    guard = ScanGuard()
    at = typed(guard, "abcd", 0.08)
    assert guard.code_ended_by(key("enter", at)) is None
    assert [one.key for one in guard.given_back()] == ["a", "b", "c", "d"]


def test_a_burst_without_an_end_is_dropped_and_commands_nothing() -> None:
    guard = ScanGuard()
    typed(guard, "sign", 0.0005)
    assert guard.given_back() == ()


def test_two_quick_keys_are_a_hand() -> None:
    guard = ScanGuard()
    typed(guard, "nb", 0.001)
    assert len(guard.given_back()) == 2


def test_space_and_function_keys_are_never_held() -> None:
    guard = ScanGuard()
    assert not guard.is_held(Key("space", " "))
    assert not guard.is_held(Key("f8", None))


def test_a_sheet_of_several_lines_takes_text_however_fast_it_is_typed() -> None:
    assert takes_text(Writing())
    assert not takes_text(Label())

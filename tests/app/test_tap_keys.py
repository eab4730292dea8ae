"""Can only a key that does nothing else become the tap key?"""

import pytest

from passcheck.app.every_screen import load_every_screen
from passcheck.app.tap_keys import key_words, not_the_tap_key_because


@pytest.fixture(autouse=True, scope="module")
def _every_screen() -> None:
    load_every_screen()


@pytest.mark.parametrize(("key", "character"), [("space", " "), ("y", "y"), ("f10", None), ("insert", None)])
def test_keys_without_a_use_are_learned(key: str, character: str | None) -> None:
    assert not_the_tap_key_because(key, character, {}) == ""


@pytest.mark.parametrize(
    ("key", "character", "why"),
    [
        ("enter", "\r", "a pedal must never do that"),
        ("u", "u", "does something else"),  # answers a caution
        ("f8", None, "does something else"),
        ("pagedown", None, "does something else"),
        ("escape", None, "comes late"),
        ("space", None, "F18"),
        ("left_shift", None, "comes late or not at all"),
    ],
)
def test_keys_with_a_use_are_refused(key: str, character: str | None, why: str) -> None:
    assert why in not_the_tap_key_because(key, character, {})


def test_a_key_that_bench_yaml_gives_another_use_is_refused_even_space() -> None:
    assert not_the_tap_key_because("space", " ", {"bench.next": "space"})


def test_a_key_is_named_as_a_person_calls_it() -> None:
    assert [key_words(key) for key in ("space", "y", "page_up")] == ["SPACE", "Y", "PAGE UP"]

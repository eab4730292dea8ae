"""Big letters: every word that the bench shows large is drawn three rows high."""

import pytest

from passcheck.app.widgets.letters import big, big_width

SHOWN = ["READ", "WAIT", "TYPE", "AGAIN", "DONE", "PASS", "FAIL", "DOUBT", "DANGER", "WARNING", "CAUTION", "MAKE SAFE"]


@pytest.mark.parametrize("word", SHOWN)
def test_a_word_is_three_rows_of_one_width_and_fits_eighty_columns(word: str) -> None:
    rows = big(word)
    assert {len(row) for row in rows} == {big_width(word)}
    assert big_width(word) <= 76


def test_no_two_letters_are_drawn_alike() -> None:
    alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
    # An O and a nought are drawn alike on purpose: no word here mixes them.
    assert len({big(letter) for letter in alphabet}) == len(alphabet) - 1 - (big("5") == big("S"))


def test_a_sign_without_a_shape_is_a_question_mark() -> None:
    assert big("#") == big("?")

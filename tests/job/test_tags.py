"""Is what a journal holds the event that happened, for every event there is?"""

import json
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.strategies import from_type

from passcheck.errors import FileFault
from passcheck.job import events as happened
from passcheck.job.events import Event, Unrecognised
from passcheck.job.tags import TAGS, decode, encode

KINDS = [kind for kind in get_args(Event) if kind is not Unrecognised]


def _through_a_file(event: Event) -> Event:
    tag, data = encode(event)
    return decode(tag, json.loads(json.dumps(data, ensure_ascii=True, allow_nan=False)))


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_an_event_comes_back_from_its_line_as_it_went_in(kind: type[Event]) -> None:
    @given(from_type(kind))
    def comes_back(event: Event) -> None:
        assert _through_a_file(event) == event

    comes_back()


def test_every_event_but_the_unrecognised_has_one_tag_of_its_own() -> None:
    assert set(TAGS.values()) == set(KINDS)
    assert len(set(TAGS)) == len(KINDS)


def test_tags_are_words_of_the_trade_and_no_class_names() -> None:
    for tag in TAGS:
        assert tag == tag.lower()
        assert "_" not in tag


@given(st.text(min_size=1, max_size=20).filter(lambda tag: tag not in TAGS), st.dictionaries(st.text(), st.integers()))
def test_a_tag_of_a_later_version_is_kept_with_its_facts(tag: str, data: dict[str, int]) -> None:
    event = decode(tag, data)
    assert event == Unrecognised(tag, data)
    assert encode(event) == (tag, data)


def test_a_member_that_a_later_version_added_does_no_harm() -> None:
    event = decode("note added", {"text": "flux on R41", "step": None, "photos": [], "mood": "good"})
    assert event == happened.NoteAdded("flux on R41")


def test_a_known_tag_without_a_fact_it_needs_is_a_loud_error_that_names_it() -> None:
    with pytest.raises(FileFault, match=r"'energised' can't be read: .*volts"):
        decode("energised", {"supply": "battery", "current_limit": "0.30 A", "step": "rail-5v"})


def test_a_fact_of_the_wrong_shape_is_a_loud_error() -> None:
    with pytest.raises(FileFault, match="attempt judged"):
        decode("attempt judged", {"attempt": 1, "run": 1, "step": "rail-5v", "answer": {"shape": "guess"}})


def test_no_event_carries_a_number_with_a_fraction() -> None:
    """Encoders differ on fractions, so a reading travels as the text that was typed."""
    for kind in KINDS:
        hints = repr(getattr(kind, "__annotations__", {}))
        assert "float" not in hints, kind

"""Is a question worked out once for the very same state, and anew for every other one?"""

from concurrent.futures import ThreadPoolExecutor

import pytest

from passcheck.job.asked_once import JOBS_IN_HAND, asked_once

Words = tuple[str, ...]


class Counted:
    """A question that counts how often it is worked out."""

    def __init__(self) -> None:
        self.worked_out = 0
        self.ask = asked_once(self._joined)

    def _joined(self, first: Words, second: Words) -> str:
        self.worked_out += 1
        return " ".join((*first, *second))


def words(*said: str) -> Words:
    """A new object at each call, equal or not."""
    return said


def test_the_very_same_state_is_worked_out_once() -> None:
    counted, first, second = Counted(), words("fuse"), words("blown")
    assert {counted.ask(first, second) for _ in range(3)} == {"fuse blown"}
    assert counted.worked_out == 1


def test_an_equal_state_that_is_another_object_is_worked_out_anew() -> None:
    counted = Counted()
    for _ in range(2):
        counted.ask(words("fuse"), words("blown"))
    assert counted.worked_out == 2


def test_one_part_that_changed_is_enough() -> None:
    counted, first = Counted(), words("fuse")
    assert counted.ask(first, words("blown")) == "fuse blown"
    assert counted.ask(first, words("whole")) == "fuse whole"


def test_no_more_is_kept_than_the_jobs_in_hand() -> None:
    counted, second = Counted(), words("blown")
    units = [words(str(number)) for number in range(JOBS_IN_HAND + 1)]
    for unit in (*units, *units[1:]):
        counted.ask(unit, second)
    assert counted.worked_out == len(units), "all but the first are still known"
    counted.ask(units[0], second)
    assert counted.worked_out == len(units) + 1


def test_a_new_object_never_gets_the_answer_of_one_that_lay_in_its_place() -> None:
    counted, second = Counted(), words("blown")
    for number in range(20 * JOBS_IN_HAND):
        assert counted.ask(words(str(number)), second) == f"{number} blown"


def test_what_could_not_be_worked_out_is_asked_again() -> None:
    tries: list[Words] = []

    @asked_once
    def question(first: Words) -> str:
        tries.append(first)
        return first[0]

    nothing = words()
    for _ in range(2):
        with pytest.raises(IndexError):
            question(nothing)
    assert len(tries) == 2


def test_threads_that_look_at_many_jobs_get_each_its_own_answer() -> None:
    counted, second = Counted(), words("blown")
    units = [words(str(number)) for number in range(3 * JOBS_IN_HAND)]
    with ThreadPoolExecutor(4) as threads:
        told = threads.map(lambda unit: counted.ask(unit, second), units * 50)
        assert list(told) == [f"{unit[0]} blown" for unit in units] * 50

"""Does every line get one answer, whatever stands on it?"""

import json
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from passcheck.cli.door.answering import LONGEST_LINE, answer_line
from passcheck.cli.door.table import TABLE

json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=9) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=12,
)


def answered(line: str) -> tuple[dict[str, Any], bool]:
    text, good = answer_line(line)
    assert "\n" not in text
    assert all(" " <= character <= "~" for character in text)
    answer: dict[str, Any] = json.loads(text)
    assert good is ("error" not in answer)
    return answer, good


def error(**fields: object) -> str:
    answer, good = answered(json.dumps(fields))
    assert not good
    return str(answer["error"])


LATENCY: dict[str, object] = {"compute": "latency", "frames": 12, "fps": 240}


def test_a_good_object_is_answered_with_its_name_first() -> None:
    answer, good = answered(json.dumps(LATENCY))
    assert good
    assert list(answer) == ["compute", "latency_s", "u_s"]


def test_the_computations_are_those_that_are_promised() -> None:
    promised = (
        "reading conformity in-circuit derived response presses latency blink count-rate duty sweep marks rate-bound "
        "zero-failure acceleration soak-evidence latent drift cusum yield returns paired mcnemar suspects next-step"
    )
    assert list(TABLE) == promised.split()


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"fps": None}, "fps has to be a number"),
        ({"fps": "240"}, "fps has to be a number"),
        ({"fps": True}, "fps has to be a number"),
        ({"fps": 0}, "fps has to be above 0"),
        ({"fps": 1e300}, "fps has to lie between"),
        ({"frames": [1, "x"]}, "frames has to be number, 0 or more or list"),
        ({"frame": 12}, "there is no field frame here; the fields are frames, fps"),
        ({"compute": "latncy"}, "there is nothing called latncy; did you mean latency?"),
        ({"compute": "zzz"}, "there is nothing called zzz; there are reading"),
        ({"compute": 5}, "compute names what is wanted"),
    ],
)
def test_a_field_that_will_not_do_is_named(fields: dict[str, object], said: str) -> None:
    assert error(**{**LATENCY, **fields}).startswith(said)


def test_a_missing_field_is_named_with_what_it_takes() -> None:
    assert error(compute="latency", frames=12) == "fps is missing (number above 0; true frames a second)."


def test_an_optional_field_may_be_null() -> None:
    fields = {"compute": "conformity", "value": 1, "u": 0.1, "low": None, "high": 2}
    assert answered(json.dumps(fields))[1]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("hello", "this is no JSON"),
        ('{"compute": "latency"', "this is no JSON"),
        ("[1]", "an object is wanted"),
        ("5", "an object is wanted"),
        ('{"compute": "latency", "frames": 1, "fps": NaN}', "fps has to be a number, and NaN is none"),
        ('{"compute": "latency", "frames": 1, "fps": -Infinity}', "fps has to lie between"),
        ('{"compute": "latency", "frames": 1e999, "fps": 1}', "frames has to be"),
        ('{"compute": "latency", "fps": 1, "fps": 2}', "fps is given twice"),
        ('{"compute": "latency", "frames": ' + "9" * 5000 + ', "fps": 1}', ""),
        ('{"compute": "latency", "frames": 1, "fps": ' + "9" * 400 + "}", "fps has to lie between"),
        ("[" * 100_000, ""),
        (" " * (LONGEST_LINE + 1), "the line is longer"),
        ('{"compute": "\\u001b[2J\\u007f"}', "there is nothing called"),
    ],
)
def test_a_line_that_is_no_object_gets_an_error_of_its_own(line: str, said: str) -> None:
    answer, good = answered(line)
    assert not good
    assert answer["error"].startswith(said)
    assert answer["error"].endswith((".", "?"))


@pytest.mark.parametrize("name", list(TABLE))
def test_an_empty_object_is_told_what_it_lacks(name: str) -> None:
    assert "is missing" in error(compute=name)


@given(st.sampled_from(list(TABLE)), st.data())
def test_no_value_whatever_ends_the_door(name: str, data: st.DataObject) -> None:
    fields = {field.name: data.draw(json_values) for field in TABLE[name].fields}
    answer, _good = answered(json.dumps({"compute": name, **fields}))
    assert answer["compute"] == name


numbers = st.one_of(st.floats(-1e15, 1e15), st.integers(-3, 12), st.floats(0, 1), st.sampled_from([1e-300, 1e15, 0]))
NUMERIC = sorted(set(TABLE) - {"suspects", "next-step", "derived", "acceleration"})


@given(st.sampled_from(NUMERIC), st.data())
def test_no_number_whatever_ends_the_door(name: str, data: st.DataObject) -> None:
    fields: dict[str, object] = {}
    for field in TABLE[name].fields:
        if "list" in field.kind.words:
            fields[field.name] = data.draw(st.lists(numbers, min_size=2, max_size=12))
        elif "true or false" in field.kind.words:
            fields[field.name] = data.draw(st.booleans())
        elif field.required or data.draw(st.booleans()):
            fields[field.name] = data.draw(numbers)
    answer, good = answered(json.dumps({"compute": name, **fields}))
    assert not good or all(not isinstance(value, float) or math.isfinite(value) for value in answer.values())
    if good:
        known = {each.rstrip("?") for each in TABLE[name].answers}
        assert set(answer) - {"compute"} <= known
        required = {each for each in TABLE[name].answers if not each.endswith("?") and each != "why"}
        assert required <= set(answer)

"""Do suspects and the next step come through the door as they come out of the functions?"""

import math
from typing import Any

import pytest
from door_asked import ask
from reference_cases import reference_case

from passcheck.cli.door.suspects import COMPUTES


def fields_of(inputs: dict[str, Any]) -> dict[str, Any]:
    """A reference case as an object of the door."""
    return {
        "blocks": inputs["blocks"],
        "steps": inputs["steps"],
        "prior": inputs["prior"],
        "q": {
            block: dict(zip(inputs["steps"], row, strict=True))
            for block, row in zip(inputs["blocks"], inputs["q"], strict=True)
        },
        "leak": inputs["leak"],
        "results": {**dict.fromkeys(inputs["failed"], "fail"), **dict.fromkeys(inputs.get("passed", ()), "pass")},
    }


def f04() -> dict[str, Any]:
    return fields_of(reference_case("F04")[0])


def test_f04_suspects_after_a_failed_button_and_code() -> None:
    _inputs, expected, tolerance = reference_case("F04")
    answer = ask("suspects", f04())
    assert answer["posterior"] == pytest.approx(expected["p_block_faulty"], abs=tolerance["abs"])
    assert answer["ranking"] == expected["ranking"]
    assert answer["bits"]["input"]["button"] == pytest.approx(4.832, abs=0.001)
    assert answer["bits"]["driver"]["lamp"] == pytest.approx(math.log2(1 - 0.85))


def test_f06_the_step_that_tells_most_a_minute() -> None:
    inputs, expected, tolerance = reference_case("F06")
    answer = ask("next-step", {**fields_of(inputs), "minutes": inputs["minutes"]})
    assert answer["gain_bit"] == pytest.approx(expected["gain_bit"], abs=tolerance["abs"])
    assert answer["gain_per_min"] == pytest.approx(expected["gain_per_min"], abs=tolerance["abs"])
    assert answer["next"] == expected["next"]


def test_f09_bits_of_one_step_for_one_block() -> None:
    inputs, expected, tolerance = reference_case("F09")
    fields = {"blocks": ["B"], "steps": ["s"], "prior": [0.1], "q": {"B": {"s": inputs["q"]}}, "leak": inputs["leak"]}
    for outcome, name in (("fail", "llr_fail_bit"), ("pass", "llr_pass_bit")):
        answer = ask("suspects", {**fields, "results": {"s": outcome}})
        assert answer["bits"]["B"]["s"] == pytest.approx(expected[name], abs=tolerance["abs"])


def test_priors_and_leaks_are_given_by_name_or_in_order() -> None:
    fields = f04()
    named = {
        **fields,
        "prior": dict(zip(fields["blocks"], fields["prior"], strict=True)),
        "leak": dict(zip(fields["steps"], fields["leak"], strict=True)),
    }
    assert ask("suspects", named) == ask("suspects", fields)


def test_doubt_is_a_probability_and_null_is_a_step_not_run() -> None:
    fields = f04()
    certain = {**fields, "results": {"button": 1, "rail": 0, "lamp": None}}
    worded = {**fields, "results": {"button": "fail", "rail": "pass"}}
    assert ask("suspects", certain) == ask("suspects", worded)
    doubtful = {**fields, "results": {"button": 0.5, "rail": "pass"}}
    p_input = [ask("suspects", each)["posterior"]["input"] for each in (doubtful, worded)]
    assert p_input[0] < p_input[1]


@pytest.mark.parametrize("rail", ["rail", ["rail"]])
def test_a_fail_behind_a_dead_rail_counts_once(rail: object) -> None:
    fields = {**f04(), "results": {"rail": "fail", "button": "fail"}, "depends": {"button": rail, "lamp": "button"}}
    answer = ask("suspects", fields)
    assert answer["explained"] == ["button"]
    assert {steps["button"] for steps in answer["bits"].values()} == {0}
    alone = ask("suspects", {**fields, "results": {"rail": "fail"}})
    assert answer["posterior"] == alone["posterior"]
    offered = ask("next-step", {**fields, "minutes": {"lamp": 1, "code": 1}})
    assert set(offered["gain_bit"]) == {"code"}


def test_what_is_told_has_bench_and_a_fault_not_listed_and_no_percentage() -> None:
    answer = ask("suspects", f04())
    told = " ".join(answer["told"])
    assert answer["told"][0].startswith("Suspect 1: input, 2.3 bit ahead of the next: button failed (+4.8 bit)")
    assert "BENCH" in told
    assert "a fault not listed" in told
    assert "%" not in told
    assert "relative to what the sequence declares" in answer["why"]


def test_a_forbidden_step_is_not_offered() -> None:
    fields = {**fields_of(reference_case("F06")[0]), "minutes": {"rail": 1, "lamp": 2}}
    assert ask("next-step", {**fields, "forbidden": ["rail"]})["next"] == "lamp"


def test_nothing_is_next_when_one_block_stands_far_ahead() -> None:
    fields = {"blocks": ["A", "B"], "steps": ["s", "t"], "prior": [0.5, 0.001], "q": {"A": {"s": 0.9}}, "leak": 0.01}
    answer = ask("next-step", {**fields, "results": {"s": "fail"}, "minutes": {"t": 1}})
    assert answer["next"] is None
    assert answer["why"].startswith("A stands far ahead")


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"prior": [0.1]}, "prior has 1 values for 4 names"),
        ({"leak": [0.1]}, "leak has 1 values for 5 names"),
        ({"results": {"button": "in doubt"}}, "results button has to be"),
        ({"results": {"needle": "fail"}}, "no step needle"),
        ({"q": {"supply": {"rail": 1.5}}}, "q supply rail has to lie between 0 and 1"),
        ({"q": {"relay": {"rail": 0.5}}}, "no block relay"),
        ({"depends": {"rail": ["rail"]}}, "depends on itself"),
        ({"depends": {"rail": ["lamp"], "lamp": ["rail"]}}, "depends on itself"),
        ({"blocks": []}, "blocks has to hold 1"),
    ],
)
def test_what_cannot_be_ranked_is_refused_with_a_reason(changed: dict[str, Any], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        ask("suspects", {**f04(), **changed})


@pytest.mark.parametrize("compute", COMPUTES)
def test_the_answers_are_those_that_the_help_promises(compute: str) -> None:
    fields = f04() | ({"minutes": {"lamp": 1}} if compute == "next-step" else {})
    assert set(ask(compute, fields)) == set(COMPUTES[compute].answers)

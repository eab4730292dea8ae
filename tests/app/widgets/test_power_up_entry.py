"""The first power-up is answered by a current and by what the limit light did."""

import pytest
from one_entry import step_of, typed

from passcheck.job.answers import PowerUpAnswer

STEP = step_of("power-up", power="battery", limits="0.10 A .. 0.22 A", after="2 s")


@pytest.mark.parametrize(("typed_light", "light"), [("no", "off"), ("n", "off"), ("b", "brief"), ("stays", "on")])
async def test_a_current_and_the_limit_light(typed_light: str, light: str) -> None:
    answers, _ = await typed(STEP, "0.15", "enter", typed_light, "enter")
    (answer,) = answers
    assert isinstance(answer, PowerUpAnswer)
    assert (answer.current, answer.limit_light) == ("0.15 A", light)


async def test_the_limit_light_is_never_assumed() -> None:
    answers, said = await typed(STEP, "0.15", "enter", "enter")
    assert answers == []
    assert "Limit light" in said

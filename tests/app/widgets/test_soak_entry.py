"""A soak is no answer that is typed: its entry says what it is and where it is started."""

from one_entry import step_of, typed

from passcheck.app.widgets.kinds import entry_for

STEP = step_of("soak", power="battery", hours="4 h", check=["rail"], every="60 min")


async def test_the_soak_says_what_it_is_and_where_it_is_started() -> None:
    answers, said = await typed(STEP)
    assert answers == []
    assert "4 h at power, looked at every 60 min by 1 step." in said
    assert "rack" in said


def test_nothing_can_be_answered_there() -> None:
    assert not entry_for(STEP).answerable

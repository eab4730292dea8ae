"""The practice unit in characters: words say it all, and nothing is wider than its frame."""

import pytest

from passcheck.app.widgets.unit_lines import dial_content, unit_content
from passcheck.practice.seen import ButtonSeen, Dial, LampSeen, Panel

WIDTH = 32
FUEL = Dial("fuel (M1)", ((0.0, "E"), (0.25, "1/4"), (0.5, "1/2"), (0.75, "3/4"), (1.0, "F")), 0.5, "50 %")
FULL = Panel(
    supply=("battery on 24.0 V, 151 mA, limit light off",),
    act="press SW4",
    meters=(("M1 TP3 to TP0", "5.01 V"),),
    lamps=(
        LampSeen("DS1", "red", "LIT"),
        LampSeen("DS2", "amber", "dark"),
        LampSeen("the counter of SW4 in the service page goes up by one", "", "dark"),
    ),
    dial=FUEL,
    buttons=(ButtonSeen("SW4", 3, 2),),
    found=(("restarts, seen as the lamp check coming on again", "0"), ("1", "as listed")),
    facts=(("Current limit in the limit preset display", "0.30 A"),),
)


def lines(panel: Panel, width: int = WIDTH, *, with_facts: bool = True) -> list[str]:
    return str(unit_content(panel, width, "Enter: press SW4", with_facts=with_facts)).splitlines()


@pytest.mark.parametrize("width", [24, 32, 80])
def test_no_line_is_wider_than_the_frame(width: int) -> None:
    assert max(map(len, lines(FULL, width))) <= width


def test_every_display_lamp_button_and_finding_is_told_in_words() -> None:
    shown = lines(FULL)
    assert "M1 TP3 to TP0: 5.01 V" in shown
    assert "LIT  DS1 red    dark DS2 amber" in [line.rstrip() for line in shown]
    assert "[SW4]  pressed 3  unit counted 2" in shown
    assert "pointer reads 50 %" in shown
    assert "1: as listed" in shown
    assert shown[-1] == "preset display: 0.30 A"


def test_facts_stay_away_where_they_are_not_asked_for() -> None:
    assert "0.30 A" not in " ".join(lines(FULL, with_facts=False))


def test_a_pointer_stands_over_its_place_on_the_scale() -> None:
    name, pointer, scale, marks, reads = str(dial_content(FUEL, 41)).splitlines()
    assert name == "fuel (M1)"
    assert pointer.index("V") == marks.index("1/2") + 1 == 20
    assert [place for place, sign in enumerate(scale) if sign == "+"] == [0, 10, 20, 30, 40]
    assert reads == "pointer reads 50 %"


@pytest.mark.parametrize(("share", "column"), [(-0.4, 0), (1.7, 40)])
def test_a_pointer_beyond_its_scale_stands_at_the_stop(share: float, column: int) -> None:
    assert str(dial_content(Dial("water", FUEL.marks, share), 41)).splitlines()[1].index("V") == column


def test_markup_in_a_boards_words_is_only_text() -> None:
    panel = Panel(found=(("[bold]beeps[/bold]", "3"),), act="")
    assert str(unit_content(panel, 40, "", with_facts=False)) == "[bold]beeps[/bold]: 3"

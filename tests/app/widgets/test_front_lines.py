"""The front in characters: letters say what is lit, moved and pressed, and nothing sticks out of the plate."""

import pytest

from passcheck.app.widgets.front_lines import front_content
from passcheck.practice.front import Front, Key
from passcheck.practice.seen import Dial, LampSeen

EMPTY_TO_FULL = ((0.0, "E"), (0.5, "½"), (1.0, "F"))
COLOURS = ("red", "amber", "green", "blue", "white", "yellow")
FULL = Front(
    "OV-24P 2J87229",
    powered=True,
    dials=(Dial("fuel (M1)", EMPTY_TO_FULL, 0.5), Dial("temperature (M2)", ((0.0, ""), (1.0, "")), 0.0)),
    figures=(("oil pressure in digits (LCD)", "400 kPa"),),
    lamps=tuple(LampSeen(f"DS{nth}", COLOURS[nth % 6], "LIT" if nth == 7 else "dark") for nth in range(1, 13)),
    keys=tuple(Key(f"SW{nth}", nth == 4) for nth in range(1, 7)),
    codes="F31 F34",
)


def lines(front: Front, width: int = 32, *, roomy: bool = False) -> list[str]:
    return str(front_content(front, width, roomy=roomy)).splitlines()


@pytest.mark.parametrize("roomy", [True, False])
@pytest.mark.parametrize("width", [24, 31, 32, 44])
def test_the_plate_is_as_wide_as_it_may_be_on_every_line(width: int, roomy: bool) -> None:
    assert {len(line) for line in lines(FULL, width, roomy=roomy)} == {width}


def test_a_dash_panel_fits_under_a_reading() -> None:
    four = Front(**{name: getattr(FULL, name) for name in ("name", "lamps", "keys", "codes")}, dials=FULL.dials * 2)
    assert len(lines(four)) <= 12


def test_the_plate_bears_the_unit_at_its_top_and_its_codes_at_its_foot() -> None:
    top, *_between, foot = lines(FULL)
    assert top.startswith("╭─ OV-24P 2J87229 ─")
    assert foot.startswith("╰─ codes  F31 F34  ─")
    assert lines(Front("X", lamps=FULL.lamps))[-1] == "╰" + "─" * 30 + "╯"


def test_a_pointer_stands_between_the_ends_of_its_scale() -> None:
    fuel, temperature = lines(FULL)[1:3]
    assert fuel.index("V") - fuel.index("└") == pytest.approx(fuel.index("┘") - fuel.index("V"), abs=1)
    assert temperature.index("V") == fuel.index("E") + 2
    pointer, scale = lines(FULL, roomy=True)[1:3]
    assert pointer.index("V") - scale.index("└") == pytest.approx(scale.index("┘") - pointer.index("V"), abs=1)


def test_names_are_short_as_long_as_they_differ() -> None:
    twice = Front("X", figures=(("level in bar", "1"), ("level in metres", "2"), ("speed (M3)", "3")))
    shown = " ".join(lines(twice))
    assert "level in bar " in shown
    assert "level in metres " in shown
    assert "(M3)" not in shown


def test_a_lit_lamp_has_the_letter_of_its_colour_and_a_dark_one_a_dot() -> None:
    names, cells = lines(Front("X", lamps=(*FULL.lamps[:2], LampSeen("DS3", "green", "LIT"))))[1:3]
    assert names.split() == ["│", "DS1", "DS2", "DS3", "│"]
    assert cells.split() == ["│", "·", "·", "G", "│"]
    assert cells.index("G") == names.index("DS3") + 1


def test_a_lamp_that_flickers_says_so_without_colour() -> None:
    assert "~R~" in " ".join(lines(Front("X", lamps=(LampSeen("DS1", "red", "flickers"),))))


def test_an_arrow_points_at_the_button_of_the_step_and_its_brackets_turn_when_it_is_pressed() -> None:
    two = Front("X", keys=(Key("SW1"), Key("SW2", wanted=True)))
    assert "[SW1]>[SW2]" in lines(two)[1]
    assert ">]SW2[" in lines(Front("X", keys=(Key("SW1"), Key("SW2", wanted=True, down=True))))[1]


def test_many_buttons_share_the_letters_of_their_designators_on_one_line_where_room_is_short() -> None:
    assert any("SW [1] [2] [3]>[4] [5] [6]" in line for line in lines(FULL))
    assert any("[SW1] [SW2] [SW3]" in line for line in lines(FULL, roomy=True))
    mixed = Front("X", keys=tuple(map(Key, ("SW1", "START", "S3", "STOP", "SW5"))))
    assert sum("[" in line for line in lines(mixed)) == 2


def test_markup_in_a_boards_words_is_only_text() -> None:
    assert "[bold]x[/]" in " ".join(lines(Front("X", figures=(("[bold]x[/]", "1"),))))

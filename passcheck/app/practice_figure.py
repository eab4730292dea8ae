"""Which display shows the figure that a screen asks for now, and what does it show?

The newcomer reads it there and types it: nothing is filled in.
"""

import math
from typing import Any

from passcheck.app.desk_screen import DeskScreen
from passcheck.app.screens.caution import CautionScreen
from passcheck.app.screens.make_safe import MakeSafeScreen, Reading
from passcheck.app.screens.power_on import PowerOnScreen
from passcheck.app.screens.run_start import RunStartScreen
from passcheck.app.screens.sign_off import SignOffScreen
from passcheck.app.screens.soak import LookSlip, SoakSlip
from passcheck.app.screens.supply_read import SupplyReadScreen
from passcheck.app.widgets.fields import Fields
from passcheck.job.moment import Moment
from passcheck.practice import figures, probing
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.displays import shown_inside
from passcheck.sequence.model import StoredEnergy

STILL_FALLS = "It still falls, wait for it.  "
WAIT = "Wait {} s more.  "
SERIAL = "The label on the unit reads {}"


def figure_words(screen: DeskScreen[Any], practice: PracticeBench) -> str:
    """One sentence that names the display and its figure; "" where no display is asked for."""
    match screen:
        case CautionScreen():
            asked = screen.asked
            if not asked or asked[0].confirm is None:
                return ""
            shown = figures.fact(practice, screen.bench.job, asked[0].confirm, screen.bench.moment())
            return f"The display shows {shown}"
        case SignOffScreen() if screen.focused is not None and screen.focused.id == "serial":
            return SERIAL.format(screen.bench.job.serial)
        case MakeSafeScreen() | PowerOnScreen() | RunStartScreen() | SoakSlip() | SupplyReadScreen():
            place = screen.query_one(Fields).at_hand
            return "" if place is None else _of_field(screen, place, practice)
        case _:
            return ""


def _of_field(
    screen: MakeSafeScreen | PowerOnScreen | RunStartScreen | SoakSlip | SupplyReadScreen,
    place: int,
    practice: PracticeBench,
) -> str:
    job, moment = screen.bench.job, screen.bench.moment()
    match screen:
        case MakeSafeScreen():
            at, reading = screen.asked_at(place)
            return _made_safe(screen, at, reading, practice)
        case PowerOnScreen():
            volts, limit = figures.as_set(job, screen.supply)
            return f"The supply's display shows {limit if place else volts}"
        case SupplyReadScreen():
            return _supply(figures.supply(practice, job, screen.supply, moment), place)
        case RunStartScreen():
            if place == 0:
                return SERIAL.format(job.serial)
            asks_air = screen.query_one(Fields).asks[place].label == "Ambient"
            return f"The thermometer shows {figures.ambient(job)}" if asks_air else ""
        case _:
            return _soak(screen, place, practice, moment)


def _made_safe(screen: MakeSafeScreen, at: StoredEnergy | None, reading: Reading, practice: PracticeBench) -> str:
    job, moment = screen.bench.job, screen.bench.moment()
    if reading in ("source", "source again"):
        limits = screen.bench.outside().settings.known_source.limits
        return f"The tester shows {shown_inside(limits)}"
    if reading == "terminals":
        return f"The tester shows {probing.at_terminals(practice, job, moment)}"
    if at is None:
        return ""
    shown = probing.charge(practice, job, at, moment, reverse=reading == "reversed", ac=reading == "ac")
    falls = reading != "ac" and probing.still_falls(practice, job, at, moment)
    waits = math.ceil(screen.wait_left_s) if reading == "again" else 0
    before = WAIT.format(waits) if waits else STILL_FALLS if falls else ""
    return f"{before}The tester shows {shown}"


def _supply(shows: figures.SupplyShows, place: int) -> str:
    if place == 2:
        return f"The limit light is {'LIT' if shows.light else 'dark'}"
    return f"The supply's display shows {shows.amps if place else shows.volts}"


def _soak(screen: SoakSlip, place: int, practice: PracticeBench, moment: Moment) -> str:
    """The fields of a start begin with the display; those of a look with the serial."""
    job, soak = screen.bench.job, screen.soak
    at = place
    if isinstance(screen, LookSlip):
        if place == 0:
            return SERIAL.format(job.serial)
        at = place - 1
    if at < 3:
        return _supply(figures.supply(practice, job, soak.power, moment), at)
    label = screen.query_one(Fields).asks[place].label
    if label.startswith("Ambient"):
        return f"The thermometer shows {figures.ambient(job, soak.ambient)}"
    if label.startswith("Power cycles"):
        return f"The timer in the supply's lead counted {figures.cycles_since(job, soak)}"
    if soak.continuity is not None and at == 3:
        return f"The meter reads {figures.hour_meter(job, soak, moment)}"
    return ""

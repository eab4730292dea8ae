"""Which point of a job does a screen stand at, for whoever coaches a newcomer there?"""

from typing import Any

from passcheck.app.desk_screen import DeskScreen
from passcheck.app.job_screen import JobModal, JobScreen
from passcheck.app.screens.bench import BenchScreen
from passcheck.app.screens.caution import CautionScreen
from passcheck.app.screens.close_run import CloseRunSlip
from passcheck.app.screens.history import HistoryScreen
from passcheck.app.screens.how_tried import HowTriedSlip
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.map_complaint import MapComplaintSlip
from passcheck.app.screens.note import NoteScreen
from passcheck.app.screens.power_on import PowerOnScreen
from passcheck.app.screens.put_back import PutBackSlip
from passcheck.app.screens.rack import RackScreen
from passcheck.app.screens.rework import ReworkScreen
from passcheck.app.screens.run_start import RunStartScreen
from passcheck.app.screens.shelf import ShelfScreen
from passcheck.app.screens.sign_off import SignOffScreen
from passcheck.app.screens.soak import LookSlip, StartSoakSlip
from passcheck.app.screens.supply_read import SupplyReadScreen
from passcheck.app.screens.suspects import SuspectsSlip
from passcheck.app.screens.timing import TimingScreen
from passcheck.app.screens.traveller import TravellerScreen
from passcheck.app.widgets.shelf_board import ShelfBoard
from passcheck.job.rack import rack
from passcheck.job.state import Job
from passcheck.practice.at_the_bench import PracticeBench
from passcheck.practice.coach import Spot, Where
from passcheck.practice.forward import soaking_on, worst_of

SPOTS: tuple[tuple[type[object], Spot], ...] = (
    (TravellerScreen, "traveller"),
    (BenchScreen, "bench"),
    (CautionScreen, "caution"),
    (MakeSafeScreen, "make safe"),
    (PowerOnScreen, "power on"),
    (SupplyReadScreen, "supply read"),
    (RunStartScreen, "run start"),
    (CloseRunSlip, "close run"),
    (SuspectsSlip, "suspects"),
    (ReworkScreen, "rework"),
    (PutBackSlip, "put back"),
    (StartSoakSlip, "start soak"),
    (LookSlip, "look"),
    (TimingScreen, "taps"),
    (SignOffScreen, "sign-off"),
    (HowTriedSlip, "how tried"),
    (MapComplaintSlip, "complaint"),
    (NoteScreen, "note"),
    (HistoryScreen, "history"),
)


def job_of(screen: DeskScreen[Any]) -> Job | None:
    """The job that a screen is of."""
    return screen.bench.job if isinstance(screen, JobScreen | JobModal) else None


def where_is(screen: DeskScreen[Any], practice: PracticeBench) -> Where:
    """Where the newcomer is."""
    if isinstance(screen, ShelfScreen | RackScreen):
        return _at_the_shelves(screen)
    spot: Spot = next((spot for kind, spot in SPOTS if isinstance(screen, kind)), "elsewhere")
    job = job_of(screen)
    over = over_words(job, practice) if job is not None and job.ended is not None else ""
    if isinstance(screen, BenchScreen):
        return Where(
            spot,
            screen.step,
            screen.act_at_hand,
            screen.asks_again,
            by_hand=screen.step is None or screen.is_tapped(screen.step),
            over=over,
        )
    if isinstance(screen, CautionScreen):
        return Where(spot, act="fact" if screen.asked and screen.asked[0].confirm is not None else "", over=over)
    if isinstance(screen, SignOffScreen):
        return Where(spot, act="sign" if screen.has_class("-clear") else "", over=over)
    return Where(spot, over=over)


def over_words(job: Job, practice: PracticeBench) -> str:
    """What was wrong with the unit, and whether it still is."""
    broken = practice.still_broken(job)
    if broken:
        return f"It left with this: {broken[0].says}."
    had = practice.unit(job).faults
    return f"It was this, and it is mended: {had[0].says}." if had else "Nothing was wrong with this unit."


def _at_the_shelves(screen: ShelfScreen | RackScreen) -> Where:
    desk = screen.desk
    soaks = worst_of(soaking_on(rack(desk.soaking, desk.shop.clock())))
    if isinstance(screen, RackScreen):
        return Where("rack", soaks=soaks)
    known = desk.shelf_stands.is_set()
    standing = screen.query_one(ShelfBoard).units_standing if known else 1
    return Where("shelf", soaks=soaks, units=standing)

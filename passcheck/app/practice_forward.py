"""How does a newcomer let time go by, without the bench counting as left alone?"""

from typing import Any, Final

from passcheck.app.desk import Desk
from passcheck.app.desk_screen import DeskScreen
from passcheck.app.job_screen import JobModal, JobScreen
from passcheck.app.plain import tell
from passcheck.app.practice_desk import PracticeDesk
from passcheck.app.screens.make_safe import MakeSafeScreen
from passcheck.app.screens.rack import RackScreen
from passcheck.app.screens.shelf import ShelfScreen
from passcheck.bench.bench import Bench
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.commands import Refusal, TellPower
from passcheck.job.power import on_now
from passcheck.job.rack import rack
from passcheck.practice.forward import MINUTES, Soaking, Stretch, has_to_say_so, soaking_of, soaking_on, stretch

HERE: Final = "still at the bench"


NOT_HERE: Final = "Time goes by at the shelf, the rack and a job: close this first."


async def let_time_go_by(desk: Desk, practice: PracticeDesk) -> str:
    """Put the clock forward, tell that somebody is still there where a supply is told on; what was done, in words."""
    screen = desk.screen
    if not isinstance(screen, JobScreen | ShelfScreen | RackScreen | MakeSafeScreen) or screen.takes_taps:
        return NOT_HERE
    bench = screen.bench if isinstance(screen, JobScreen | MakeSafeScreen) else desk.bench
    going = how_long(desk, screen, bench)
    if going.why_not:
        return going.why_not
    told = await _pass(desk, bench, practice, going.minutes)
    now = desk.shop.clock().local()
    here = "  Still at the bench: told." if told else ""
    _show_anew(screen)
    return f"{minutes_words(going.minutes)} went by: it is {now:%H:%M}.{here}"


def how_long(desk: Desk, screen: DeskScreen[Any], bench: Bench | None) -> Stretch:
    """Minutes that may go by here."""
    moment = desk.shop.clock()
    soaking: dict[str, Soaking] = {one.serial: one for one in soaking_on(rack(desk.soaking, moment))}
    own = None
    if bench is not None:  # the unit in hand knows more than its tag, which was read a while ago
        soaking.pop(bench.job.serial, None)
        own = soaking_of(bench.job, moment)
    if own is not None:
        soaking[own.serial] = own
    at_soak = isinstance(screen, JobScreen) and own is not None
    return stretch(soaking.values(), up_to_a_look=at_soak or isinstance(screen, RackScreen))


def minutes_words(minutes: float) -> str:
    """How long, in words."""
    whole = max(1, round(minutes))
    if whole >= 60:
        return f"{whole // 60} h {whole % 60:02d} min"
    return f"{whole} minutes" if whole > 1 else "1 minute"


async def _pass(desk: Desk, bench: Bench | None, practice: PracticeDesk, minutes: float) -> bool:
    """Never more than ten minutes without a word while a supply is told on; True where a word was given."""
    told, left = False, minutes
    while left > 0:
        part = min(MINUTES, left)
        if bench is not None and has_to_say_so(bench.job, bench.moment(), part):
            told = await _tell_here(desk, bench) or told
        practice.pass_time(part)
        left -= part
    if bench is not None and bench.job.ended is None and on_now(bench.job, bench.moment()):
        told = await _tell_here(desk, bench) or told
    return told


async def _tell_here(desk: Desk, bench: Bench) -> bool:
    try:
        answer = await bench.do(TellPower(desk.person or bench.job.holder, "on", HERE))
    except (BenchFailed, FileFault) as fault:
        tell(desk, str(fault), "error")
        return False
    return not isinstance(answer, Refusal)


def _show_anew(screen: DeskScreen[Any]) -> None:
    if isinstance(screen, ShelfScreen | RackScreen):
        screen.action_again()
    elif isinstance(screen, JobScreen | JobModal):
        screen.refresh_job()

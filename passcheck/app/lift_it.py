"""Which screen is opened, or which command given, by the act that lifts what stands against a step?"""

from passcheck.app.job_screen import JobScreen
from passcheck.app.lifting import Act
from passcheck.app.screens.caution import CautionScreen
from passcheck.app.screens.power_on import PowerOnScreen
from passcheck.app.screens.put_back import PutBackSlip
from passcheck.app.screens.soak import LookSlip, StartSoakSlip
from passcheck.app.screens.supply_read import SupplyReadScreen
from passcheck.job import cautions
from passcheck.job.commands import FinishSoak
from passcheck.sequence.model import SoakStep, Step


def lift_it(screen: JobScreen, act: Act, step: Step, dwell_s: float | None) -> None:
    """Open what the act asks for; `dwell_s` is how long a caution is read first, None for its own time."""
    bench = screen.bench
    match act.name:
        case "caution":
            dwell = {} if dwell_s is None else {"dwell_s": dwell_s}
            screen.app.push_screen(CautionScreen(bench, cautions.of_step(bench.job, step), **dwell))
        case "power on":
            screen.app.push_screen(PowerOnScreen(bench, step))
        case "make safe":
            screen.run_worker(screen.app.run_action("make_safe"))
        case "read supply":
            screen.app.push_screen(SupplyReadScreen(bench, act.subject))
        case "put back":
            screen.app.push_screen(PutBackSlip(bench))
        case "start soak" if isinstance(step, SoakStep):
            screen.app.push_screen(StartSoakSlip(bench, step))
        case "look" if isinstance(step, SoakStep):
            screen.app.push_screen(LookSlip(bench, step))
        case "end soak":
            screen.run_worker(screen.act(FinishSoak(screen.person, step.id)))

"""Which unit is in hand, who has it, and what was told of its power?"""

from textual.content import Content

from passcheck.app.plain import Words, joined
from passcheck.app.power_line import power_lines
from passcheck.job.moment import Moment
from passcheck.job.state import Job


class JobHead(Words):
    """Two lines at the top of every screen of a job."""

    DEFAULT_CSS = "JobHead { dock: top; height: auto; max-height: 4; padding: 0 1; background: $panel; }"

    def tell_of(self, job: Job, moment: Moment, person: str) -> None:
        """Show job, unit and person, and the power line."""
        self.say(head(job, moment, person))


def head(job: Job, moment: Moment, person: str) -> Content:
    """The head's text."""
    run = job.open_run
    other = f" reads {run.facts.serial_scanned}" if run and run.purpose == "good-unit" else ""
    doing = f"run {run.number} {run.purpose}{other}" if run else (f"ended: {job.ended}" if job.ended else "no run open")
    first = joined(
        *((("PRACTICE", "bold reverse"), " ") if job.facts.practice else ("JOB ",)),
        (job.id, "bold"),
        f"  {job.sequence.sequence} rev {job.sequence.revision}  unit ",
        (job.serial, "bold"),
        f"  {doing}  {'' if job.facts.practice else 'at the bench: '}",
        (person or "nobody", "bold"),
    )
    lines = power_lines(job, moment) or ("no supply in this sequence",)
    return Content.assemble(first, "\n", joined(("POWER ", "bold"), "   ".join(lines)))

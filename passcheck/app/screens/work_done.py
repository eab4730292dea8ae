"""What came with the unit, what was proposed and agreed, what was done to it, what is still to be put back?"""

import asyncio
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content

from passcheck.app.job_screen import JobModal
from passcheck.app.plain import Words, joined, plain
from passcheck.app.widgets.answer_line import AnswerLine
from passcheck.bench.arrivals import Arrived
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.moment import Moment
from passcheck.job.state import Job, Proposal
from passcheck.job.work_done import work_done


class WorkDoneSheet(JobModal[None]):
    """To read only: every entry in the words that the commands and the papers use."""

    AUTO_FOCUS = "#work-scroll"
    DEFAULT_CSS = """
    WorkDoneSheet #work-scroll { height: 1fr; background: $card-row; padding: 0 1; scrollbar-size-vertical: 1; }
    WorkDoneSheet #work { height: auto; }
    """
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Back", id="work.leave", tooltip="Back to the traveller."),
    ]

    def compose(self) -> ComposeResult:
        """A heading and its entries, one below the other."""
        with Vertical(classes="slip -tall"):
            yield Words("THE UNIT'S WORK", classes="slip-title")
            with VerticalScroll(id="work-scroll"):
                yield Words(written(self.bench.job), id="work")
            yield Words("Arrows read on, Esc goes back.", classes="hint")
            yield AnswerLine()

    def on_mount(self) -> None:
        """Who came with it stands in other journals, which are read beside."""
        self._find_others()

    @work(exclusive=True, group="others")
    async def _find_others(self) -> None:
        job = self.bench.job
        try:
            together = await asyncio.to_thread(self.desk.shop.came_together, job.id)
        except (FileFault, BenchFailed):  # the unit's own journal; whatever is done next says what is wrong with it
            return
        others = tuple(one for one in together if one.job != job.id)
        self.query_one("#work", Words).say(written(job, others))

    def action_leave(self) -> None:
        """Back to the traveller."""
        self.dismiss(None)


def written(job: Job, others: tuple[Arrived, ...] = ()) -> Content:
    """All of it; a heading with nothing below says so."""
    parts: list[Content] = []
    arrived = tuple(plain(f"{one.job}  unit {one.serial}") for one in others)
    for title, entries in (*((("THE SAME ARRIVAL", arrived),) if arrived else ()), *_headed(job)):
        parts += [plain(title, "bold"), *(entries or (plain("nothing"),)), plain("")]
    return Content("\n").join(parts[:-1])


def _headed(job: Job) -> tuple[tuple[str, tuple[Content, ...]], ...]:
    done = tuple(_entry(one.moment, one.by, one.words) for one in work_done(job))
    fitted = tuple(joined("- ", it.words) for it in job.fitted)
    agreed = tuple(_entry(one.moment, one.by, f"{one.scope} ({one.who})") for one in job.agreed)
    told = ("THE OWNER AGREED", agreed), ("DONE TO THE UNIT", done), ("STILL TO BE PUT BACK", fitted)
    proposed = tuple(row for one in job.proposed for row in _proposal(one))
    return (("PROPOSED TO THE OWNER", proposed), *told) if proposed else told


def _proposal(one: Proposal) -> tuple[Content, ...]:
    """Who wrote it and when, and its lines below."""
    return (_entry(one.moment, one.by, "proposed"), *(joined("- ", words) for words in one.lines))


def _entry(moment: Moment, by: str, words: str) -> Content:
    return joined((f"{moment.local():%d.%m. %H:%M} {by}  ", "bold"), words)

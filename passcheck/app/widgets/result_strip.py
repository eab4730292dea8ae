"""What did the last entry amount to?"""

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical

from passcheck.app.bench_words import result_words
from passcheck.app.plain import Words
from passcheck.app.widgets.big_word import BigWord
from passcheck.app.widgets.number_line import NumberLineView
from passcheck.job.before_after import beside
from passcheck.job.state import Attempt, Job
from passcheck.job.traveller import WORDS


class ResultStrip(Vertical):
    """Before and after at a retest; the verdict large, its sentence, the number line. Nothing before a verdict."""

    DEFAULT_CSS = """
    ResultStrip #beside { height: 1; text-style: bold; text-wrap: nowrap; text-overflow: ellipsis; }
    ResultStrip #latest { height: auto; }
    """

    def compose(self) -> ComposeResult:
        """As found and now; word, sentence, line."""
        yield Words(id="beside")
        with Horizontal(id="latest"):
            yield BigWord(id="word")
            with Vertical(id="said"):
                yield Words(id="verdict")
                yield NumberLineView(id="line")

    def tell_of(self, job: Job, attempt: Attempt | None, fitted: tuple[str, ...]) -> None:
        """Show an attempt and what it left fitted, at a retest beside the one as found; None shows nothing."""
        self.display = attempt is not None
        if attempt is None:
            return
        step = job.sequence.step(attempt.step)
        before = self.query_one("#beside", Words)
        compared = beside(job, step, attempt)
        before.display = bool(compared)
        before.say(compared)
        line = self.query_one(NumberLineView)
        line.judgement = attempt.judgement
        line.display = bool(attempt.judgement.unit)
        self.query_one("#word", BigWord).word = WORDS[attempt.judgement.verdict]
        self.query_one("#verdict", Words).say(result_words(attempt, step.title, fitted))

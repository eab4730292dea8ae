"""What did the last entry amount to?"""

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical

from passcheck.app.bench_words import result_words
from passcheck.app.plain import Words
from passcheck.app.widgets.big_word import BigWord
from passcheck.app.widgets.number_line import NumberLineView
from passcheck.job.state import Attempt
from passcheck.job.traveller import WORDS


class ResultStrip(Horizontal):
    """The verdict large, its sentence, the number line; nothing before there is a verdict."""

    def compose(self) -> ComposeResult:
        """Word, sentence, line."""
        yield BigWord(id="word")
        with Vertical(id="said"):
            yield Words(id="verdict")
            yield NumberLineView(id="line")

    def tell_of(self, attempt: Attempt | None, title: str, fitted: tuple[str, ...]) -> None:
        """Show an attempt of the step of that title, and what it left fitted; None shows nothing."""
        self.display = attempt is not None
        if attempt is None:
            return
        line = self.query_one(NumberLineView)
        line.judgement = attempt.judgement
        line.display = bool(attempt.judgement.unit)
        self.query_one("#word", BigWord).word = WORDS[attempt.judgement.verdict]
        self.query_one("#verdict", Words).say(result_words(attempt, title, fitted))

"""What was observed, in one line of words?"""

from collections.abc import Iterable
from typing import assert_never

from passcheck.job.answers import (
    Answer,
    CodesAnswer,
    CountAnswer,
    GradeAnswer,
    ListAnswer,
    MarksAnswer,
    PowerUpAnswer,
    PressesAnswer,
    ReadingAnswer,
    SoakAnswer,
    SweepAnswer,
    TableAnswer,
    TapPairsAnswer,
    TapRowsAnswer,
)
from passcheck.job.soak import hours_words


def answer_words(answer: Answer) -> str:  # noqa: PLR0912 - one row a shape
    """The answer as it was typed."""
    match answer:
        case ReadingAnswer():
            extra = [("leads shorted", answer.leads), ("reversed", answer.reverse)]
            return _listed(answer.readings) + "".join(f"; {name} {text}" for name, text in extra if text)
        case PowerUpAnswer():
            return f"{answer.current}, limit light {answer.limit_light}"
        case PressesAnswer():
            return f"{answer.counted} counted" + (f", slowest {answer.slowest}" if answer.slowest else "")
        case ListAnswer():
            seen = _listed(f"{one.number}: {one.seen}" for one in answer.departures) or "all as listed"
            return seen + (f"; {_listed(answer.times)}" if answer.times else "")
        case SweepAnswer():
            stuck = f", hesitates at {answer.hesitation}" if answer.hesitation else ""
            return f"up {answer.up}, down {answer.down}{stuck}"
        case MarksAnswer():
            down = f"; down {_listed(answer.down)}" if answer.down else ""
            return f"up {_listed(answer.up)}{down}"
        case CodesAnswer():
            cleared = "" if answer.after_clear is None else f"; after clear {_listed(answer.after_clear) or 'none'}"
            return (
                f"present {_listed(answer.present) or 'none'}; provoked {_listed(answer.provoked) or 'none'}{cleared}"
            )
        case GradeAnswer():
            return f"class {answer.grade}" + (f", recovered in {answer.recovery}" if answer.recovery else "")
        case CountAnswer():
            return f"{answer.counted} counted"
        case TableAnswer():
            return _listed(answer.outputs)
        case SoakAnswer():
            return f"{hours_words(float(answer.counted_s))} counted over {answer.looks} looks"
        case TapPairsAnswer():
            void = sum(bool(pair.void) for pair in answer.pairs)
            return f"{len(answer.pairs) - void} trials tapped, {void} void"
        case TapRowsAnswer():
            void = sum(bool(row.void) for row in answer.rows)
            return f"{len(answer.rows) - void} rows tapped, {void} void"
        case _:
            assert_never(answer)


def _listed(texts: Iterable[str]) -> str:
    return ", ".join(texts)

"""By which rules were the results decided, and what do the words on this paper mean?"""

from collections import Counter

from passcheck.job.state import Job
from passcheck.judge.judgement import RULES
from passcheck.judge.rounding import counted
from passcheck.report.document import Facts, Heading, Part, Words
from passcheck.report.record_results import TITLE as RESULTS
from passcheck.report.record_results import USUAL_RULE
from passcheck.report.source import Source

TITLE = "How it was judged"
STATEMENT = (
    f"Each result as left was decided against the limits beside it under '{RESULTS}', by the rule '{USUAL_RULE}' "
    "unless another is named there. A verdict was made when the reading was entered, and not made again for this paper."
)
MEANINGS = (
    ("pass, fail", "as the rule says; the margin stands in the reason of each attempt"),
    ("in doubt", "too close to the limit for this instrument or these taps: it is no pass"),
    ("not measured", "nothing shows that the probe touched, so the figure says nothing of the unit"),
    ("blank", "nobody tried the step, or nothing that was tried counts as left"),
    ("struck", "something that was done later made the result worthless; it stays readable"),
    (
        "void",
        "withdrawn, with its reason; a fail and a doubt stay in the count unless a cause at the bench was named and "
        "shown gone",
    ),
    (
        "unexplained",
        "it failed and then passed with nothing done between, or came and went as found: the pass counts once so many "
        "clean repeats stand behind it that chance alone would give them at most once in twenty, with a note",
    ),
    (
        "±",
        "how far off a figure or a change may be, at 95 %; a change is told only where it is larger. In a reason "
        "'instrument ±' is the instrument's largest error",
    ),
    ("rework, repair", "brought back to as drawn; made fit for use, but not as drawn"),
    ("as found, as left", "before any work, and what counts for the release; results as found never count for it"),
)
UNKNOWN = "a rule of another version of passcheck"


def rules(job: Job, _source: Source) -> tuple[Part, ...]:
    """The statement, the rules that were used with how often, and the words."""
    used = Counter(attempt.judgement.rule for attempt in job.attempts)
    rows = tuple(
        (f"Rule '{name}', {counted(used[name], 'attempt')}", RULES.get(name, UNKNOWN)) for name in sorted(used)
    )
    usual = () if USUAL_RULE in used else ((f"Rule '{USUAL_RULE}'", RULES[USUAL_RULE]),)
    return Heading(TITLE), Words(STATEMENT), Facts((*usual, *rows)), Heading("Words", 2), Facts(MEANINGS)

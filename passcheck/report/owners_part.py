"""What did the owner say, to what did they agree, and where do they write?"""

from passcheck.job.state import Job
from passcheck.job.symptoms import mapped
from passcheck.report.document import Facts, Heading, Part, Together, ToWrite, Words
from passcheck.report.on_every_paper import local, person
from passcheck.report.source import Source

NO_WORDS = "No words of the owner were written down."
NONE_AGREED = "Nothing is noted as agreed with the owner."


def complaint_parts(job: Job) -> tuple[Part, ...]:
    """The owner's words as they came, and what they were matched to."""
    return (Heading("What the owner said"), complaint(job), Words(matched_words(job)))


def complaint(job: Job) -> Words:
    """The owner's words, none of them changed."""
    return Words(job.facts.complaint, "quote") if job.facts.complaint.strip() else Words(NO_WORDS)


def matched_words(job: Job) -> str:
    """The symptoms of the sequence that the words were matched to."""
    says = "; ".join(symptom.says for _name, symptom in mapped(job))
    return f"Matched to: {says}." if says else "Not matched to any symptom of the sequence."


def agreed_parts(job: Job, source: Source) -> tuple[Part, ...]:
    """Everything that the owner agreed to, with who said so, when, and who wrote it down."""
    if not job.agreed:
        return (Words(NONE_AGREED),)
    rows = ((local(it.moment), f"{it.scope} ({it.who}; noted by {person(it.by, source)})") for it in job.agreed)
    return (Facts(tuple(rows)),)


def answer_parts(lines: tuple[str, ...]) -> tuple[Part, ...]:
    """A yes or no to each proposed line, then name, signature and date."""
    asked: list[Part] = []
    for number, line in enumerate(lines, start=1):
        asked.append(Together((Words(f"{number}. {line}"), ToWrite((("yes or no", 0.3), ("remark", 0.7))))))
    return (*asked, ToWrite((("Owner's name", 0.4), ("signature", 0.35), ("date", 0.25))))

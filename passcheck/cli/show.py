"""What does a job's card say, with every attempt behind its stamps?"""

from passcheck.bench.arrivals import Arrived
from passcheck.bench.shop import Shop
from passcheck.cli.say import say, say_practice, say_table
from passcheck.cli.show_json import say_card
from passcheck.cli.show_work import minute, say_work
from passcheck.job.before_after import Shift, before_after, stamped
from passcheck.job.outside import Outside
from passcheck.job.remarks import remarks
from passcheck.job.standing import other_unit
from passcheck.job.state import Attempt, Job
from passcheck.job.traveller import BLANK, COLUMNS, Card, Row, Stamp, card, stamp


def show(shop: Shop, job_id: str, *, as_json: bool) -> int:
    """Print the card; give the exit status."""
    job = shop.look(job_id.upper())
    outside, others = shop.outside(job), came_with(shop, job)
    sheet = card(job, outside, shop.clock())
    if as_json:
        say_card(job, outside, sheet, others)
        return 0
    _head(job, others, outside)
    _boxes(sheet)
    _attempts(job, sheet)
    _changes(job, sheet)
    say_work(job)
    _notes(job)
    say()
    say("BETWEEN THIS UNIT AND THE DOOR")
    for blocker in sheet.blockers:
        say(f"> {blocker.sentence} {blocker.lift}", indent=1)
    if not sheet.blockers:
        say("nothing recorded", indent=1)
    return 0


def came_with(shop: Shop, job: Job) -> tuple[Arrived, ...]:
    """The other units of the arrival, whichever came first."""
    return tuple(one for one in shop.came_together(job.id) if one.job != job.id)


def _head(job: Job, others: tuple[Arrived, ...], outside: Outside) -> None:
    sequence = job.sequence
    if job.facts.practice:
        say_practice()
    say(f"JOB {job.id}   {sequence.sequence} rev {sequence.revision}   unit {job.serial}")
    say(sequence.title)
    say(f"opened {minute(job.opened)} by {job.opened_by}" + (f"; {job.ended}" if job.ended else ""))
    if others:
        say(f"units of the same arrival: {', '.join(f'{one.job} ({one.serial})' for one in others)}")
    for remark in remarks(job, outside):
        say(remark)
    for label, text in (("complaint", job.facts.complaint), ("on arrival", job.facts.condition)):
        if text:
            say(f"{label}:")
            say(text, indent=2)


def _boxes(sheet: Card) -> None:
    say()
    rows, group = [], ""
    for row in sheet.rows:
        if row.group != group:
            group = row.group
            rows.append((group.upper(), *("" for _ in COLUMNS)))
        rows.append((f"  {row.step.title}", *(_box(stamped) for stamped in row.boxes)))
    say_table(("", *COLUMNS), rows)


def _box(stamped: Stamp | None) -> str:
    if stamped is None:
        return ""
    words = " ".join(filter(None, (stamped.word, stamped.value, stamped.question, stamped.initials)))
    return f"({words}) {stamped.struck_by}" if stamped.struck_by else words


def _attempts(job: Job, sheet: Card) -> None:
    """Every attempt, none left out, under its step."""
    if job.attempts:
        say()
        say("EVERY ATTEMPT (in brackets: struck, no longer counts)")
    for row in sheet.rows:
        made = [attempt for attempt in job.attempts if attempt.step == row.step.id]
        if made:
            say(row.step.title, indent=1)
        for attempt in made:
            _attempt(job, row, attempt)


def _attempt(job: Job, row: Row, attempt: Attempt) -> None:
    instrument = f" with {attempt.instrument.instrument}" if attempt.instrument else ""
    other = f" {serial}" if (serial := other_unit(job, attempt)) else ""
    box = _box(stamp(job, row.step, attempt))
    said = f"{attempt.number}  {minute(attempt.moment)}  {attempt.purpose}{other}  {box}"
    say(f"{said}{instrument}", indent=3)
    say(attempt.judgement.sentence, indent=6)
    if attempt.conditions:
        say(f"under: {', '.join(attempt.conditions)}", indent=6)
    if attempt.second:
        say(f"seen by: {attempt.second}", indent=6)
    if attempt.note:
        say(f"note: {attempt.note}", indent=6)
    if attempt.void:
        say(f"void: {attempt.void.reason}", indent=6)


def _changes(job: Job, sheet: Card) -> None:
    """As found, each retest, as left and a good unit of every step that was tried in two of them, and what changed."""
    found = [(row, before_after(job, row.step)) for row in sheet.rows]
    told = [(row, one) for row, one in found if len({tried.number for _, tried in one.rows if tried is not None}) > 1]
    if told:
        say()
        say("BEFORE AND AFTER (as left: what counts for the release)")
    for row, one in told:
        say(row.step.title, indent=1)
        for name, tried in one.rows:
            said = f"{BLANK} {one.open}" if tried is None else f"{stamped(tried)}  (attempt {tried.number})"
            say(f"{name}: {said}", indent=3)
        for words in () if one.shift is None else _shift(one.shift):
            say(words, indent=3)


def _shift(shift: Shift) -> tuple[str, ...]:
    several = shift.parts if len(shift.parts) > 1 else ()
    return (shift.words, *(f"  {part.name}: {part.words}" for part in several))


def _notes(job: Job) -> None:
    if job.notes:
        say()
        say("NOTES")
    for note in job.notes:
        say(f"{minute(note.moment)}  {note.by}  {note.step or 'job'}: {note.text}", indent=1)
        for photo in note.photos:
            say(f"photo: {photo}", indent=4)

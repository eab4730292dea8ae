"""How does the card look once the unit has left: the stamp, and what it does and doesn't say?"""

from rich.cells import cell_len, set_cell_size
from textual.content import Content

from passcheck.app.plain import plain
from passcheck.job.fixed_words import MORE_ASKED, NOT_A_RELEASE, bench_test
from passcheck.job.state import Job
from passcheck.sequence.show_text import show_text

TITLES = {
    "signed off": "R E L E A S E D",
    "returned unrepaired": "R E T U R N E D   U N R E P A I R E D",
    "returned repaired in part": "R E T U R N E D   R E P A I R E D   I N   P A R T",
}
NO_UNIT = "This was practice: the unit doesn't exist, and no real unit was released or returned by it."
SEALED = "The journal is sealed: nothing is added to it. Its papers and the unit's label: p."
WIDTH = 54


def released(job: Job, name: str) -> Content:
    """The stamp with unit, person and time, and the fixed sentences under it."""
    when = f"{job.last.local():%Y-%m-%d %H:%M}"
    title = TITLES.get(job.ended or "", (job.ended or "").upper())
    above = "P R A C T I C E" if job.facts.practice else ""
    inside = (above, title, "", f"unit {job.serial}   {job.sequence.sequence} rev {job.sequence.revision}")
    rows = (*inside, f"{job.id}   {when}   {job.ended_by or ''} {name}", "")
    frame = ["╔" + "═" * WIDTH + "╗", *(f"║{_middle(row)}║" for row in rows), "╚" + "═" * WIDTH + "╝"]
    stamp = Content("\n").join(plain(row, "bold") for row in frame)
    words = [bench_test(job.sequence.revision), MORE_ASKED, SEALED]
    if job.facts.practice:
        words.insert(0, NO_UNIT)
    if job.ended != "signed off":
        words.insert(0, NOT_A_RELEASE)
    return Content("\n\n").join([stamp, *map(plain, words)])


def _middle(text: str) -> str:
    shown = set_cell_size(text, WIDTH) if cell_len(show_text(text)) > WIDTH else show_text(text)
    before = (WIDTH - cell_len(shown)) // 2
    return set_cell_size(" " * before + shown, WIDTH)

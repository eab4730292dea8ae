"""What does an outsider do to check the ledgers that were closed before the present one?"""

from collections.abc import Iterator

from passcheck.records.closed_ledger import Past
from passcheck.records.evidence import Evidence, is_digest, place_of
from passcheck.records.note_text import run, say


def closed_ledgers(evidence: Evidence) -> Iterator[str]:
    """The paragraphs, line by line, the oldest ledger first; none where no ledger was closed."""
    past = tuple(reversed(evidence.chain.past))
    if not past:
        return
    yield ""
    yield from say(
        "A ledger of this bench was found damaged and closed. It is kept byte for byte under a name of its own, and "
        "the first line of the ledger that goes on from it names it and tells who answers for the closing. What its "
        "lines say before the damage counts as it always did. Lines of the next ledger that say 'concerned' mark the "
        "jobs of which the damaged lines may have told more, with the bytes that their journals had then."
    )
    for one in past:
        yield ""
        yield from _closed(evidence, one)
    for name in dict.fromkeys(one.told_in for one in past):
        yield ""
        yield from say(f"To read what the first line of {name} tells (cat -v keeps it from acting on your terminal):")
        yield from run(f"head -n 1 {name} | cat -v")


def _closed(evidence: Evidence, past: Past) -> Iterator[str]:
    name, digest, told_in = past.closed.file, past.closed.digest, past.told_in
    if past.facts is None or not is_digest(digest):
        yield from say(f"{name} was gone already when that was told in {told_in} ({past.closing.signed}).")
        return
    found = past.closed.fault or "whole, and closed because of one before it"
    yield from say(
        f"{name} was found so: {found}. The first line of {told_in}, written for the closing {past.closing.signed}, "
        f"names the SHA-256 of all its bytes. The file has it:"
    )
    yield from run(f"sha256sum {name} | cut -c 1-64", digest)
    yield "and that line says the same:"
    line = f'head -n 1 {told_in} | grep \'"file":"{name}"\''
    yield from run(f'{line} | grep -c \'"digest":"{digest}"\'', "1")
    if past.file.lines:
        last = place_of(evidence.closed[name], past.file.ends[-1])
        yield from say(f"It holds up to line {last.number}, whose hash covers the first {last.covered} bytes:")
        yield from run(f"head -c {last.covered} {name} | sha256sum | cut -c 1-64", last.hash)
        yield "and says so:"
        yield from run(f"head -c {last.end} {name} | tail -c {last.hash_from_end} | head -c 64; echo", last.hash)

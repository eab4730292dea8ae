"""How does a paper become a page?

`paper.typ` draws it, PDF/A-3 with the attached files inside. What is drawn comes as data and its date from the paper,
so that the same paper gives the same bytes. The standard forbids boxes in place of characters: one that no font has is
written out by its number, and the warnings say so.
"""

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Literal

from passcheck.errors import BenchFailed, ExtraMissing
from passcheck.report.document import Code, Paper, Size, flat
from passcheck.report.page_data import page_data
from passcheck.report.shown import shown

if TYPE_CHECKING:  # the extra may be missing
    from typst import TypstWarning

Standard = Literal["a-3a", "a-3b"]
STANDARDS: tuple[Standard, ...] = ("a-3a", "a-3b")
"""The first is tagged for readers without eyes; where a text can't be, the second keeps the page all the same."""
MOST_TRIES = 4
_LAYOUT = Path(__file__).with_name("paper.typ")
_LACKING = re.compile(r'the text `"(.+?)"` could not be displayed', re.DOTALL)
_ESCAPE = re.compile(r"\\(?:u\{([0-9a-f]+)\}|(.))", re.DOTALL)
_EXPECTED = "unknown font family"
"""The layout names families of several systems, of which each has some."""


@dataclass(frozen=True, slots=True)
class Set:
    """A page that was set, with what whoever hands it out has to know, as sentences."""

    pdf: bytes
    warnings: tuple[str, ...] = ()


def typeset(paper: Paper, size: Size, *, own_fonts: bool = False) -> Set:
    """Set a paper.

    Args:
        paper: what stands on it.
        size: of the sheets.
        own_fonts: use only the fonts that the typesetter brings, as on a machine that has no other.

    Raises:
        ExtraMissing: the extra `report` isn't installed.
        BenchFailed: the page can't be set, or there is no room for what the typesetter has to read.
    """
    demand_pages()
    try:
        with TemporaryDirectory(prefix="passcheck-") as folder:
            return _set(paper, size, Path(folder), own_fonts=own_fonts)
    except OSError as fault:
        raise BenchFailed(
            f"{fault.filename or 'the folder for temporary files'}: it can't be used ({fault.strerror or fault}), and "
            "the typesetter reads from there. Make room for it."
        ) from fault


def demand_pages() -> None:
    """Raises ExtraMissing where the extra isn't installed."""
    try:
        import segno  # noqa: F401 - asked for together with the next, so that one sentence names both
        import typst  # noqa: F401
    except ImportError as fault:
        raise ExtraMissing(
            f"{fault.name} is not installed here: pip install 'passcheck[report]' brings what sets papers as pages."
        ) from fault


def _set(paper: Paper, size: Size, folder: Path, *, own_fonts: bool) -> Set:
    (folder / _LAYOUT.name).write_bytes(_LAYOUT.read_bytes())
    for number, one in enumerate(paper.attached):
        (folder / f"attached-{number}").write_bytes(one.data)
    codes = _codes(paper)
    lacking: dict[str, None] = {}
    said = ""
    for standard in STANDARDS:
        for _ in range(MOST_TRIES):
            _write_data(folder, paper, size, codes, lacking)
            made = _compiled(folder, paper, standard, own_fonts=own_fonts)
            if isinstance(made, Set):
                return Set(made.pdf, (*_unsaid(paper, codes), *_in_words(lacking), *made.warnings))
            said = made.complaint
            found = dict.fromkeys(one for one in _lacked(made.all) if one not in lacking)
            if not found:
                break
            lacking |= found
    raise BenchFailed(
        f"The page of {paper.job} can't be set ({said}). 'passcheck paper {paper.job} --text' gives it as text; please "
        "report this."
    )


def _write_data(folder: Path, paper: Paper, size: Size, codes: Mapping[str, str], lacking: Mapping[str, None]) -> None:
    instead = str.maketrans({one: f"<{ord(one):04X}>" for one in lacking})
    data = page_data(paper, size, codes, lambda text: shown(text).translate(instead))
    (folder / "data.json").write_text(json.dumps(data, allow_nan=False), encoding="utf-8")


@dataclass(frozen=True, slots=True)
class _Refused:
    """What the typesetter says against a page: the first complaint, and all of them with their places."""

    complaint: str
    all: str = ""


def _compiled(folder: Path, paper: Paper, standard: Standard, *, own_fonts: bool) -> Set | _Refused:
    import typst

    try:
        pdf, warnings = typst.compile_with_warnings(
            folder / _LAYOUT.name,
            root=folder,
            ignore_system_fonts=own_fonts,
            format="pdf",
            pdf_standards=standard,
            timestamp=datetime.fromisoformat(paper.made),
        )
    except typst.TypstError as fault:
        return _Refused(fault.message, fault.diagnostic)
    except BaseException as fault:
        if type(fault).__name__ != "PanicException":  # what a fault of the typesetter itself becomes, by this name only
            raise
        return _Refused(f"the typesetter broke off: {fault}")
    return Set(pdf, tuple(_sentence(one) for one in warnings if not one.message.startswith(_EXPECTED)))


def _sentence(warning: "TypstWarning") -> str:
    return f"The typesetter says: {'; '.join((warning.message, *warning.hints))}."


def _lacked(diagnostic: str) -> Iterable[str]:
    """The characters that no font has, from what the typesetter says of each."""
    for quoted in _LACKING.findall(diagnostic):
        text = _ESCAPE.sub(lambda found: chr(int(found[1], 16)) if found[1] else found[2], quoted)
        yield from (character for character in text if not character.isascii())


def _in_words(lacking: Mapping[str, None]) -> tuple[str, ...]:
    if not lacking:
        return ()
    named = ", ".join(f"{one} (U+{ord(one):04X})" for one in sorted(lacking))
    return (f"No font here has {named}: the page says each by its number, such as <{ord(min(lacking)):04X}>.",)


def _codes(paper: Paper) -> dict[str, str]:
    """The picture of each QR code, by its text; none for a text that is too long for one."""
    import segno

    pictures: dict[str, str] = {}
    for text in {shown(part.text): None for part in flat(paper.parts) if isinstance(part, Code)}:
        try:
            code = segno.make_qr(text, error="m")
        except segno.DataOverflowError:
            continue
        picture = BytesIO()
        code.save(picture, kind="svg", border=2, xmldecl=False)
        pictures[text] = picture.getvalue().decode("utf-8")
    return pictures


def _unsaid(paper: Paper, codes: Mapping[str, str]) -> tuple[str, ...]:
    if all(shown(part.text) in codes for part in flat(paper.parts) if isinstance(part, Code)):
        return ()
    return ("A text is too long for a QR code: the page says it in words only.",)

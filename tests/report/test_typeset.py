"""Do papers become pages that say what the paper says, and nothing else?"""

import hashlib
import shutil
import subprocess
import sys
from pathlib import Path
from tempfile import gettempdir

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from some_paper import CODE, COLUMNS, EVERY_PART, JOURNAL, SOAK, of_another_moment, some_paper

import passcheck.report.typeset as typesetting
from passcheck.errors import BenchFailed, ExtraMissing
from passcheck.report.document import (
    Box,
    Boxes,
    Code,
    Column,
    Facts,
    Heading,
    NumberLine,
    Outcome,
    Paper,
    Part,
    Plot,
    Said,
    Series,
    Size,
    Table,
    Together,
    ToWrite,
    Words,
)
from passcheck.report.typeset import Set, typeset

TESTS = Path(__file__).parents[1]
SPOILERS = ("$x^2$ *bold* _it_ = no heading", '#import "x.typ": *', '#panic() #read("/data.json") <label> @ref // no')


def stock(program: str) -> str:
    """Where a program that many machines have is; a machine without it skips what needs it."""
    path = shutil.which(program)
    if path is None:
        pytest.skip(f"{program} is not on this machine, so what it reads from the page isn't looked at")
    return path


def kept(made: Set, folder: Path) -> Path:
    """The page as a file."""
    path = folder / "page.pdf"
    path.write_bytes(made.pdf)
    return path


def read(made: Set, folder: Path, *options: str) -> str:
    """What a stock program reads on the page."""
    call = [stock("pdftotext"), "-layout", *options, str(kept(made, folder)), "-"]
    return subprocess.run(call, check=True, capture_output=True).stdout.decode("utf-8")


def pages_of(made: Set, folder: Path) -> list[str]:
    """The same page by page."""
    return read(made, folder).removesuffix("\f").split("\f")


@pytest.mark.parametrize("size", ["a4", "letter"])
@pytest.mark.parametrize("practice", [False, True])
def test_a_paper_with_every_part_becomes_a_page_without_a_warning(size: Size, practice: bool) -> None:
    made = typeset(some_paper(practice=practice), size)
    assert made.pdf.startswith(b"%PDF-1.7")
    assert made.warnings == ()


@pytest.mark.parametrize("part", EVERY_PART, ids=lambda part: type(part).__name__)
def test_each_part_can_stand_alone(part: Part) -> None:
    assert typeset(some_paper(part), "a4").warnings == ()


@pytest.mark.parametrize(
    "part",
    [
        Facts(()),
        Table(COLUMNS, ()),
        Table((Column(""),), ("A group", "another", ("row",), "a last one")),
        Plot("One point", "x", "y", (Series("", ((3.0, 0.0),)),), None, None, ""),
        Plot("Far apart", "x", "y", (Series("", ((0.0, 1e-9), (1e9, 1e12))), Series("none", ())), None, 1e-3, ""),
        Table((Column("", 1),), ((NumberLine(float("inf"), 0.0, 1.0, 2.0, "OL"),),)),
        Table((Column("", 1),), ((NumberLine(0.0, 0.0, 0.0, None, "0 V", before=float("-inf")),),)),
        Table(COLUMNS, (("long " * 3000, "", "", ""),)),
        Outcome("Long", "long " * 3000),
        Words("long " * 3000, "notice"),
        Words("", "quote"),
        ToWrite(()),
        Boxes(()),
        Boxes((Said("longer than its room " * 60, 0.02), Box("a name as well " * 30, 0.01), Box("", 3))),
        Together(()),
        Together((Words("long " * 9000), Boxes((Box("time", 0.2),)), Together((Words("within"),)))),
        ToWrite((("A name that is longer than its line, by far", 0.01), ("wide", 3.0))),
        Heading(""),
        Code("", ()),
    ],
)
def test_the_least_and_the_most_that_a_part_can_hold_is_drawn(part: Part) -> None:
    assert typeset(some_paper(part), "letter").warnings == ()


def test_markup_in_a_text_stays_text(tmp_path: Path) -> None:
    said = [part for text in SPOILERS for part in (Words(text), Heading(text, 2), Facts((("said", text),)))]
    text = read(typeset(some_paper(*said), "a4"), tmp_path)
    assert [text.count(one) for one in SPOILERS] == [3, 3, 3]


def test_what_could_act_on_a_terminal_is_shown_by_its_picture(tmp_path: Path) -> None:
    text = read(typeset(some_paper(Words("a\x1b[31mb\x07\u202ec\x00")), "a4"), tmp_path)
    assert "a␛[31mb␇<202E>c␀" in text


def test_the_lines_of_a_text_stay_lines(tmp_path: Path) -> None:
    text = read(typeset(some_paper(Words("first\nsecond", "quote")), "a4"), tmp_path)
    assert [line.strip() for line in text.splitlines() if line.strip() in {"first", "second"}] == ["first", "second"]


@settings(max_examples=15, deadline=None)
@given(st.text(max_size=60))
def test_any_text_makes_a_page(text: str) -> None:
    shown = (Words(text), Words(text, "quote"), Table((Column(text),), (text, (text,))), Code(text, (text,)))
    assert typeset(some_paper(*shown), "a4").pdf.startswith(b"%PDF")


def test_scripts_of_many_customers_are_set(tmp_path: Path) -> None:
    said = ("Ο δείκτης πέφτει", "Стрелка падает", "מחוג הדלק", "übergröße 25 µΩ ± 3 %")
    made = typeset(some_paper(*map(Words, said)), "a4", own_fonts=True)
    assert made.warnings == ()
    text = read(made, tmp_path)
    assert [one for one in said if one in text or one[::-1] in text] == list(said)


def test_a_character_that_no_font_has_is_told_and_shown_by_its_number(tmp_path: Path) -> None:
    made = typeset(some_paper(Words("針 drops \U00013000")), "a4", own_fonts=True)
    assert made.warnings == (
        "No font here has 針 (U+91DD), \U00013000 (U+13000): the page says each by its number, such as <91DD>.",
    )
    assert "<91DD> drops <13000>" in read(made, tmp_path)


def test_heads_and_group_are_said_again_on_each_page(tmp_path: Path) -> None:
    rows = tuple((f"step {number}", "FAIL 4.70 V", "PASS 5.01 V", SOAK.words) for number in range(300))
    pages = pages_of(typeset(some_paper(Table(COLUMNS, ("Supply", *rows))), "a4"), tmp_path)
    with_rows = [page for page in pages if "step " in page]
    assert len(with_rows) > 5
    assert all(page.count("Between its limits") == 1 and page.count("Supply\n") == 1 for page in with_rows)
    assert sum(page.count("FAIL 4.70 V") for page in pages) == 300


def test_a_row_is_never_cut_in_two(tmp_path: Path) -> None:
    rows = tuple((f"begins {number}\n" + "more\n" * 9 + f"ends {number}",) for number in range(40))
    pages = pages_of(typeset(some_paper(Table((Column("Step"),), rows)), "letter"), tmp_path)
    assert len(pages) > 5
    for page in pages:
        assert page.count("begins ") == page.count("ends ")


def test_each_page_bears_shop_title_job_serial_and_its_number(tmp_path: Path) -> None:
    paper = some_paper(*(Words("a line of the paper") for _ in range(120)))
    pages = pages_of(typeset(paper, "a4"), tmp_path)
    assert len(pages) > 2
    for number, page in enumerate(pages, 1):
        for said in (paper.shop, paper.title, paper.job, paper.serial, paper.footer[:60]):
            assert said in page
        assert f"page {number} of {len(pages)}" in page
    assert [page.count("end of this paper") for page in pages] == [0] * (len(pages) - 1) + [1]


def test_a_paper_of_practice_says_so_on_each_page(tmp_path: Path) -> None:
    lines = tuple(Words("a line of the paper") for _ in range(120))
    pages = pages_of(typeset(some_paper(*lines, practice=True), "a4"), tmp_path)
    assert all("PRACTICE" in page for page in pages)
    assert "PRACTICE" not in read(typeset(some_paper(*lines), "a4"), tmp_path)


def test_the_sizes_are_those_of_the_sheets(tmp_path: Path) -> None:
    def size(named: Size) -> str:
        call = [stock("pdfinfo"), str(kept(typeset(some_paper(), named), tmp_path))]
        said = subprocess.run(call, check=True, capture_output=True, text=True).stdout
        return next(line for line in said.splitlines() if line.startswith("Page size:"))

    assert "(A4)" in size("a4")
    assert "(letter)" in size("letter")


def test_the_same_paper_gives_the_same_bytes_in_another_process() -> None:
    script = (
        "import sys, hashlib; sys.path.insert(0, sys.argv[1])\n"
        "from some_paper import some_paper\n"
        "from passcheck.report.typeset import typeset\n"
        "print(hashlib.sha256(typeset(some_paper(), 'a4').pdf).hexdigest())"
    )
    there = subprocess.run(
        [sys.executable, "-c", script, str(TESTS / "fakes")],
        check=True,
        capture_output=True,
        text=True,
        cwd=TESTS.parent,
    ).stdout.strip()
    first, again = (hashlib.sha256(typeset(some_paper(), "a4").pdf).hexdigest() for _ in range(2))
    assert (first, again) == (there, there)
    other = typeset(of_another_moment(some_paper()), "a4").pdf
    assert hashlib.sha256(other).hexdigest() != first


def test_the_journal_inside_is_the_journal_to_the_byte(tmp_path: Path) -> None:
    page, out = kept(typeset(some_paper(), "a4"), tmp_path), tmp_path / "out.jsonl"
    call = [stock("pdfdetach"), "-save", "1", "-o", str(out), str(page)]
    subprocess.run(call, check=True, capture_output=True)
    assert out.read_bytes() == JOURNAL


def test_the_page_names_its_standard_and_is_tagged() -> None:
    pdf = typeset(some_paper(), "a4").pdf
    assert b"<pdfaid:part>3</pdfaid:part>" in pdf
    assert b"<pdfaid:conformance>A</pdfaid:conformance>" in pdf


def test_the_code_is_read_back_from_the_printed_page(tmp_path: Path) -> None:
    page = kept(typeset(some_paper(EVERY_PART[-1]), "a4"), tmp_path)
    draw = [stock("pdftoppm"), "-r", "200", "-png", str(page), str(tmp_path / "drawn")]
    scan = stock("zbarimg")
    subprocess.run(draw, check=True, capture_output=True)
    drawn = next(tmp_path.glob("drawn*.png"))
    said = subprocess.run([scan, "--raw", "-q", str(drawn)], check=True, capture_output=True, text=True).stdout
    assert said == f"{CODE}\n"


def test_a_text_that_is_too_long_for_a_code_is_said_in_words(tmp_path: Path) -> None:
    made = typeset(some_paper(Code("long " * 1000, ("what it says",))), "a4")
    assert made.warnings == ("A text is too long for a QR code: the page says it in words only.",)
    assert "what it says" in read(made, tmp_path)


def test_nothing_stays_in_the_folder_for_temporary_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    assert gettempdir() == str(tmp_path)
    typeset(some_paper(), "a4")
    assert list(tmp_path.iterdir()) == []


def test_no_room_for_temporary_files_is_a_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path / "gone"))
    with pytest.raises(BenchFailed, match="the typesetter reads from there"):
        typeset(some_paper(), "a4")


@pytest.mark.parametrize("package", ["typst", "segno"])
def test_a_missing_package_names_the_extra_that_brings_it(package: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, package, None)
    with pytest.raises(ExtraMissing, match=rf"{package} is not installed here: pip install 'passcheck\[report\]'"):
        typeset(some_paper(), "a4")


def test_a_page_that_cant_be_set_says_what_to_do(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    broken = tmp_path / "broken.typ"
    broken.write_text("#panic()", encoding="utf-8")
    monkeypatch.setattr(typesetting, "_LAYOUT", broken)
    with pytest.raises(BenchFailed, match=r"The page of A31-0417 can't be set.*--text"):
        typeset(some_paper(), "a4")


def test_a_page_that_cant_be_tagged_is_kept_untagged(monkeypatch: pytest.MonkeyPatch) -> None:
    compiled = typesetting._compiled

    def refused(folder: Path, paper: Paper, standard: typesetting.Standard, *, own_fonts: bool) -> object:
        if standard == "a-3a":
            return typesetting._Refused("a text has no letters behind it")
        return compiled(folder, paper, standard, own_fonts=own_fonts)

    monkeypatch.setattr(typesetting, "_compiled", refused)
    assert b"<pdfaid:conformance>B</pdfaid:conformance>" in typeset(some_paper(), "a4").pdf


def test_a_narrow_column_is_wide_enough_for_its_words(tmp_path: Path) -> None:
    heads = (Column("No", 0.2), Column("Purpose", 0.1), Column("Ambient", 0.1), Column("Reason", 6))
    reason = "what was seen and why it is so " * 6
    text = read(typeset(some_paper(Table(heads, (("1", "acceptance", "22 °C", reason),))), "a4"), tmp_path)
    for whole in ("acceptance", "Ambient", "Purpose", "22 °C"):
        assert whole in text


def test_a_long_word_is_cut_and_copied_as_it_is(tmp_path: Path) -> None:
    table = Table(COLUMNS, (("Betriebsspannungsueberwachungsschaltung", "", "", "9" * 70),))
    text = read(typeset(some_paper(table), "a4"), tmp_path, "-raw")
    squeezed = "".join(text.split())
    assert "Betriebsspannungsueberwachungsschaltung" in squeezed
    assert "9" * 70 in squeezed


def test_words_above_a_table_are_not_left_behind_at_a_page_s_end(tmp_path: Path) -> None:
    for count in range(36, 46):
        filling = tuple(Words("filling") for _ in range(count))
        table = Table((Column("Step"),), (("first row\n" * 5,),))
        pages = pages_of(typeset(some_paper(*filling, Words("above it", "small"), table), "a4"), tmp_path)
        assert [("above it" in page) == ("first row" in page) for page in pages] == [True] * len(pages)


@pytest.mark.parametrize("before", [10, 20, 30, 36, 38, 40, 42, 44])
def test_what_stands_together_is_never_cut_over_a_page(before: int, tmp_path: Path) -> None:
    held = Together(
        (Heading("a heading of it", 2), *(Words(f"line {n} of it") for n in range(9)), Boxes((Box("x", 1),)))
    )
    filling = Words("\n".join("filling" for _ in range(before)))
    pages = pages_of(typeset(some_paper(filling, held), "letter"), tmp_path)
    assert [page.count("of it") for page in pages if "of it" in page] == [10]


def test_what_fits_on_no_page_is_cut_and_nothing_of_it_is_lost(tmp_path: Path) -> None:
    held = Together(tuple(Words(f"line {n} of it") for n in range(120)))
    pages = pages_of(typeset(some_paper(held), "a4"), tmp_path)
    assert sum(page.count("of it") for page in pages) == 120
    assert len(pages) > 1


def test_a_number_stays_on_the_line_of_its_unit(tmp_path: Path) -> None:
    limits = ("0.10 A .. 0.22 A", "at least 150 Ω", "5.00 V ± 0.06 V", "between 4.85 V and 5.15 V", "−40 °C to 85 °C")
    for share in (0.14, 0.18, 0.22, 0.26):
        table = Table((Column("Limits", share), Column("Reason", 1 - share)), tuple((one, "") for one in limits))
        lines = read(typeset(some_paper(table), "a4"), tmp_path).splitlines()
        assert not [line for line in lines if line.strip() in {"A", "V", "Ω", "°C"}]

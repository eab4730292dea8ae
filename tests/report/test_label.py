"""Does a label fit its own unit and record, read however badly, and never another's?"""

import hashlib
from dataclasses import replace
from datetime import UTC, datetime
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper_maker import head_of as head
from story import Story

from passcheck.errors import FileFault
from passcheck.job.commands import ReturnUnrepaired, SignOff
from passcheck.job.state import Job
from passcheck.report.label import ALPHABET, both, label, read_label, scan_line, short_code

JOBS = st.from_regex(r"[A-Z][0-9]{2}-[0-9]{4,7}", fullmatch=True)
SERIALS = st.from_regex(r"[A-Z0-9][A-Z0-9._/+-]{0,39}", fullmatch=True)
DIGESTS = st.binary(min_size=32, max_size=32).map(bytes.hex)
ALIKE = str.maketrans("01", "OI")


def signed_off() -> Job:
    story = Story().walk()
    story.do(SignOff("t1", story.job.serial))
    return story.job


def given_back() -> Job:
    story = Story()
    story.do(ReturnUnrepaired("t1", "no parts"))
    return story.job


RELEASED, GIVEN_BACK = signed_off(), given_back()


def of(job: str, serial: str, ended: Job = RELEASED) -> Job:
    """The job under another number, or of another unit."""
    return replace(ended, facts=replace(ended.facts, job=job, serial=serial))


class TestItsLines:
    def test_a_release_names_job_unit_board_day_and_the_end_of_the_warranty(self) -> None:
        code = short_code(RELEASED, head())
        assert label(RELEASED, head(), 12) == (
            "A31-0417  LB-3",
            "unit 7Q22051",
            "RELEASED 2031-04-02",
            "warranty to 2032-04-02",
            f"code {code}",
            f"A31-0417 7Q22051 {code}",
        )

    def test_a_shop_that_gives_no_warranty_says_none(self) -> None:
        assert not any("warranty" in line for line in label(RELEASED, head()))

    def test_a_return_says_that_it_is_none_and_bears_no_warranty(self) -> None:
        lines = label(GIVEN_BACK, head(), 12)
        assert lines[2:4] == ("NOT RELEASED", "returned unrepaired 2031-04-02")
        assert not any("warranty" in line for line in lines)

    def test_an_open_job_gets_none(self) -> None:
        with pytest.raises(FileFault, match="A31-0417: the job is still open"):
            label(Story().job, head(sealed=False))

    def test_a_record_that_is_not_sealed_gets_none(self) -> None:
        with pytest.raises(FileFault, match="still open"):
            label(RELEASED, head(sealed=False))

    def test_a_label_of_practice_says_so_first(self) -> None:
        practised = replace(RELEASED, facts=replace(RELEASED.facts, practice=True))
        assert label(practised, head())[0] == "PRACTICE: no real unit"

    def test_the_day_is_the_one_on_the_bench_s_wall(self) -> None:
        late = replace(RELEASED.last, utc=datetime(2031, 4, 2, 23, 30, tzinfo=UTC), offset_min=120)
        assert "RELEASED 2031-04-03" in label(replace(RELEASED, last=late), head())


class TestTheShortCode:
    @given(JOBS, SERIALS, DIGESTS)
    def test_it_is_the_first_thirty_bits_of_the_digest_over_the_form_that_is_written_down(
        self, job: str, serial: str, digest: str
    ) -> None:
        written = f"passcheck label 1\n{job}\n{serial}\n{digest}\n".encode()
        bits = "".join(f"{byte:08b}" for byte in hashlib.sha256(written).digest())[:30]
        said = "".join(ALPHABET[int(bits[at : at + 5], 2)] for at in range(0, 30, 5))
        assert short_code(of(job, serial), head(digest)) == said

    def test_it_stays_what_it_was_on_labels_that_are_out_there(self) -> None:
        assert short_code(RELEASED, head()) == "VMCSEM"


class TestReading:
    @given(JOBS, SERIALS, DIGESTS)
    def test_what_was_printed_is_read_again(self, job: str, serial: str, digest: str) -> None:
        named = of(job, serial)
        line = scan_line(named, head(digest))
        assert label(named, head(digest))[-1] == line
        assert both(line, serial, named, head(digest)).fits

    @given(
        SERIALS,
        DIGESTS,
        st.lists(st.sampled_from((" ", "  ", "\t", "\n")), min_size=2, max_size=2),
        st.sampled_from(("", "*", "\x1d", "\x02", " ")),
        st.booleans(),
        st.booleans(),
    )
    def test_case_blanks_look_alikes_and_a_scanner_s_dress_do_not_matter(
        self, serial: str, digest: str, blanks: list[str], dress: str, lower: bool, alike: bool
    ) -> None:
        named = of("A31-0417", serial)
        job, unit, code = scan_line(named, head(digest)).split()
        if alike:
            job, unit, code = job[0] + job[1:].translate(ALIKE), unit.translate(ALIKE), code.translate(ALIKE)
        read = f"{dress}{job}{blanks[0]}{unit}{blanks[1]}{code}{dress}\r\n"
        assert both(read.lower() if lower else read, serial, named, head(digest)).fits

    def test_a_code_written_in_two_halves_is_read(self) -> None:
        job, unit, code = scan_line(RELEASED, head()).split()
        for halves in (f"{code[:3]} {code[3:]}", f"{code[:3]}-{code[3:]}"):
            assert both(f"{job} {unit} {halves}", unit, RELEASED, head()).fits

    @pytest.mark.parametrize(
        "text",
        [
            *("", "   ", "A31-0417", "A31-0417 7Q22051", "7Q22051 K7F3QX"),
            *("A31-0417 7Q22051 K7F3Q", "A31-0417 7Q22051 K7F3QXX", "A31-0417 7Q22051 K7F3QU"),
            *("A31-17 7Q22051 K7F3QX", "A31-0417 [b] K7F3QX", "A31-0417 7Q22051 K7F3Qß"),
        ],
    )
    def test_what_is_not_whole_is_not_read(self, text: str) -> None:
        assert read_label(text) is None


class TestScanningBoth:
    LINE = scan_line(RELEASED, head())

    def test_unit_and_label_of_the_job_match(self) -> None:
        match = both(self.LINE, "7Q22051", RELEASED, head())
        assert (match.fits, match.word, match.differs) == (True, "MATCH", ())
        assert match.sentence == "Unit and label belong to A31-0417, and the code fits its record."

    def test_a_match_of_what_was_given_back_calls_it_no_release(self) -> None:
        match = both(scan_line(GIVEN_BACK, head()), "7Q22051", GIVEN_BACK, head())
        assert match.fits
        assert match.sentence.endswith("It is no release: returned unrepaired.")

    @given(st.integers(0, len(LINE) - 1), st.text(max_size=6))
    def test_part_of_a_label_is_never_a_match(self, length: int, serial: str) -> None:
        assert not both(self.LINE[:length], "7Q22051", RELEASED, head()).fits
        assert both(self.LINE, serial, RELEASED, head()).fits == (serial.strip() == "7Q22051")

    @pytest.mark.parametrize("serial", ["", "  ", "\r\n", "7Q 22051", "[b]"])
    def test_a_serial_that_was_not_read_is_never_a_match(self, serial: str) -> None:
        match = both(self.LINE, serial, RELEASED, head())
        assert (match.fits, match.differs) == (False, ("not read",))
        assert "The unit's serial was not read" in match.sentence

    def test_the_label_scanned_twice_is_no_unit(self) -> None:
        match = both(self.LINE, self.LINE, RELEASED, head())
        assert (match.fits, match.word) == (False, "NOT READ")
        assert "Scan the number on the unit itself." in match.sentence

    def test_the_unit_scanned_twice_is_no_label(self) -> None:
        match = both("7Q22051", "7Q22051", RELEASED, head())
        assert (match.fits, match.word) == (False, "NOT READ")
        assert "The label was not read whole" in match.sentence

    def test_another_unit_in_hand(self) -> None:
        match = both(self.LINE, "7Q22064", RELEASED, head())
        assert (match.fits, match.differs) == (False, ("other serial",))
        assert match.sentence == "The unit in hand reads 7Q22064; A31-0417 is for 7Q22051."

    def test_a_unit_whose_serial_only_looks_alike_is_another(self) -> None:
        match = both(self.LINE, "7Q2205I", RELEASED, head())
        assert match.differs == ("other serial",)
        assert "they look alike" in match.sentence

    def test_the_label_of_an_earlier_visit_of_the_unit(self) -> None:
        match = both(scan_line(of("A30-0112", "7Q22051"), head("0f" * 32)), "7Q22051", RELEASED, head())
        assert (match.fits, match.differs) == (False, ("other job",))
        assert match.sentence == "The label is of job A30-0112, not of A31-0417."

    def test_two_labels_that_were_swapped(self) -> None:
        match = both(scan_line(of("A31-0418", "7Q22064"), head("0f" * 32)), "7Q22051", RELEASED, head())
        assert (match.fits, match.differs) == (False, ("other job", "other unit"))
        assert "The label is of unit 7Q22064, not of 7Q22051." in match.sentence

    def test_unit_and_label_of_another_job_are_told_to_go_together(self) -> None:
        match = both(scan_line(of("A31-0418", "7Q22064"), head("0f" * 32)), "7Q22064", RELEASED, head())
        assert (match.fits, match.word) == (False, "OTHER SERIAL")
        assert match.sentence.endswith("Unit and label go together: look at that job.")

    def test_a_record_that_changed_since_the_label_was_made(self) -> None:
        match = both(self.LINE, "7Q22051", RELEASED, head("ba" * 32))
        assert (match.fits, match.differs) == (False, ("other code",))
        assert "passcheck verify A31-0417" in match.sentence

    def test_an_open_job_has_no_label_to_match(self) -> None:
        match = both(self.LINE, "7Q22051", Story().job, head(sealed=False))
        assert (match.fits, match.word) == (False, "NO LABEL YET")

    def test_of_many_labels_that_are_nearly_alike_each_fits_its_own_record_and_no_other(self) -> None:
        jobs, serials = ("A31-0417", "A31-0418"), ("7Q22051", "7Q2205I", "7Q22O51", "7Q22064")
        every = [(of(*one), head(digest)) for one in product(jobs, serials) for digest in ("ab" * 32, "ab" * 31 + "ac")]
        for mine, my_head in every:
            line = scan_line(mine, my_head)
            fitting = [(job, its) for job, its in every if both(line, job.serial, job, its).fits]
            assert fitting == [(mine, my_head)]

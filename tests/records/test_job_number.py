import pytest

from passcheck.errors import FileFault
from passcheck.records.job_number import JobNumber, is_job_number, job_number


def test_a_number_says_bench_year_and_count() -> None:
    assert job_number("A31-0417") == JobNumber(2031, 417, "A")
    assert str(JobNumber(2031, 417, "A")) == "A31-0417"


def test_numbers_stand_in_order_of_year_then_count() -> None:
    numbers = ["A31-10000", "B31-0002", "A30-0009", "A31-0001"]
    assert sorted(numbers, key=job_number) == ["A30-0009", "A31-0001", "B31-0002", "A31-10000"]


@pytest.mark.parametrize(
    "text",
    ["", "a31-0417", "A31-417", "A31-0417\n", "../A31-0417", "A31-0417.jsonl", "A٣1-0417", "A31/0417", "x" * 900],
)
def test_no_other_text_is_a_number_so_none_leads_out_of_the_folder(text: str) -> None:
    assert not is_job_number(text)
    with pytest.raises(FileFault, match="not a job number"):
        job_number(text)

"""A table has a slot a row."""

from one_entry import step_of, typed

from passcheck.job.answers import TableAnswer


async def test_one_output_a_row_in_the_rows_order() -> None:
    rows = [{"put": "10 Ω", "limits": "0 V .. 0.2 V"}, {"put": "90 Ω", "limits": "4.8 V .. 5.2 V"}]
    answers, said = await typed(step_of("table", power="battery", rows=rows), "0.1", "enter", "5.0", "enter")
    assert answers == [TableAnswer(("0.1 V", "5.0 V"))]
    assert "90 Ω" in said
    assert "4.8" not in said

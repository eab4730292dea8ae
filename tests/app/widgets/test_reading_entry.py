"""A reading is typed as the instrument shows it; what was understood stands beside it."""

from one_entry import step_of, typed

from passcheck.job.answers import ReadingAnswer

RAIL = step_of("reading", limits="4.85 V .. 5.15 V")
RIPPLE = step_of("reading", limits="at most 60 mV")


async def test_one_enter_answers_a_single_reading() -> None:
    answers, said = await typed(RAIL, "5.01", "enter")
    assert answers == [ReadingAnswer(("5.01 V",))]
    assert "= 5.01 V" in said


async def test_a_bare_number_takes_the_unit_that_the_sequence_writes_its_limit_with() -> None:
    answers, _ = await typed(RIPPLE, "36", "enter")
    assert answers == [ReadingAnswer(("36 mV",))]


async def test_a_unit_that_was_typed_stays_as_it_was_typed() -> None:
    answers, said = await typed(RIPPLE, "0,036 V", "enter")
    assert answers == [ReadingAnswer(("0,036 V",))]
    assert "= 36 mV" in said


async def test_over_range_is_a_reading_too() -> None:
    answers, said = await typed(step_of("reading", limits="at least 150 Ω"), "OL", "enter")
    assert answers == [ReadingAnswer(("OL",))]
    assert "over range" in said


async def test_the_limits_are_not_shown_before_the_entry() -> None:
    _, said = await typed(RAIL)
    assert "4.85" not in said
    assert "5.15" not in said


async def test_what_can_t_be_read_is_said_and_stays_in_its_slot() -> None:
    answers, said = await typed(RAIL, "5,010", "enter")
    assert answers == []
    assert "thousands or decimal comma?" in said


async def test_scanned_text_is_no_reading() -> None:
    answers, said = await typed(RAIL, "7Q22051", "enter")
    assert answers == []
    assert "7Q22051" in said


async def test_an_empty_reading_is_no_reading() -> None:
    answers, said = await typed(RAIL, "enter")
    assert answers == []
    assert "type it" in said


async def test_the_leads_are_shorted_first_where_the_step_says_so() -> None:
    step = step_of("reading", limits="at most 0.5 Ω", leads="at most 0.3 Ω")
    answers, _ = await typed(step, "0.12", "enter", "0.31", "enter")
    assert answers == [ReadingAnswer(("0.31 Ω",), leads="0.12 Ω")]


async def test_a_part_in_its_circuit_is_read_both_ways() -> None:
    step = step_of("reading", component={"nominal": "4.7 kΩ", "tolerance": "5 %"})
    answers, _ = await typed(step, "4.66", "enter", "4.67", "enter")
    assert answers == [ReadingAnswer(("4.66 kΩ",), reverse="4.67 kΩ")]


async def test_three_readings_are_three_slots() -> None:
    step = step_of("reading", limits="4.85 V .. 5.15 V", readings=3)
    answers, _ = await typed(step, "5.01", "enter", "5.02", "enter", "5.00", "enter")
    assert answers == [ReadingAnswer(("5.01 V", "5.02 V", "5.00 V"))]


async def test_a_value_that_is_worked_out_takes_an_enter_and_no_number() -> None:
    derived = {"form": "drop", "of": ["input", "rail"], "same_meter": True}
    step = step_of("reading", limits="at most 100 mV", derive=derived)
    answers, said = await typed(step, "enter")
    assert answers == [ReadingAnswer(())]
    assert "Worked out from input and rail (drop)" in said
    answers, said = await typed(step, "60", "enter")
    assert answers == []
    assert "never typed" in said

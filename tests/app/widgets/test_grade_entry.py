"""A disturbance is answered by a class, and by the time to come back where it is limited."""

from one_entry import step_of, typed

from passcheck.job.answers import GradeAnswer


async def test_a_class_alone() -> None:
    answers, said = await typed(step_of("grade", power="battery", disturbance="dip to 9 V", worst="C"), "b", "enter")
    assert answers == [GradeAnswer("B")]
    assert "came back by itself" in said


async def test_a_class_with_its_time() -> None:
    step = step_of("grade", power="battery", disturbance="dip", worst="C", limits="at most 3.0 s")
    answers, _ = await typed(step, "C", "enter", "1.2", "enter")
    assert answers == [GradeAnswer("C", "1.2 s")]


async def test_there_is_no_class_f() -> None:
    answers, said = await typed(step_of("grade", power="battery", disturbance="dip", worst="C"), "F", "enter")
    assert answers == []
    assert "A, B, C, D or E" in said

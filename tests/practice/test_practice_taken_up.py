"""Does the robot technician take up the handheld meter first, and a better one where that leaves a doubt?"""

import robot

import sequences
from passcheck.practice.fault import Effect
from passcheck.practice.taken_up import instruments_for
from passcheck.practice.walking import Walk

RAIL = sequences.RAIL


async def test_each_role_is_filled_by_the_least_instrument_that_will_do() -> None:
    plain = dict(instruments_for(await robot.at_work(sequences.sequence())))
    assert plain == {"ohmmeter": "M2", "voltmeter": "M2"}
    fine = {"voltmeter": {"accuracy": "0.1 % + 2 digits"}, "ohmmeter": {"accuracy": "1 % + 3 digits"}}
    fussy = dict(instruments_for(await robot.at_work(sequences.sequence(instruments=fine))))
    assert fussy == {"ohmmeter": "M2", "voltmeter": "M1"}


async def test_after_two_doubts_a_second_instrument_is_taken() -> None:
    met = 0
    for seed in range(12):
        work = await robot.in_run(sequences.sequence(), robot.broken(Effect(RAIL, "reads", 4.861)), seed=seed)
        await Walk(work, "acceptance").steps()
        tries = [one for one in work.job.attempts if one.step == RAIL]
        taken = [one.instrument.instrument for one in tries if one.instrument is not None]
        doubts = [one.judgement.verdict for one in tries[:2]] == ["in doubt"] * 2
        assert taken[:3] == (["M2", "M2", "M1"] if doubts else ["M2"] * len(taken))
        met += doubts
    assert met > 0


async def test_a_doubt_is_left_where_no_instrument_is_clearly_better() -> None:
    work = await robot.at_work(
        sequences.sequence(), robot.broken(Effect(RAIL, "reads", 4.85)), instruments="M2 S1 H1 K1"
    )
    await work.make_safe()
    walk = Walk(work, "acceptance")
    await walk.whole()
    verdicts = [one.judgement.verdict for one in work.job.attempts if one.step == RAIL]
    assert verdicts == ["in doubt"] * 2
    assert walk.given_up == {RAIL: "in doubt"}

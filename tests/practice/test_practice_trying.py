"""Does the robot technician try a step as a person does, with slips, taps, loose probes and second instruments?"""

from collections import Counter
from dataclasses import replace

import pytest
import robot
from every_kind import EVERY_KIND, GAUGE

import sequences
from passcheck.job.answers import ReadingAnswer, TapPairsAnswer, TapRowsAnswer
from passcheck.job.commands import CloseRun
from passcheck.judge.quantity import Quantity, parse_quantity
from passcheck.practice.at_work import AtWork, NotGranted
from passcheck.practice.fault import Effect, When
from passcheck.practice.trying import tried
from passcheck.practice.walking import started
from passcheck.sequence.model import Sequence

RAIL, GUARD = sequences.RAIL, sequences.GUARD
SLOW_ENOUGH = {"power": "battery", "proves": ["LAMP"], "needs": [GUARD], "watch": "DS1 lights"}
QUICK = {**SLOW_ENOUGH, "id": "quick", "kind": "response", "title": "DS1", "press": "SW1", "limits": "at most 0.5 s"}
TAPPED = sequences.with_steps(QUICK)


async def guarded(sequence: Sequence, *effects: Effect, seed: int = 1, **manner: float) -> AtWork:
    """In a run whose guard has passed; slips and loose probes come after it."""
    broken = (robot.broken(*effects),) if effects else ()
    work = await robot.in_run(sequence, *broken, seed=seed)
    await tried(work, sequence.step(GUARD))
    work.manner = replace(robot.FLAWLESS, **manner)
    return work


def read(answer: object) -> Quantity:
    """The first figure of a reading."""
    assert isinstance(answer, ReadingAnswer)
    return parse_quantity(answer.readings[0])


# Slips


async def test_a_slip_outside_the_limits_is_caught_and_one_inside_is_kept_and_tallied() -> None:
    met: Counter[str] = Counter()
    for seed in range(30):
        work = await guarded(TAPPED, seed=seed, slips=1.0)
        step = TAPPED.step(RAIL)
        kept = await tried(work, step)
        assert work.tally.slips == 1
        assert work.tally.caught + work.tally.slipped_through == 1
        assert kept.judgement.verdict != "fail", "a slip of the finger became a fault"
        assert 4.85 <= read(kept.answer).value <= 5.15
        if work.tally.caught:
            assert work.tally.refused == {"type again": 1, "entry": 1}
            assert kept.answer != ReadingAnswer(())
        met["caught" if work.tally.caught else "kept"] += 1
    assert min(met["caught"], met["kept"]) > 0


async def test_a_slip_can_make_a_pass_of_a_fail_and_is_told_apart_from_every_other_pass() -> None:
    passed = 0
    for seed in range(40):
        work = await guarded(TAPPED, Effect(RAIL, "reads", 4.0), seed=seed, slips=1.0)
        kept = await tried(work, TAPPED.step(RAIL))
        if kept.judgement.verdict == "pass":
            passed += 1
            assert work.tally.passed_wrongly == work.tally.mistyped_to_pass == {RAIL: 1}
        else:
            assert work.tally.passed_wrongly == {}
    assert passed > 0


async def test_what_fails_is_looked_at_again_and_typed_twice() -> None:
    work = await guarded(TAPPED, Effect(RAIL, "reads", 4.0))
    kept = await tried(work, TAPPED.step(RAIL))
    assert kept.typed_twice
    assert kept.judgement.verdict == "fail"
    assert work.tally.refused == {"type again": 1}
    assert (work.tally.slips, work.tally.caught, work.tally.slipped_through) == (0, 0, 0)


async def test_a_loose_probe_passes_nothing() -> None:
    work = await guarded(TAPPED, loose_probe=1.0)
    for name in (RAIL, GUARD):
        kept = await tried(work, TAPPED.step(name))
        assert kept.judgement.verdict == "not measured"
    assert work.tally.slips == work.tally.slipped_through == 2
    assert work.tally.passed_wrongly == {}


async def test_a_loose_probe_is_looked_at_again_where_over_range_would_be_a_fault() -> None:
    """With the leads tried first, over range is the unit's own: it is asked for twice, and then the probe touches."""
    fuse = sequences.changed_step(GUARD, limits="at most 1 Ω", seen="1 mΩ .. 100 kΩ", leads="at most 0.3 Ω")
    work = await robot.in_run(fuse)
    work.manner = replace(robot.FLAWLESS, loose_probe=1.0)
    kept = await tried(work, fuse.step(GUARD))
    assert kept.judgement.verdict == "pass"
    assert (work.tally.slips, work.tally.caught) == (1, 1)


# Taps


async def test_taps_by_reference_stand_beside_a_block_that_was_tapped_in_that_run() -> None:
    work = await guarded(TAPPED)
    for run in (1, 2):
        kept = await tried(work, TAPPED.step("quick"))
        assert isinstance(kept.answer, TapPairsAnswer)
        assert kept.judgement.verdict in ("pass", "in doubt")
        (block,) = [one for one in work.job.references if one.run == run]
        assert kept.reference == block.number
        await work.make_safe()
        await work.do(CloseRun(work.by))
        await work.do(started(work, "acceptance"))


async def test_a_second_step_of_the_same_limit_shares_the_block() -> None:
    two = sequences.with_steps(QUICK, {**QUICK, "id": "other", "title": "DS2"})
    work = await guarded(two)
    for name in ("quick", "other"):
        await tried(work, two.step(name))
    assert len(work.job.references) == 1


async def test_what_can_be_tapped_is_measured_by_those_who_like_instruments() -> None:
    work = await guarded(TAPPED, by_instrument=1.0)
    kept = await tried(work, TAPPED.step("quick"))
    assert isinstance(kept.answer, ReadingAnswer)
    assert work.job.references == ()


@pytest.mark.parametrize(
    ("name", "shape", "late"),
    [
        ("answer", TapPairsAnswer, Effect("SW1", "delays", 4.5)),
        ("presses", TapPairsAnswer, Effect("SW1", "delays", 4.5)),
        ("sweep", TapRowsAnswer, Effect(GAUGE, "slow", 3.0)),
        ("blink", TapRowsAnswer, Effect("DS3", "blinks at", 3.5)),
    ],
)
async def test_every_kind_of_taps_passes_a_good_unit_and_fails_a_slow_one(
    name: str, shape: type[TapPairsAnswer | TapRowsAnswer], late: Effect
) -> None:
    for effects, wanted in (((), "pass"), ((late,), "fail")):
        work = await guarded(EVERY_KIND, *effects)
        kept = await tried(work, EVERY_KIND.step(name))
        assert isinstance(kept.answer, shape)
        assert kept.judgement.verdict == wanted, kept.judgement.sentence


async def test_a_unit_that_never_answers_fails_by_taps() -> None:
    work = await guarded(TAPPED, Effect("SW1", "dead spots", 1.0))
    kept = await tried(work, TAPPED.step("quick"))
    assert kept.judgement.verdict == "fail"


# Circumstances


async def test_a_condition_of_so_many_minutes_warm_is_waited_for() -> None:
    warm = sequences.sequence(symptoms={"dim": {"says": "Dim", "steps": [RAIL], "try": ["20 min warm"]}})
    work = await guarded(warm, Effect(RAIL, "reads", 4.0, when=When(warm_min=20)))
    cold = await tried(work, warm.step(RAIL))
    assert (cold.judgement.verdict, cold.conditions) == ("pass", ())
    hot = await tried(work, warm.step(RAIL), under=("20 min warm",))
    assert (hot.judgement.verdict, hot.conditions) == ("fail", ("20 min warm",))
    again = await tried(work, warm.step(RAIL))
    assert again.conditions == ("20 min warm",), "it is warm by now, whether or not anybody asks"


async def test_photo_note_and_witness_go_with_a_step_that_asks_for_them() -> None:
    asking = sequences.changed_step(RAIL, photo=True, note=True, witness=True)
    work = await guarded(asking)
    kept = await tried(work, asking.step(RAIL))
    assert kept.photos
    assert kept.note
    assert kept.second == work.second
    lamps = await tried(work, asking.step(sequences.LAMPS))
    assert (lamps.photos, lamps.note, lamps.second) == ((), "", None)


# What isn't granted


async def test_a_soak_is_not_tried() -> None:
    work = await guarded(EVERY_KIND)
    with pytest.raises(NotGranted):
        await tried(work, EVERY_KIND.step("soak"))


async def test_a_step_that_nothing_here_measures_is_not_tried() -> None:
    odd = sequences.changed_step(RAIL, instrument="oscillograph")
    work = await guarded(odd)
    with pytest.raises(NotGranted, match="Nothing at this bench measures 5 V logic rail") as refused:
        await tried(work, odd.step(RAIL))
    assert refused.value.refusal.code == "instrument"


async def test_a_refused_try_keeps_nothing() -> None:
    work = await robot.in_run(TAPPED)
    with pytest.raises(NotGranted):
        await tried(work, TAPPED.step(RAIL))
    assert work.job.attempts == ()
    assert work.tally.tries == 0

"""The five demo boards' stories, each told once from the arrival to the door, for whoever looks at a whole job.

told = story_of("OV-24P")
told.job, told.bench.outside()
"""

import asyncio
from collections.abc import Awaitable, Callable, Coroutine, Mapping
from functools import cache
from types import ModuleType
from typing import Any

import test_story_ek8 as ek8
import test_story_ov24p as ov24p
import test_story_pm7 as pm7
import test_story_qm48 as qm48
import test_story_th12 as th12
from rig import Rig
from telling import Telling

Chapter = Callable[[Telling], Awaitable[None]]
BOARDS = ("OV-24P", "EK-8", "QM-48", "TH-12", "PM-7")


@cache
def story_of(board: str) -> Telling:
    """The unit's whole story, ended by its sign-off."""
    return asyncio.run(_TOLD[board]())


async def _chapters(of: ModuleType, *chapters: Chapter) -> Telling:
    told: Telling = await of.arrived(Rig(of.FILE.read_text(encoding="utf-8")))
    for chapter in chapters:
        await chapter(told)
    await told.out_of_the_door()
    return told


async def _sweeper() -> Telling:
    return await _chapters(
        ov24p,
        ov24p.found_as_the_owner_says,
        ov24p.capacitors_renewed,
        ov24p.joint_reflowed,
        ov24p.button_found_in_acceptance,
        ov24p.accepted,
        ov24p.soaked_through_a_dip,
    )


async def _kiln() -> Telling:
    told = await ek8.told_until_accepted()
    told.rig.clock.pass_time(hours=15)
    await told.burn_in()
    await told.out_of_the_door()
    return told


async def _tug() -> Telling:
    told = await qm48.tell(until=qm48.soak)
    await told.out_of_the_door()
    return told


async def _timer() -> Telling:
    return await _chapters(
        th12,
        th12.found_as_the_owner_says,
        th12.driver_renewed_and_pad_repaired,
        th12.retested,
        th12.accepted,
        th12.soaked_alone,
    )


async def _engine() -> Telling:
    return await _chapters(
        pm7,
        pm7.found_as_the_owner_says,
        pm7.terminator_renewed,
        pm7.plug_cleaned,
        pm7.joint_reflowed,
        pm7.bench_lead_found_in_acceptance,
        pm7.accepted,
        pm7.soaked_with_a_late_look,
    )


_TOLD: Mapping[str, Callable[[], Coroutine[Any, Any, Telling]]] = {
    "OV-24P": _sweeper,
    "EK-8": _kiln,
    "QM-48": _tug,
    "TH-12": _timer,
    "PM-7": _engine,
}

"""Is an irrigation timer carried out of the door with two faults mended, one of them only there when it is damp?

The owner says that zone 4 stays dry and that rain doesn't stop it. A valve driver is renewed, and a pad that damp
bridged gets a wire, which is a repair and has to be said. It soaks alone for twelve hours. Which results each rework
takes away is written down by hand.
"""

from collections.abc import Mapping
from pathlib import Path

from rig import Rig
from telling import Telling

from passcheck.job.answers import Answer, PowerUpAnswer, ReadingAnswer, TableAnswer
from passcheck.job.commands import LogRework, MapComplaint
from passcheck.job.plan import plan

FILE = Path(__file__).parents[2] / "sequences" / "th-12.yaml"
COMPLAINT = "Four never waters and it waters in the rain."

CONFIRMED = ("d01", "d02", "d04", "d05", "d08-width", "d08-current", "d08-polarity", "d09", "d10-lock", "d10-run")
"""What the two symptoms point to, with the guards before it: as found no more is walked."""

OPEN_AND_CLOSE = ("0.42 A", "0.41 A")
AS_FOUND: Mapping[str, Answer] = {
    "d02": ReadingAnswer(("12.4 kΩ",)),
    "d04": PowerUpAnswer("6.2 mA", "off"),
    "d08-current": TableAnswer((*OPEN_AND_CLOSE * 3, "0.40 A", "0.11 A", *OPEN_AND_CLOSE * 2)),
    "d09": ReadingAnswer(("0.9 V",)),
    "d10-lock": ReadingAnswer(("0.8 s",)),
}
"""As it came in, dry: zone 4 closes with a quarter of the current, and the rain lock comes as it should."""

LOCKED, NEVER = ReadingAnswer(("0.9 s",)), ReadingAnswer(("> 30 s",))
DAMP = "damp at J3"
SPRAYED = "supply off while spraying"

STALE_BY_DRIVER = ["d04", "d08-width", "d08-current", "d08-polarity", "d09"]
"""U5 is on VALVE, which feeds nothing: the four steps of the valves, and the first power. Input and rail prove the
supply and stand; so do both rain tries, for the rain input is a block of its own."""

STALE_BY_WIRE = ["d10-lock", "d10-lock", "d10-run"]
"""R40 is on RAIN, which feeds nothing: the dry and the damp try, and the run when dry. The first power would go too,
but the driver took it already, and the first event is the one that is named."""


ALONE = (
    "F1, the polyfuse of 500 mA, and 1 A in the plug",
    "steel shelf by the door",
    "cut-out of the shelf at 60 °C",
    "k9",
)
"""What is said before it is left: the fuse, the place, the cut-out, and who can be reached."""


async def test_a_valve_driver_and_a_pad_that_leaks_when_it_is_damp() -> None:
    told = await arrived(Rig(FILE.read_text(encoding="utf-8")))
    await found_as_the_owner_says(told)
    await driver_renewed_and_pad_repaired(told)
    await retested(told)
    await accepted(told)
    await soaked_alone(told)
    signed = await told.out_of_the_door()
    assert signed.serial_scanned == "Q77777"


async def arrived(rig: Rig) -> Telling:
    """The unit is taken in with its owner's words, which are two symptoms of the sequence."""
    told = Telling(rig, await rig.job(serial="Q77777", complaint=COMPLAINT))
    await told.do(MapComplaint("t1", ("zone-dry", "rain-ignored"), (DAMP,)))
    assert told.job.facts.complaint == COMPLAINT
    return told


async def found_as_the_owner_says(told: Telling) -> None:
    """As found: zone 4 at once; the rain lock works dry and never comes once the pads at J3 are damp.

    The dry pass and the damp fail are no coming and going: each time it was tried damp, it failed.
    """
    await told.begin("as-found")
    await told.walk_these(CONFIRMED, AS_FOUND)
    await told.tried("d10-lock", NEVER, note=SPRAYED, under=(DAMP,))
    await told.end()
    assert told.failing(1) == ["d08-current", "d10-lock"]
    assert told.under("d10-lock") == [(), (DAMP,)]
    assert "zone 4 close" in told.sentence_of("d08-current")
    assert told.job.runs[-1].outcome == "complaint reproduced"
    assert set(told.suspects()[:2]) == {"VALVE", "RAIN"}, "where U5 and R40 are"
    assert all(it.facts.asked is None for it in told.job.acknowledged), "in quiet times one key will do for a CAUTION"


async def driver_renewed_and_pad_repaired(told: Telling) -> None:
    """Two entries; the wire is not as drawn, so it is kept as a repair without anybody having to think of it."""
    await told.do(LogRework("t1", ("VALVE",), ("U5",), "replaced", "Zone 4 closes with 0.11 A"))
    assert told.newly_stale() == STALE_BY_DRIVER
    assert told.arrival_stands()
    words = "Pad of R40 cleaned of green crust, wire from R40 to J3 in place of the eaten track"
    await told.do(LogRework("t1", ("RAIN",), ("R40",), "jumper", words))
    assert told.newly_stale() == STALE_BY_WIRE
    assert told.arrival_stands()
    assert [entry.repair for entry in told.job.reworks] == [False, True]


async def retested(told: Telling) -> None:
    """What failed when it was damp has to pass damp: dry it passed all the while."""
    await told.begin("retest")
    await told.walk_these(("d04", "d08-width", "d08-current", "d08-polarity", "d09"))
    await told.tried("d10-lock", LOCKED)
    assert f"showed it under {DAMP}; not tried so since" in told.blocking()["d10-lock"]
    asked = next(one for one in plan(told.job) if one.step.id == "d10-lock")
    assert asked.under == (DAMP,)
    await told.tried("d10-lock", LOCKED, note=SPRAYED, under=asked.under)
    await told.tried("d10-run", note="dry again")
    assert "d10-lock" not in told.blocking()
    await told.end()
    assert told.failing(2) == []


async def accepted(told: Telling) -> None:
    """What was left to walk passes, everything is put back; burn-in and the final look stand against the door."""
    await told.begin("acceptance")
    await told.walk(until="final")
    await told.end()
    assert "All six 24 Ω dummies off J2" in {it.words for it in told.job.fitted}
    await told.put_back()
    assert told.against() == [
        "Twelve hours, one zone every half hour: burn-in not done.",
        "Final look: comes after the burn-in.",
    ]


async def soaked_alone(told: Telling) -> None:
    """Twelve hours with a look every two, between which nobody is in the room."""
    await told.burn_in(alone=ALONE)
    assert told.job.soaks[-1].unattended == ALONE
    assert told.stretches() == [("in time", 120)] * 6
    assert told.sentence_of("d15").startswith("12 h 00 min at power shown by looks that passed (12 h asked for).")
    assert "Pulse counter off, the owner's program back" in {it.words for it in told.job.fitted}

"""What do set clocks, summer time, suspend and restarts do to a soak's hours and to the order of a job's events?

The hours: never more than the unit was at power, and short by at most the stretch between two looks for each start of
the machine. The order: the journal's own, whatever the clock on the wall says.
"""

import os
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from pathlib import Path

import hand
import soaking
from crashing_disk import CrashingDisk
from hypothesis import given
from hypothesis import settings as run_with
from hypothesis import strategies as st
from journal_lines import a_line, opening
from rig import RigClock
from story import Story

import sequences
from passcheck.bench.bench import line_of
from passcheck.job import events as happened
from passcheck.job.fold import fold
from passcheck.job.journal_line import Line
from passcheck.job.replay import recorded
from passcheck.job.soak import soak_now
from passcheck.job.state import Recorded
from passcheck.judge.soak_credit import grace_s
from passcheck.records.journal import Journal
from passcheck.records.journal_file import State, read_journal
from passcheck.records.shop import LogFolder
from passcheck.records.stamp import Stamp
from sequences import RAIL

EVERY_S = 3600.0
IN_TIME_S = EVERY_S + grace_s(EVERY_S)
RELAY = "the relay that drops out is in"
HISTORIES = int(os.environ.get("PASSCHECK_EXAMPLES", "60"))


class JumpyClock(RigClock):
    """The rig's clocks with all that happens to a bench's: what really passed is kept beside them, in milliseconds."""

    def __init__(self, going: RigClock) -> None:
        """Go on from where that clock stands, in the same start of the machine."""
        super().__init__()
        now = going()
        self._utc, self._boottime_ms = now.utc, now.boottime_ms
        self.passed_ms = 0

    def pass_ms(self, gone_ms: int) -> None:
        """Time goes by on every clock; asleep or awake is all the same to the clock that counts since the start."""
        self.pass_time(seconds=gone_ms / 1000)
        self.passed_ms += gone_ms

    def start_anew(self, gone_ms: int) -> None:
        """The machine was off for a while and counts from zero again."""
        self.reboot(minutes=gone_ms / 60_000)
        self.passed_ms += gone_ms

    def summer_time(self, offset_min: int) -> None:
        """The clock on the wall shows another hour; UTC goes on."""
        self._offset_min = offset_min


@dataclass(frozen=True)
class Jump:
    """One thing that happens to the clocks."""

    kind: str
    hours: float = 0.0
    minutes: int = 0


WALL = st.sampled_from((-8760.0, -30.0, -2.0, -1.0, -0.25, 0.25, 1.0, 2.0, 30.0, 8760.0))
HARMLESS = st.one_of(
    st.builds(Jump, st.just("wall"), hours=WALL),
    st.builds(Jump, st.just("summer time"), minutes=st.sampled_from((60, 120))),
    st.just(Jump("program")),
    st.builds(Jump, st.just("suspend"), minutes=st.integers(1, 25)),
)
REBOOT = st.builds(Jump, st.just("reboot"), minutes=st.integers(1, 25))
STRETCH = st.tuples(
    st.lists(st.one_of(HARMLESS, HARMLESS, REBOOT), max_size=4), st.integers(-900, int(grace_s(EVERY_S)))
)
"""What happens between two looks, and how many seconds the second comes early or late."""


class Soak:
    """A soak that a good technician looks at in time while the clocks jump; the truth is kept beside it."""

    def __init__(self) -> None:
        begun, self._passed = powered()
        self.story = begun.twin()
        self.story.clock = self.clock = JumpyClock(self.story.clock)
        self.story.happen(happened.SoakStarted("soak", "battery", "24.0 V", "0.15 A", RELAY))
        self._walked()
        self.first_done_ms = self.clock.passed_ms
        self.unmeasured_s = 0.0
        self.rebooted_s = 0.0
        """Of all stretches in which the machine was started anew: how long they were."""
        self.wall_set_over_a_reboot = False

    @property
    def lived_s(self) -> float:
        return (self.clock.passed_ms - self.first_done_ms) / 1000

    @property
    def counted_s(self) -> float:
        return soak_now(self.story.job, soaking.soak_of(self.story.job)).credit.counted_s

    def stretch(self, jumps: Sequence[Jump], late_s: int) -> None:
        """The time until the next look, with jumps at even distances."""
        begun_ms = self.clock.passed_ms
        left_ms = int(EVERY_S + late_s) * 1000
        share_ms = left_ms // (len(jumps) + 1)
        for jump in jumps:
            self.clock.pass_ms(min(share_ms, left_ms))
            left_ms -= min(share_ms, left_ms)
            left_ms -= self._jump(jump, left_ms)
        self.clock.pass_ms(left_ms)
        kinds = {jump.kind for jump in jumps}
        if "reboot" in kinds:
            self.rebooted_s += (self.clock.passed_ms - begun_ms) / 1000
            self.wall_set_over_a_reboot |= "wall" in kinds
        serial = self.story.job.serial
        self.story.happen(happened.SoakChecked("soak", serial, "24.0 V", "0.15 A", RELAY, good=True))
        self._walked()

    def _jump(self, jump: Jump, left_ms: int) -> int:
        """Carry one out; gives the time that it took."""
        took_ms = min(jump.minutes * 60_000, left_ms) if jump.kind in ("suspend", "reboot") else 0
        match jump.kind:
            case "wall":
                self.clock.set_wall(hours=jump.hours)
            case "summer time":
                self.clock.summer_time(jump.minutes)
            case "program":
                self.story.restart()
            case "suspend":
                self.clock.pass_ms(took_ms)
            case _:
                before_ms = self.clock.passed_ms - self._since_last_ms()
                self.clock.start_anew(took_ms)
                self.unmeasured_s += (self.clock.passed_ms - before_ms) / 1000
                self.story.restart()
        return took_ms

    def _since_last_ms(self) -> int:
        since = self.clock().since(self.story.job.last)
        assert since is not None
        return since // timedelta(milliseconds=1)

    def _walked(self) -> None:
        self.story.happen(replace(self._passed, attempt=len(self.story.job.attempts) + 1))


def powered() -> tuple[Story, happened.AttemptJudged]:
    """A unit at power before its soak, and a pass that can be told of any look."""
    story = Story(sequences.with_soak()).walk().start("burn-in").power("soak")
    trial = story.twin()
    trial.do(soaking.start(trial.job))
    (passed,) = trial.answer(RAIL).do(hand.passing(trial.job, RAIL))
    assert isinstance(passed, happened.AttemptJudged)
    return story, passed


@given(st.lists(STRETCH, min_size=1, max_size=6))
@run_with(max_examples=HISTORIES, deadline=None)
def test_a_soak_is_given_what_was_lived_and_is_short_by_a_stretch_for_each_start_of_the_machine(
    stretches: list[tuple[list[Jump], int]],
) -> None:
    soak = Soak()
    for jumps, late_s in stretches:
        soak.stretch(jumps, late_s)
    counted_s, lived_s = soak.counted_s, soak.lived_s
    assert counted_s <= lived_s + 0.001
    # A stretch looked at in time is no longer than an interval with its grace.
    assert counted_s >= lived_s - soak.rebooted_s - 0.001
    assert soak.rebooted_s <= IN_TIME_S * len(stretches)
    if not soak.wall_set_over_a_reboot:
        # The clock on the wall was let alone over a restart: only what no clock measured is missing.
        assert abs(lived_s - counted_s - soak.unmeasured_s) < 0.001


@given(st.lists(st.tuples(st.lists(HARMLESS, max_size=5), st.integers(-900, 300)), min_size=1, max_size=6))
@run_with(max_examples=HISTORIES, deadline=None)
def test_clocks_set_summer_time_suspend_and_a_killed_program_cost_a_soak_nothing(
    stretches: list[tuple[list[Jump], int]],
) -> None:
    soak = Soak()
    for jumps, late_s in stretches:
        soak.stretch(jumps, late_s)
    assert abs(soak.counted_s - soak.lived_s) < 0.001


@given(st.lists(STRETCH, min_size=1, max_size=4))
@run_with(max_examples=1 + HISTORIES // 3, deadline=None)
def test_a_journal_of_jumping_clocks_is_whole_and_gives_the_same_hours_in_the_same_order(
    stretches: list[tuple[list[Jump], int]],
) -> None:
    soak = Soak()
    for jumps, late_s in stretches:
        soak.stretch(jumps, late_s)
    story, folder = soak.story, Path("/journals of this test")
    lines = [line_of(one.event, one.number, one.by, one.moment) for one in story.history]
    disk = CrashingDisk(folder)
    Journal.create(folder / "A31-0417.jsonl", lines, disk=disk, own_lock=False).close()
    file = read_journal(folder / "A31-0417.jsonl", disk)
    assert (file.state, file.lines) == (State.WHOLE, tuple(lines))
    read = tuple(recorded(file.lines))
    assert [_told(one) for one in read] == [_told(one) for one in story.history]
    again = fold(read, story.boards.read)
    assert soak_now(again, soaking.soak_of(again)).credit == soak_now(story.job, soaking.soak_of(story.job)).credit


def _told(one: Recorded) -> tuple[int, object, object, str]:
    return one.number, one.event, one.moment.utc, one.moment.boot_id


def lines_by(clock: Callable[[], Stamp], count: int) -> list[Line]:
    """Notes one after the other, stamped by a clock."""
    return [replace(a_line(number), at=(now := clock()).at, clock=now.clock) for number in range(1, count)]


def test_records_are_sound_while_the_clock_on_the_wall_is_set_back_and_the_machine_started_anew(tmp_path: Path) -> None:
    walls = iter(
        [f"2031-04-02T09:{minute:02d}:00.000Z" for minute in range(20)]
        + ["1970-01-01T00:00:07.000Z", "2031-10-26T00:30:00.000Z", "2031-10-26T01:30:00.000Z"]
        + ["2030-12-31T23:59:59.999Z", "2106-02-07T06:28:15.000Z"] * 20
    )
    ticks = iter([*range(1_000, 21_000, 1_000), *range(7, 1_000, 7)])

    def stamp() -> Stamp:
        return Stamp(next(walls), next(ticks))

    logs = LogFolder(tmp_path, "A", stamp=stamp)
    job, writer = logs.new_job(opening)
    told = lines_by(stamp, 30)
    for line in told:
        writer.append([line])
    writer.close()
    assert logs.intact(job) == ()
    again, lines = LogFolder(tmp_path, "A", stamp=stamp).open_job(job)
    again.close()
    assert list(lines[1:]) == told
    assert LogFolder(tmp_path, "A", stamp=stamp).intact(job) == ()


def test_a_clock_whose_battery_is_empty_gives_each_unit_a_number_of_its_own(tmp_path: Path) -> None:
    logs = LogFolder(tmp_path, "A", stamp=lambda: Stamp("1970-01-01T00:00:07.000Z", 7_000))
    for number in ("A70-0001", "A70-0002"):
        job, writer = logs.new_job(opening)
        writer.close()
        assert job == number
        assert logs.intact(job) == ()


def test_a_clock_set_back_over_the_turn_of_the_year_reuses_no_number(tmp_path: Path) -> None:
    year = iter(("2031-12-31", "2032-01-01", "2031-12-31", "2032-01-01"))
    days: list[str] = []

    def stamp() -> Stamp:
        return Stamp(f"{days[-1]}T12:00:00.000Z", 1)

    logs, jobs = LogFolder(tmp_path, "A", stamp=stamp), []
    for day in year:
        days.append(day)
        job, writer = logs.new_job(opening)
        writer.close()
        jobs.append(job)
    assert jobs == ["A31-0001", "A32-0001", "A31-0002", "A32-0002"]
    assert [logs.intact(job) for job in jobs] == [(), (), (), ()]

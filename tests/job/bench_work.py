"""A random walk through an ordinary week of work on one unit: everything makes sense by itself, in no sensible order.

Runs of every purpose, steps that pass, fail, stay in doubt or show nothing, warm and cold, with tries withdrawn,
reworks, incidents, an opened case and a killed program between. Whole handfuls of acts are drawn at once, and a step
brings its guard and its power along, so that the histories get deep.
"""

from dataclasses import replace
from typing import Any

import hand
import soaking
from hypothesis import strategies as st
from hypothesis.stateful import initialize, rule
from watched import Watched

import sequences
from passcheck.job import commands
from passcheck.job.answers import Answer, ReadingAnswer
from passcheck.job.events import LeftOld, Purpose
from passcheck.job.soak import soak_now, soak_steps
from passcheck.job.standing import unmet_needs
from passcheck.sequence.model import ReadingStep, Sequence, Step
from sequences import GUARD, LAMPS, RAIL

BY, SECOND = "k9", "t1"
GUARD_STEP, RAIL_STEP, LAMPS_STEP = sequences.BASE["steps"]
PAPERS = sequences.sequence(
    steps=[
        sequences.LOOK_STEP,
        GUARD_STEP,
        {**RAIL_STEP, "restore": "dummy plug out of J5", "photo": True, "note": True},
        {**LAMPS_STEP, "witness": True},
        sequences.FINAL_STEP,
        {**sequences.SOAK_STEP, "hours": "2 h"},
    ],
    stored_energy=[sequences.LITTLE_ENERGY],
)
BOARDS = (
    sequences.sequence(),
    sequences.with_soak(),
    sequences.with_arrival_and_final(),
    sequences.hazardous_live(),
    sequences.much_energy(),
    PAPERS,
)

PURPOSES: st.SearchStrategy[Purpose] = st.sampled_from(
    ("as-found", "as-found", "retest", "acceptance", "acceptance", "good-unit", "burn-in")
)
STEPS = st.sampled_from((RAIL, RAIL, RAIL, LAMPS, LAMPS, GUARD, "final", "arrival", "inlet"))
HOW = st.sampled_from(("passes", "passes", "passes", "passes", "fails", "fails", "doubt", "nothing"))
UNDER = st.sampled_from(((), (), (), ("warm",), ("warm",), ("cold", "warm")))
BLOCKS = st.sampled_from(("PWR", "LAMP"))
ACTS: st.SearchStrategy[tuple[Any, ...]] = st.one_of(
    st.tuples(st.just("start"), PURPOSES, st.booleans()),
    *[st.tuples(st.just("try"), STEPS, HOW, UNDER)] * 4,
    st.tuples(st.just("void"), st.integers(1, 4), st.booleans()),
    st.tuples(st.just("rework"), BLOCKS, st.sampled_from(("reflowed", "firmware", "replaced"))),
    st.tuples(st.just("incident"), BLOCKS),
    st.tuples(st.just("open")),
    st.tuples(st.just("make safe"), st.booleans()),
    st.tuples(st.just("put back")),
    st.tuples(st.just("note"), STEPS),
    st.tuples(st.just("soak"), st.integers(0, 3), st.sampled_from(("passes", "passes", "fails"))),
    st.tuples(st.just("crash")),
    st.tuples(st.just("wait"), st.sampled_from((5, 20, 600))),
)


class BenchWork(Watched):
    """One unit, its complaint matched, and a week of work."""

    @initialize(board=st.sampled_from(BOARDS), mapped=st.sampled_from((True, True, False)))
    def arrives(self, board: Sequence, mapped: bool) -> None:
        self.begin(board)
        if mapped:
            self.ask(commands.MapComplaint(BY, ("rail-low",)))

    @rule(acts=st.lists(ACTS, min_size=4, max_size=10))
    def works(self, acts: list[tuple[Any, ...]]) -> None:
        for act, *how in acts:
            if self.story.job.ended is None:
                getattr(self, f"_{act.replace(' ', '_')}")(*how)

    @rule(
        purpose=st.sampled_from(("as-found", "as-found", "acceptance", "retest")),
        tries=st.lists(st.tuples(HOW, UNDER), min_size=1, max_size=4),
        block=st.none() | BLOCKS,
    )
    def hunts_on_the_rail(self, purpose: Purpose, tries: list[tuple[str, tuple[str, ...]]], block: str | None) -> None:
        """The same step again and again, warm and cold, and then something is done or not."""
        self._start(purpose, False)
        for how, under in tries:
            self._try(RAIL, how, under)
        if block is not None:
            self._rework(block, "reflowed")

    @rule()
    def walks_acceptance(self) -> None:
        """The way to a release, step by step, with nothing done about what stands against it."""
        self._start("acceptance", False)
        for step in self.story.job.sequence.steps:
            if step.kind != "soak":
                self._try(step.id, "passes", ())

    @rule()
    def signs_off(self) -> None:
        self._make_safe(False)
        self.ask(commands.SignOff(BY, self.story.job.serial))

    def _start(self, purpose: Purpose, again: bool) -> None:
        self.ask(commands.CloseRun(BY))
        begun = hand.start(self.story.job, purpose, BY, SECOND)
        assert isinstance(begun, commands.StartRun)
        self.ask(replace(begun, again=again and purpose == "retest"))

    def _try(self, step_id: str, how: str, under: tuple[str, ...]) -> None:
        step = next((one for one in self.story.job.sequence.steps if one.id == step_id), None)
        if step is None:
            return
        if self.story.job.open_run is None:
            self._start("acceptance", False)
        for guard in unmet_needs(self.story.job, step):
            self._try(guard.id, "passes", ())
        self._ready(step)
        answer = _answer(step, how)
        second = SECOND if step.witness else None
        self.ask(commands.Attempt(BY, step_id, answer, again=answer, second=second, conditions=under))

    def _ready(self, step: Step) -> None:
        told = {name: self.story.told(name) for name in self.story.job.sequence.supplies}
        others = {name: state for name, state in told.items() if name != step.power or state == "unknown"}
        if any(state != "off" for state in others.values()):
            self._make_safe(False)
        for command in hand.answers_to_cautions(self.story.job, step.id, BY, self.story.now):
            self.ask(command)
        if step.power != "none" and self.story.told(step.power) not in ("on", "soaking"):
            self.ask(hand.energise(self.story.job, step.id, BY))

    def _void(self, back: int, cause: bool) -> None:
        shown = ("the lead", "read again with another lead") if cause else (None, None)
        self.ask(commands.VoidAttempt(BY, len(self.story.job.attempts) + 1 - back, "slip", *shown))

    def _rework(self, block: str, action: Any) -> None:
        self._make_safe(False)
        parts = {"PWR": ("C1",), "LAMP": ("DS1",)}[block] if action == "replaced" else ()
        left = (LeftOld("C2", "film, not electrolytic"),) if "C1" in parts else ()
        open_ones = self.story.job.open_incidents
        incident = open_ones[0] if open_ones and action == "reflowed" else None
        self.ask(commands.LogRework(BY, (block,), parts, action, "cracked", left_old=left, incident=incident))

    def _incident(self, block: str) -> None:
        self.ask(commands.ReportIncident(BY, (block,), "smoke"))

    def _open(self) -> None:
        self._make_safe(False)
        self.ask(commands.OpenCase(BY, "to look"))

    def _make_safe(self, lead: bool) -> None:
        self.ask(commands.CallMakeSafe(BY))
        self.ask(hand.proved_dead(self.story.job, BY, shorting_lead=lead))

    def _put_back(self) -> None:
        for it in self.story.job.fitted:
            self.ask(commands.UndoChange(BY, it.change, "put back"))

    def _note(self, step: str) -> None:
        self.ask(commands.AddNote(BY, "the clip had slipped off", step))

    def _soak(self, looks: int, ends: str) -> None:
        """Some hours at power, and a look at whose end the steps pass or fail."""
        if not soak_steps(self.story.job):
            return
        step = soaking.soak_of(self.story.job)
        for guard in unmet_needs(self.story.job, step):
            self._start("acceptance", False)
            self._try(guard.id, "passes", ())
        self._start("burn-in", False)
        self._ready(step)
        self.ask(soaking.start(self.story.job, BY))
        for look in range(looks + 1):
            wanted = soak_now(self.story.job, step).still_to_pass
            for name in wanted:
                self._try(name, ends if look == looks else "passes", ())
            self.story.clock.pass_time(hours=1)
            self.ask(soaking.check(self.story.job, BY, continuity="held"))
        self.ask(soaking.finish(self.story.job, BY))

    def _crash(self) -> None:
        seen = len(self.story.history)
        self.story.restart()
        self.watch(seen)

    def _wait(self, minutes: int) -> None:
        self.story.clock.pass_time(minutes=minutes)


def _answer(step: Step, how: str) -> Answer:
    """An answer that passes or fails; a doubt and a probe that slipped off where the step is a reading."""
    if how == "passes":
        return hand.good(step)
    if how == "nothing" and isinstance(step, ReadingStep):
        return ReadingAnswer(("OL" if step.id == RAIL else "0 Ω",))
    if how == "doubt" and step.id == RAIL:
        return ReadingAnswer(("5.14 V",))
    return hand.bad(step)

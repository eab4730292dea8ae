"""The exhaustive walk: every command in every state of a small model, states merged by what the future depends on."""

import gc
from collections import deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from monitor import Monitor
from monitor_facts import When, facts_of, long_away
from story import Story

from passcheck.job import cautions, standing
from passcheck.job.commands import Command, Refusal
from passcheck.job.events import Event, Resumed
from passcheck.job.gate_step import symptoms
from passcheck.job.moment import Moment
from passcheck.job.power import proved_dead, told
from passcheck.job.soak import soak_now, soak_steps
from passcheck.job.state import Job
from passcheck.sequence.model import Sequence, SoakStep

Act = Callable[["State"], "State | None"]
"""One thing that may be done; None where it is refused or makes no sense."""


@dataclass(frozen=True, slots=True)
class State:
    """The job, what the watcher thinks of it, how it came about and how long nothing has happened."""

    story: Story
    monitor: Monitor
    path: tuple[str, ...] = ()


@dataclass(slots=True)
class Walked:
    """What a walk found."""

    states: int = 0
    transitions: int = 0
    signed_off: int = 0
    deepest: int = 0


def begin(sequence: Sequence, watched: str | None = None) -> State:
    """A unit that has just arrived."""
    story, monitor = Story(sequence), Monitor(facts_of(sequence), watched=watched)
    first = story.history[0]
    monitor.see(first.event, first.by, when(first.moment))
    return State(story, monitor)


def when(moment: Moment) -> When:
    """The moment as the watcher takes it."""
    return When(moment.boottime_ms, moment.boot_id, moment.utc)


def told_by(make: Callable[[Job], Command]) -> Act:
    """A command made from the job; refused commands lead nowhere."""

    def act(state: State) -> State | None:
        command = make(state.story.job)
        answer = state.story.ask(command)
        return None if isinstance(answer, Refusal) else happened(state, answer, command.by)

    return act


def story_act(tell: Callable[[Story], object]) -> Act:
    """Several commands as one act; where one of them is refused, none of them happened."""

    def act(state: State) -> State | None:
        story, monitor = state.story.twin(), state.monitor.copy()
        try:
            tell(story)
        except AssertionError:
            return None
        for one in story.history[len(state.story.history) :]:
            monitor.see(one.event, one.by, when(one.moment))
        return State(story, monitor, state.path)

    return act


def happened(state: State, events: tuple[Event, ...], by: str = "t1") -> State:
    """The state after these events, watched."""
    story, monitor = state.story.twin(), state.monitor.copy()
    for event in events:
        monitor.see(event, by, when(story.now))
        story.happen(event, by=by)
    return State(story, monitor, state.path)


def crash(state: State) -> State | None:
    """The program is killed and opens the job again."""
    if state.story.job.ended:
        return None
    now = state.story.now
    return happened(state, (Resumed(now.boot_id, now.offset_min, "passcheck test", 0),))


def away(state: State) -> bool:
    """Has nothing happened for a long time, by the watcher's reckoning?"""
    return long_away(when(state.story.job.last), when(state.story.now))


def long_wait(state: State) -> State | None:
    """Sixteen minutes in which nothing happens."""
    if state.story.job.ended or away(state):
        return None
    story = state.story.twin()
    story.clock.pass_time(minutes=16)
    return State(story, state.monitor, state.path)


def walk(sequence: Sequence, acts: Mapping[str, Act], *, watched: str | None = None, at_most: int = 50_000) -> Walked:
    """Do everything everywhere, shortest ways first.

    Args:
        sequence: the small board.
        acts: what may be done, by name.
        watched: the step that may fail; its tries are kept apart more finely.
        at_most: more states than this mean that the model has no end.

    Raises:
        BrokenRule: the watcher saw a rule broken; the shortest way there is in the message.
        AssertionError: there are more states than `at_most`: the model isn't closed.
    """
    gc.freeze()  # what was there before the walk is no garbage; looking through it again and again only costs time
    first = begin(sequence, watched)
    known, waiting, found = {key(first)}, deque([first]), Walked(states=1)
    while waiting:
        state = waiting.popleft()
        for name, act in acts.items():
            try:
                after = act(state)
            except AssertionError as broken:
                way = " > ".join((*state.path, name))
                raise type(broken)(f"{broken}; the way there: {way}") from broken
            if after is None:
                continue
            found.transitions += 1
            if (mark := key(after)) not in known:
                known.add(mark)
                found.states += 1
                found.signed_off += after.story.job.ended == "signed off"
                found.deepest = len(state.path) + 1
                assert found.states <= at_most, f"no end after {at_most} states"
                waiting.append(State(after.story, after.monitor, (*state.path, name)))
    return found


def key(state: State) -> tuple[object, ...]:
    """What the future of a state depends on, in the core's eyes and in the watcher's."""
    job, now = state.story.job, state.story.now
    run = job.open_run
    steps = tuple(_step_key(job, step.id) for step in job.sequence.steps)
    asked = tuple(
        (one.name, one.confirm is not None) for one in cautions.asked(job, tuple(job.sequence.cautions), "t1", now)
    )
    return (
        job.ended,
        run.purpose if run else None,
        any(one.purpose == "as-found" for one in job.runs),
        tuple(sorted(told(job, now).items())),
        proved_dead(job),
        asked,
        steps,
        len(job.open_incidents),
        len(job.fitted),
        away(state),
        job.symptoms,
        tuple(_soak_key(job, soak) for soak in soak_steps(job)),
        tuple((one.step, one.walk) for one in symptoms(job, None, now)),
        any(one.judgement.verdict == "not measured" for one in job.attempts),
        state.monitor.key(),
    )


def _step_key(job: Job, step_id: str) -> tuple[object, ...]:
    step = job.sequence.step(step_id)
    latest, counts, question = standing.latest(job, step), standing.counting(job, step), standing.unexplained(job, step)
    open_question = None
    if question is not None:
        done = min(question.repeats_done, question.repeats_needed)
        open_question = (question.fails, question.tries, done, question.noted, question.intermittent)
    return (
        latest.judgement.verdict if latest else None,
        counts.judgement.verdict if counts else None,
        open_question,
    )


def _soak_key(job: Job, step: SoakStep) -> tuple[object, ...]:
    found = soak_now(job, step)
    shown = min(found.credit.counted_s, float(step.hours.value))
    return found.leg is not None, found.still_to_pass, found.complete, shown, min(found.credit.cycles, step.cycles)

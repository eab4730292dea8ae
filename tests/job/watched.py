"""What has to hold after everything that happens to a unit? The ground of the random walks, with the watcher beside."""

import json

import hand
from hypothesis.stateful import RuleBasedStateMachine, invariant
from monitor import Monitor
from monitor_facts import When, facts_of
from story import Story

from passcheck.job import commands
from passcheck.job.commands import Command, Refusal
from passcheck.job.fold import fold
from passcheck.job.gate import blockers
from passcheck.job.journal_line import Line
from passcheck.job.replay import recorded, stamp
from passcheck.job.soak import soak_now, soak_steps
from passcheck.job.standing import counting, passes_standing
from passcheck.job.summary import summarise
from passcheck.job.tags import encode
from passcheck.job.traveller import card
from passcheck.sequence.model import Sequence


class Watched(RuleBasedStateMachine):
    """One unit and its watcher; what is asked of it and what has to hold after everything."""

    story: Story
    monitor: Monitor

    def begin(self, board: Sequence) -> None:
        """A unit of this board arrives."""
        self.story = Story(board)
        self.monitor = Monitor(facts_of(self.story.job.sequence))
        self.watch(0)

    def watch(self, seen: int) -> None:
        """Show the watcher what happened from this line on."""
        for one in self.story.history[seen:]:
            now = one.moment
            self.monitor.see(one.event, one.by, When(now.boottime_ms, now.boot_id, now.utc))

    def ask(self, command: Command) -> None:
        """Ask for it; a refusal gives its reason and what lifts it."""
        seen = len(self.story.history)
        answer = self.story.ask(command)
        if not isinstance(answer, Refusal):
            self.story.happen(*answer, by=command.by)
            self.watch(seen)
        else:
            assert answer.sentence
            assert answer.lift

    def attempt(self, step_id: str, by: str, *, good: bool, under: tuple[str, ...] = ()) -> None:
        """Try a step with the power and the answers it needs, as far as they are granted."""
        step = self.story.step(step_id)
        for command in hand.answers_to_cautions(self.story.job, step.id, by, self.story.now):
            self.ask(command)
        if step.power != "none" and self.story.told(step.power) not in ("on", "soaking"):
            self.ask(hand.energise(self.story.job, step.id, by))
        second = "k9" if by != "k9" and step.witness else None
        answer = hand.good(step) if good else hand.bad(step)
        self.ask(commands.Attempt(by, step.id, answer, again=answer, second=second, conditions=under))

    @invariant()
    def the_journal_alone_gives_the_same_job(self) -> None:
        lines = []
        for one in self.story.history:
            tag, data = encode(one.event)
            kept = json.loads(json.dumps(data))
            lines.append(Line(one.number, stamp(one.moment), one.by, one.moment.boottime_ms, tag, kept))
        assert fold(recorded(lines), self.story.boards.read) == self.story.job

    @invariant()
    def power_is_never_believed_longer_than_it_was_told(self) -> None:
        for name in self.story.job.sequence.supplies:
            if self.story.told(name) != "unknown":
                assert self.monitor.told[name] == self.story.told(name)

    @invariant()
    def a_step_passes_only_where_the_watcher_agrees(self) -> None:
        for step in self.story.job.sequence.steps:
            if passes_standing(self.story.job, step):
                assert self.monitor.worth(step.id) == "passes"

    @invariant()
    def no_attempt_was_ever_lost_or_touched(self) -> None:
        kept = {one.number: one.judgement.verdict for one in self.story.job.attempts}
        assert {one.number: one.verdict for one in self.monitor.tries.made} == kept

    @invariant()
    def everything_that_is_shown_can_be_shown(self) -> None:
        job, outside, now = self.story.job, self.story.outside, self.story.now
        assert card(job, outside, now).blockers == blockers(job, outside, now)
        summarise(job, outside, now)

    @invariant()
    def nothing_older_than_work_that_reaches_it_counts(self) -> None:
        job = self.story.job
        for step in job.sequence.steps:
            counts = counting(job, step)
            if counts is None or step.role == "arrival":
                continue
            for change in job.changes:
                if change.kind in ("rework", "incident") and _fed(job.sequence, change.blocks) & _proved_by(
                    job.sequence, step.id
                ):
                    assert counts.line > change.line, f"{step.id} counts although {change.kind} {change.number}"
                if change.kind == "failed soak check":
                    assert counts.line >= change.line, f"{step.id} counts although a look at the soak failed"

    @invariant()
    def no_hour_is_given_that_the_watcher_did_not_see(self) -> None:
        for step in soak_steps(self.story.job):
            soak = self.monitor.facts.steps[step.id].soak
            assert soak is not None
            given = soak_now(self.story.job, step).credit
            assert given.counted_s <= self.monitor.soak.at_most_s(step.id, soak) + 0.01
            assert given.cycles <= self.monitor.soak.cycles(step.id)

    @invariant()
    def a_soak_goes_on_as_long_as_its_supply_is_told_so_and_never_past_a_look_that_failed(self) -> None:
        leg, watched = self.story.job.open_soak, self.monitor.soak
        assert not watched.must_end
        assert (leg is None) == (watched.going_on is None)
        soaking_now = [name for name in self.story.job.sequence.supplies if self.story.told(name) == "soaking"]
        assert soaking_now == ([] if leg is None else [leg.supply])


def _fed(sequence: Sequence, blocks: tuple[str, ...]) -> set[str]:
    """These blocks and whatever they feed, by going through all of them until nothing is added."""
    found = set(blocks)
    for _ in sequence.blocks:
        found |= {fed for name in found & set(sequence.blocks) for fed in sequence.blocks[name].feeds}
    return found


def _proved_by(sequence: Sequence, step_id: str) -> set[str]:
    named = set(sequence.step(step_id).proves)
    return set(sequence.blocks) if "all" in named else named

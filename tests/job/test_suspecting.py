"""Are blocks ranked by what a run showed, with every assumption said, and is the step named that would tell more?"""

from collections.abc import Mapping
from itertools import permutations
from typing import Any

import hand
import pytest
from hypothesis import given
from hypothesis import strategies as st
from story import Story

import sequences
from passcheck.job.commands import CloseRun, ReturnUnrepaired, VoidAttempt
from passcheck.job.confirmed import Confirmed, Repair
from passcheck.job.suspecting import Suspicion, declared_matrix, suspicion
from passcheck.judge.fault_matrix import NEVER, WORDS
from passcheck.judge.suspect_words import BENCH, NOT_LISTED, RELATIVE
from passcheck.sequence.model import Sequence
from sequences import GUARD, LAMPS, RAIL


def node(step: str, *blocks: str, **members: Any) -> Mapping[str, Any]:
    """An unpowered reading that proves these blocks: nothing has to be told of power before it."""
    return {
        "id": step,
        "kind": "reading",
        "title": f"Node {step}",
        "proves": list(blocks),
        "at": f"{step} to TP0",
        "limits": "at least 150 Ω",
        "seen": "1 Ω .. 100 kΩ",
        "instrument": "ohmmeter",
        **members,
    }


def board(blocks: Mapping[str, tuple[str, ...]], *steps: Mapping[str, Any]) -> Sequence:
    """A board of blocks, each with what it feeds, and steps."""
    named = {name: {"title": f"Area {name}", "feeds": list(feeds)} for name, feeds in blocks.items()}
    return sequences.sequence(blocks=named, steps=list(steps), symptoms={})


FOUR = board(
    {"SUP": ("LOG",), "LOG": (), "OUT": (), "KEY": ()},
    node("sup-1", "SUP"),
    node("sup-2", "SUP"),
    node("log-1", "LOG", minutes=4),
    node("out-1", "OUT"),
    node("key-1", "KEY", "LOG"),
)


def found(sequence: Sequence, fails: tuple[str, ...], passes: tuple[str, ...] = ()) -> Story:
    """An as-found run in which these steps failed and passed."""
    story = Story(sequence).start("as-found")
    for step in passes:
        story.passes(step)
    for step in fails:
        story.fails(step)
    return story


def order(answer: Suspicion) -> list[str]:
    return [one.name for one in answer.told]


class TestSilence:
    def test_without_a_run_there_is_nothing_to_rank_by(self) -> None:
        answer = suspicion(Story().job)
        assert answer == Suspicion(silence=answer.silence)
        assert "No as-found or retest run was begun" in answer.silence

    def test_without_a_fail_nobody_is_suspected(self) -> None:
        answer = suspicion(found(FOUR, (), ("sup-1",)).job)
        assert answer == Suspicion(silence="No fail stands in run 1 (as-found), so no block is suspected.")

    def test_a_doubt_and_a_loose_probe_are_no_fail(self) -> None:
        story = Story().start("as-found").reads(GUARD, "OL")
        assert suspicion(story.job).silence
        story.passes(GUARD).reads(RAIL, "5.14 V")
        assert story.last_attempt().judgement.verdict == "in doubt"
        assert suspicion(story.job).silence

    @pytest.mark.parametrize("purpose", ["acceptance", "good-unit"])
    def test_other_runs_don_t_look_for_a_fault(self, purpose: Any) -> None:
        story = found(FOUR, ("sup-1",)).start(purpose)
        assert suspicion(story.job).silence == (
            f"Run 2 is {purpose}. Suspects are ranked in an as-found or retest run."
        )

    def test_what_speaks_of_all_blocks_alike_suspects_none(self) -> None:
        story = Story(sequences.with_arrival_and_final()).start("as-found").fails("arrival")
        assert suspicion(story.job).silence == "What failed speaks of every block alike, so none of them is suspected."

    def test_more_blocks_than_can_be_weighed_are_a_sentence(self) -> None:
        names = [f"B{number}" for number in range(250)]
        steps = [node("every", *names), node("first", "B0")]
        answer = suspicion(found(board(dict.fromkeys(names, ()), *steps), ("every",)).job)
        assert answer.silence == "Nobody is suspected: 252 blocks are too many to weigh in sets of three."


class TestRanking:
    def test_the_block_that_explains_the_fail_comes_first_with_its_bits(self) -> None:
        answer = suspicion(found(FOUR, ("out-1",), ("sup-1", "log-1")).job)
        assert order(answer) == ["OUT", BENCH, NOT_LISTED]
        assert answer.told[0].sentence.startswith("Suspect 1: OUT (Area OUT), ")
        assert "bit ahead of the next: Node out-1 failed (+5.0 bit)." in answer.told[0].sentence
        assert any(said.startswith("Not ranked") and "SUP (Area SUP), LOG" in said for said in answer.assumptions)

    def test_a_block_that_feeds_the_failed_one_is_a_lesser_suspect_and_the_others_are_none(self) -> None:
        assert order(suspicion(found(FOUR, ("log-1",)).job)) == ["LOG", "SUP", NOT_LISTED, BENCH]

    def test_passes_clear_the_block_that_they_prove(self) -> None:
        both = suspicion(found(FOUR, ("key-1",)).job)
        assert order(both)[0] == "KEY"
        assert order(suspicion(found(FOUR, ("key-1",), ("log-1",)).job)).index("LOG") > order(both).index("LOG")

    def test_the_open_run_alone_is_weighed_and_else_the_last_that_looked_for_a_fault(self) -> None:
        story = found(FOUR, ("out-1",))
        story.do(CloseRun("t1"))
        assert order(suspicion(story.job))[0] == "OUT"
        assert "run 1 (as-found)" in suspicion(story.job).assumptions[1]
        story.start("retest")
        assert suspicion(story.job).silence == "No fail stands in run 2 (retest), so no block is suspected."
        story.fails("sup-1")
        assert order(suspicion(story.job))[0] == "SUP"
        story.start("acceptance").do(CloseRun("t1"))
        assert order(suspicion(story.job))[0] == "SUP"

    def test_what_a_rework_made_stale_and_what_was_withdrawn_has_no_weight(self) -> None:
        story = found(FOUR, ("out-1", "sup-1"))
        story.do(VoidAttempt("t1", 1, "lead", "open lead", "0.2 Ω now"))
        assert order(suspicion(story.job))[0] == "SUP"
        story.make_safe().do(hand.rework("SUP"))
        assert suspicion(story.job).silence

    def test_what_comes_and_goes_counts_as_failed_and_is_named(self) -> None:
        story = found(FOUR, ("out-1",)).passes("out-1").passes("out-1")
        answer = suspicion(story.job)
        assert order(answer)[0] == "OUT"
        assert "Node out-1 failed 1 of 3 times: what comes and goes is a fault, so it counts as failed." in (
            answer.assumptions
        )

    def test_a_fail_behind_a_failed_step_is_counted_once(self) -> None:
        steps = (node("rail", "SUP"), node("lamp", "OUT", depends_on=["rail"]), node("beep", "OUT"))
        answer = suspicion(found(board({"SUP": ("OUT",), "OUT": ()}, *steps), ("rail", "lamp")).job)
        assert order(answer)[0] == "SUP"
        assert not any("Node lamp" in one.sentence for one in answer.told)
        assert "Node lamp may have failed because a step that it depends on failed: it has no weight." in (
            answer.assumptions
        )

    def test_a_step_absent_by_variant_is_neither_weighed_nor_depended_on(self) -> None:
        steps = (
            node("beep", "OUT", variant="beeper"),
            node("lamp", "OUT", depends_on=["beep"]),
            node("rail", "SUP"),
        )
        plain = board({"SUP": (), "OUT": ()}, *steps).model_copy(update={"variants": {"beeper": "with a beeper"}})
        assert order(suspicion(found(plain, ("lamp",)).job))[0] == "OUT"

    @pytest.mark.parametrize("walked", list(permutations(("out-1", "key-1", "log-1", "sup-1"))))
    def test_the_order_of_the_attempts_is_no_evidence(self, walked: tuple[str, ...]) -> None:
        story = Story(FOUR).start("as-found")
        for step in walked:
            story = story.fails(step) if step in ("key-1", "log-1") else story.passes(step)
        assert suspicion(story.job) == suspicion(found(FOUR, ("key-1", "log-1"), ("out-1", "sup-1")).job)

    @given(st.lists(st.sampled_from(["out-1 fail", "out-1 pass", "log-1 fail", "sup-1 pass"]), min_size=1, max_size=6))
    def test_neither_is_that_of_repeats(self, walked: list[str]) -> None:
        answers = []
        for row in (walked, walked[::-1], sorted(walked)):
            story = Story(FOUR).start("as-found")
            for one in row:
                step, verdict = one.split()
                story = story.fails(step) if verdict == "fail" else story.passes(step)
            answers.append(suspicion(story.job))
        assert answers[0] == answers[1] == answers[2]

    @given(st.data())
    def test_a_fail_that_only_one_block_explains_puts_it_first(self, data: st.DataObject) -> None:
        names = [f"B{number}" for number in range(data.draw(st.integers(2, 6)))]
        steps = [node(f"{name.lower()}-{n}", name) for name in names for n in range(data.draw(st.integers(1, 4)))]
        failed = data.draw(st.sampled_from([step["id"] for step in steps]))
        others = tuple(step["id"] for step in steps if not step["id"].startswith(failed.split("-")[0]))
        answer = suspicion(found(board(dict.fromkeys(names, ()), *steps), (failed,), others).job)
        assert answer.told[0].name == failed.split("-")[0].upper()


class TestWhatTheSequenceDeclares:
    def q(self, sequence: Sequence, block: str, step: str, history: Confirmed | None = None) -> float:
        job = Story(sequence).start("as-found").job
        assert job.open_run is not None
        matrix = declared_matrix(job, job.open_run, history)
        return matrix.q[matrix.blocks.index(block)][matrix.steps.index(step)]

    def test_its_words_go_before_everything(self) -> None:
        words = {"SUP": "sometimes", "all": "rarely"}
        one = board({"SUP": (), "OUT": (), "KEY": ()}, node("x", "OUT", "KEY", fails_when={**words, "KEY": "always"}))
        assert self.q(one, "SUP", "x") == WORDS["sometimes"]
        assert self.q(one, "OUT", "x") == WORDS["rarely"]
        assert self.q(one, "KEY", "x") == WORDS["always"]

    def test_a_block_that_they_don_t_name_follows_what_the_step_proves(self) -> None:
        one = board({"SUP": (), "OUT": (), "KEY": ()}, node("x", "OUT", fails_when={"SUP": "sometimes"}))
        assert self.q(one, "OUT", "x") == pytest.approx(WORDS["always"])
        assert self.q(one, "KEY", "x") == NEVER

    @pytest.mark.parametrize("steps", [1, 2, 7])
    def test_the_steps_that_prove_a_block_show_its_fault_between_them(self, steps: int) -> None:
        one = board({"KEY": (), "OUT": ()}, *(node(f"key-{n}", "KEY") for n in range(steps)), node("out", "OUT"))
        assert (1 - self.q(one, "KEY", "key-0")) ** steps == pytest.approx(1 - WORDS["always"])

    def test_what_feeds_the_proved_block_shows_rarely_and_what_it_feeds_never(self) -> None:
        chain = board({"SUP": ("LOG",), "LOG": ("OUT",), "OUT": ()}, node("log", "LOG"), node("out", "OUT"))
        assert self.q(chain, "SUP", "out") == WORDS["rarely"]
        assert self.q(chain, "OUT", "log") == NEVER

    def test_one_bad_key_of_seven_doesn_t_clear_the_keys(self) -> None:
        keys = [node(f"key-{n}", "KEY") for n in range(7)]
        one = board({"KEY": (), "OUT": (), "LOG": ()}, *keys, node("out", "OUT"), node("log", "LOG"))
        passes = ("out", "log", *(f"key-{n}" for n in range(6)))
        assert order(suspicion(found(one, ("key-6",), passes).job))[0] == "KEY"

    def test_a_sequence_that_describes_its_bench_keeps_its_own_row(self) -> None:
        one = board({"BENCH": (), "OUT": ()}, node("out", "OUT", fails_when={"BENCH": "always"}))
        assert order(suspicion(found(one, ("out",)).job)).count(BENCH) == 1

    def test_a_name_that_is_both_a_block_s_and_a_step_s_is_told_as_it_is(self) -> None:
        one = board({"out": (), "SUP": ()}, node("out", "out"), node("sup", "SUP"))
        assert "Suspect 1: out, " in suspicion(found(one, ("out",), ("sup",)).job).told[0].sentence

    def test_what_it_leaves_open_is_said(self) -> None:
        said = " ".join(suspicion(found(FOUR, ("out-1",)).job).assumptions)
        assert "5 step(s) don't say how often a fault in each block shows in them" in said
        whole = board({"SUP": (), "OUT": ()}, node("x", "OUT", fails_when={"OUT": "usually", "all": "never"}))
        assert "don't say" not in " ".join(suspicion(found(whole, ("x",)).job).assumptions)


class TestHistory:
    def repairs(self, block: str, step: str, count: int) -> Confirmed:
        one = Repair(block, 1, frozenset({step}), frozenset({step, "out-1"}))
        return Confirmed("LB-3", count, (one,) * count)

    def test_a_block_that_was_often_the_fault_moves_up(self) -> None:
        job = found(FOUR, ("key-1",)).job
        assert order(suspicion(job))[0] == "KEY"
        assert order(suspicion(job, self.repairs("LOG", "key-1", 12)))[0] == "LOG"

    def test_its_number_is_said_and_so_is_its_absence(self) -> None:
        job = found(FOUR, ("key-1",)).job
        with_past = suspicion(job, self.repairs("KEY", "key-1", 3)).assumptions
        assert any("3 confirmed repair(s) in 3 signed-off job(s)" in said for said in with_past)
        assert any("No confirmed repair of LB-3 is known" in said for said in suspicion(job).assumptions)

    def test_a_step_that_never_showed_the_fault_counts_less(self) -> None:
        ranks = TestWhatTheSequenceDeclares()
        before, after = (ranks.q(FOUR, "OUT", "out-1", past) for past in (None, self.repairs("OUT", "sup-1", 6)))
        assert after == pytest.approx((0 + 4 * before) / (6 + 4))

    def test_what_a_step_showed_before_it_was_changed_is_not_held_against_it(self) -> None:
        ranks = TestWhatTheSequenceDeclares()
        steps = (node("sup-1", "SUP"), node("out-1", "OUT", changed_in=2))
        changed = board({"SUP": (), "OUT": ()}, *steps).model_copy(update={"revision": 2})
        assert ranks.q(changed, "OUT", "out-1", self.repairs("OUT", "sup-1", 6)) == ranks.q(changed, "OUT", "out-1")


class TestNextStep:
    def test_the_step_that_tells_most_a_minute_is_named_with_its_words(self) -> None:
        answer = suspicion(found(FOUR, ("key-1",)).job)
        assert answer.next_step is not None
        assert answer.next_words.startswith(f"Node {answer.next_step}: ")
        assert "bit a minute of what still keeps the suspects apart, 1 min." in answer.next_words

    def test_what_was_tried_is_not_offered_again_but_a_loose_probe_is(self) -> None:
        steps = (node("key-1", "KEY", "LOG"), node("log-1", "LOG"), node("out-1", "OUT"))
        small = board({"LOG": (), "OUT": (), "KEY": ()}, *steps)
        story = found(small, ("key-1",))
        assert suspicion(story.job).next_step == "log-1"
        story.reads("log-1", "OL")
        assert suspicion(story.job).next_step == "log-1"
        story.passes("log-1")
        assert suspicion(story.job).next_step != "log-1"

    def test_minutes_of_the_guards_that_are_still_open_are_counted(self) -> None:
        guard, wanted = node("out-0", "all", minutes=30), node("log-1", "LOG", needs=["out-0"])
        free = node("log-2", "LOG", minutes=2)
        one = board({"LOG": (), "KEY": ()}, guard, node("key-1", "KEY", "LOG"), wanted, free)
        story = found(one, ("key-1",))
        assert suspicion(story.job).next_step == "log-2"
        assert suspicion(story.passes("out-0").job).next_step == "log-1"

    def test_what_a_failed_guard_forbids_is_not_offered(self) -> None:
        story = Story(sequences.sequence()).start("as-found").fails(GUARD)
        answer = suspicion(story.job)
        assert order(answer)[0] == "PWR"
        assert answer.next_step is None
        assert answer.next_words

    def test_once_a_block_stands_far_ahead_it_is_time_to_look(self) -> None:
        story = Story(sequences.sequence()).start("as-found").passes(GUARD).fails(LAMPS)
        many = Confirmed("LB-3", 40, (Repair("LAMP", 1, frozenset({LAMPS}), frozenset({LAMPS, RAIL})),) * 40)
        answer = suspicion(story.passes(RAIL).job, many)
        assert answer.next_step is None
        assert "look there before testing on" in answer.next_words

    def test_a_unit_that_has_left_is_walked_no_further(self) -> None:
        story = found(FOUR, ("key-1",))
        story.do(CloseRun("t1"), ReturnUnrepaired("t1", "no parts"))
        assert order(suspicion(story.job))[0] == "KEY"
        assert suspicion(story.job).next_step is None


@given(
    st.lists(st.tuples(st.sampled_from(["sup-1", "sup-2", "log-1", "out-1", "key-1"]), st.booleans()), max_size=7),
    st.integers(0, 5),
)
def test_no_sentence_holds_a_percentage_and_bench_and_the_unlisted_are_always_among_them(
    walked: list[tuple[str, bool]], repairs: int
) -> None:
    story = Story(FOUR).start("as-found")
    for step, fails in walked:
        story = story.fails(step) if fails else story.passes(step)
    past = Confirmed("LB-3", repairs, (Repair("LOG", 1, frozenset({"log-1"}), frozenset({"log-1"})),) * repairs)
    answer = suspicion(story.job, past)
    sentences = (*(one.sentence for one in answer.told), *answer.assumptions, answer.next_words, answer.silence)
    assert not any("%" in sentence for sentence in sentences)
    assert bool(answer.silence) == (not any(fails for _step, fails in walked))
    if answer.told:
        assert {BENCH, NOT_LISTED} <= set(order(answer))
        assert answer.assumptions[0] == RELATIVE

"""How does this hand react today, on our own screen, to delays around the unit's limit?

A quick warm-up before the unit's trials. A block of earlier today is checked by five trials and used again; otherwise,
or where it no longer holds, a whole block is tapped.
"""

from textual.app import ComposeResult

from passcheck.app.screens.timing import TimingScreen
from passcheck.app.widgets.lamp import Lamp, colour_in
from passcheck.bench.bench import Bench, Done
from passcheck.bench.reference_block import BlockNeed, programmed_delays
from passcheck.bench.tapped_answers import reference_pairs
from passcheck.bench.timing import ReferenceCourse
from passcheck.errors import BenchFailed, FileFault
from passcheck.job.commands import Refusal, TapReference
from passcheck.job.events import ReferenceTapped
from passcheck.job.kept_block import KeptBlock
from passcheck.job.replay import stamp
from passcheck.judge.reference import CHECK_TRIALS, TRIALS


class ReferenceScreen(TimingScreen):
    """Twenty trials, or five; dismissed once a block was kept, or when left."""

    def __init__(self, bench: Bench, tap_key: str, need: BlockNeed, watch: str, earlier: KeptBlock | None) -> None:
        """Args:
        bench: the unit in hand.
        tap_key: the key that taps.
        need: the block, and the steps it serves.
        watch: what is watched on the unit, for the colour of our light.
        earlier: a block of today that serves all of the need, to be checked and used again.
        """
        super().__init__(bench, tap_key)
        self._need = need
        self._watch = watch
        self._earlier = earlier

    def face(self) -> ComposeResult:
        """The light."""
        yield Lamp(colour_in(self._watch), id="lamp")

    def light(self, *, lit: bool) -> None:
        """Draw the light."""
        self.query_one(Lamp).lit = lit

    async def begin(self) -> None:
        """The day's block with five trials, else twenty."""
        trials = TRIALS if self._earlier is None else CHECK_TRIALS
        middle_s = self._middle_s
        delays = programmed_delays(middle_s, self.desk.shop.uniforms(2 * trials), trials)
        self.course = ReferenceCourse(tuple(round(each, 6) for each in delays), middle_s)
        self._explain()
        self.arm()

    async def end(self) -> None:
        """Have the block kept; one that no longer holds is tapped anew."""
        course = self.course
        if not isinstance(course, ReferenceCourse):
            return
        answered = await self.ask(self._command(course))
        if isinstance(answered, Done):
            await self._keep(answered)
            self.dismiss(None)
        elif isinstance(answered, Refusal):
            self._earlier = None
            await self.begin()
            self.say(answered.sentence)

    async def break_off(self, why: str) -> None:
        """A block that isn't whole is nothing; it begins anew."""

    @property
    def _middle_s(self) -> float:
        return self._need.middle_s if self._earlier is None else float(self._earlier.middle_s)

    def _explain(self) -> None:
        what = f"{TRIALS} REFERENCE TRIALS: how this hand reacts to a light of ours"
        if self._earlier is not None:
            what = f"{CHECK_TRIALS} TRIALS: does today's block still hold for this hand?"
        self.explain(
            what,
            f"One hand presses any letter key, as it will press the unit's button. The other hand or foot taps "
            f"{self.key_name} at the same moment. Tap {self.key_name} again when the light comes on.\n"
            f"For: {', '.join(self._need.steps)}. No times are shown: a hand that knows them bends the next one.",
        )

    def _command(self, course: ReferenceCourse) -> TapReference:
        trials = reference_pairs(course)
        earlier = self._earlier
        if earlier is None:
            return TapReference(self.person, f"{self._middle_s:.6f}", trials, self.how)
        return TapReference(self.person, earlier.middle_s, earlier.trials, self.how, earlier.at, trials)

    async def _keep(self, done: Done) -> None:
        """For the rest of the day; where that fails, this run has its block all the same."""
        block = done.events[-1]
        if self._earlier is not None or not isinstance(block, ReferenceTapped):
            return
        now = self.bench.moment()
        day = now.local().date().isoformat()
        kept = KeptBlock(self.person, day, stamp(now), block.terminal, block.middle_s, block.trials, block.how)
        try:
            self.desk.shop.keep_block(kept)
        except (BenchFailed, FileFault) as fault:
            self.failed(fault)

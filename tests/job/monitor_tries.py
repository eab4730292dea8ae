"""What are the tries at a step worth, by a reckoning that shares no code with the core?

A try is stale by causes: each thing done to the unit is one, and a look at a soak that failed is one that can be taken
back. What shows under a condition is answered only by tries under that condition.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

LONGEST_EXPLANATION = 9
"""Passes after a fail that can make a difference in the small models: 1 fail of 3 asks 8 after the first."""
COUNTS = ("acceptance", "retest")


@dataclass(frozen=True)
class Try:
    """One attempt as the watcher remembers it."""

    number: int
    step: str
    purpose: str
    verdict: str
    noted: bool
    under: frozenset[str] = frozenset()
    stale: frozenset[str] = frozenset()
    withdrawn: bool = False
    run: int = 0

    def tells_of(self, fails: Iterable["Try"]) -> bool:
        """Was this tried as one of these fails was, so that it says something of the fault?"""
        return any(fail.under <= self.under for fail in fails)


@dataclass(frozen=True)
class Tries:
    """Every try in order, and the notes: the step, and how many tries there were when it was written."""

    made: tuple[Try, ...] = ()
    notes: tuple[tuple[str, int], ...] = ()

    def also(self, one: Try) -> "Tries":
        """One more try."""
        return replace(self, made=(*self.made, one))

    def noted(self, step: str) -> "Tries":
        """A note was written on the step."""
        return replace(self, notes=(*self.notes, (step, len(self.made))))

    def spoiled(self, steps: Iterable[str], cause: str) -> "Tries":
        """What was tried at these steps so far is worthless."""
        hit = set(steps)
        return self._each(lambda one: replace(one, stale=one.stale | {cause}) if one.step in hit else one)

    def restored(self, cause: str) -> "Tries":
        """This cause turned out to be none."""
        return self._each(lambda one: replace(one, stale=one.stale - {cause}))

    def voided(self, number: int, *, shown_gone: bool) -> "Tries":
        """A try was withdrawn; what spoke against the unit stays unless the bench's own fault was shown gone."""

        def after(one: Try) -> Try:
            goes = one.number == number and (shown_gone or one.verdict in ("pass", "not measured"))
            return replace(one, withdrawn=True) if goes else one

        return self._each(after)

    def standing(self, step: str) -> list[Try]:
        """The tries of a step that are neither withdrawn nor stale, on this unit."""
        mine = (one for one in self.made if one.step == step and one.purpose != "good-unit")
        return [one for one in mine if not one.stale and not one.withdrawn]

    def in_hand(self, step: str, run: tuple[int, str] | None) -> list[Try]:
        """What speaks of the unit on the bench: in a good-unit run only what that run showed."""
        if run is None or run[1] != "good-unit":
            return self.standing(step)
        mine = (one for one in self.made if one.step == step and one.run == run[0])
        return [one for one in mine if not one.stale and not one.withdrawn]

    def as_found(self, step: str) -> list[Try]:
        """What the step showed as found, stale or not."""
        return [one for one in self.made if one.step == step and one.purpose == "as-found" and not one.withdrawn]

    def counting(self, step: str, *, any_run: bool) -> list[Try]:
        """The tries that may count as left."""
        return [one for one in self.standing(step) if any_run or one.purpose in COUNTS]

    def worth(self, step: str, *, any_run: bool) -> str:
        """What a step's tries amount to for a release: "passes", or why they don't."""
        counting = self.counting(step, any_run=any_run)
        if not counting:
            return "nothing that counts"
        if counting[-1].verdict != "pass":
            return counting[-1].verdict
        tried = [one for one in self.standing(step) if one.verdict in ("pass", "fail")]
        fails = [one for one in tried if one.verdict == "fail"]
        if any(fail.number > counting[-1].number for fail in fails):
            return "fails"
        return self._explained(step, tried, fails) if fails else self._after_coming_and_going(step, tried)

    def symptom_open(self, step: str) -> str:
        """What a step that showed the complaint as found still lacks, or ""."""
        if not self.counting(step, any_run=False):
            return "not tried again"
        passed = [one for one in self.counting(step, any_run=False) if one.verdict == "pass"]
        shown = [one for one in self.as_found(step) if one.verdict == "fail"]
        untried = [fail for fail in shown if not any(fail.under <= one.under for one in passed)]
        return f"no pass under {sorted(untried[0].under)}" if untried else ""

    def shape(self, step: str, *, watched: bool) -> tuple[object, ...]:
        """The standing tries of a step, runs of passes at the end cut to what can still make a difference.

        Once it failed only what tells of that fail is kept: no model lets a step fail under two conditions.
        """
        standing = self.standing(step)
        counting = [one.verdict for one in standing if one.purpose in COUNTS]
        fails = [one for one in (*standing, *self.as_found(step)) if one.verdict == "fail"]
        answers = [one for one in standing if one.verdict in ("pass", "fail")]
        tried = [(one.verdict[0], one.under) for one in answers if not fails or one.tells_of(fails)]
        verdicts = "".join(verdict for verdict, _under in tried)
        trailing = len(verdicts) - len(verdicts.rstrip("p"))
        kept = LONGEST_EXPLANATION if "f" in verdicts else 2 if watched else 1
        found = [(one.verdict[0], one.under) for one in self.made if one.step == step and one.purpose == "as-found"]
        return (
            standing[-1].verdict if standing else None,
            counting[-1] if counting else None,
            tuple(tried[: len(tried) - max(0, trailing - kept)]),
            tuple(found) if watched else (),
        )

    def _explained(self, step: str, tried: list[Try], fails: list[Try]) -> str:
        """A fail stands: it takes a pass as it was tried, clean repeats of that, and a note."""
        telling = [one for one in tried if one.tells_of(fails)]
        first_pass = telling.index(fails[-1]) + 1
        if first_pass == len(telling):
            return "unexplained: never tried since as it failed"
        clean = len(telling) - first_pass - 1
        if clean < clean_repeats(len(fails), first_pass + 1):
            return f"unexplained after {clean} clean repeats"
        since = telling[first_pass].number
        noted = any(name == step and place >= since for name, place in self.notes)
        noted = noted or any(one.step == step and one.noted and one.number >= since for one in self.made)
        return "passes" if noted else "unexplained without a note"

    def _after_coming_and_going(self, step: str, passes: list[Try]) -> str:
        seen = [one for one in self.as_found(step) if one.verdict in ("pass", "fail")]
        fails = [one for one in seen if one.verdict == "fail"]
        telling = sum(one.tells_of(fails) for one in seen)
        clean = sum(one.tells_of(fails) for one in passes)
        if fails and len(fails) < telling and clean < clean_repeats(len(fails), telling):
            return f"intermittent as found, {clean} clean repeats since"
        return "passes"

    def _each(self, after: Callable[[Try], Try]) -> "Tries":
        return replace(self, made=tuple(after(one) for one in self.made))


def clean_repeats(fails: int, tries: int) -> int:
    """Smallest N with (1 - fails/tries)^N at most one in twenty, in whole numbers."""
    needed = 0
    while 20 * (tries - fails) ** needed > tries**needed:
        needed += 1
    return needed

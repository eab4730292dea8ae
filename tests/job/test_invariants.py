"""Can anything at all break a rule of the bench? Every way through small models, and random ways through wide ones.

The watcher of `monitor.py` shares no code with the core. The models close: their states are finite and all are visited,
so for them this is a proof and not a sample. The mutants show that the watcher sees something.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import models
import models_soak
import pytest
import walk
from monitor_facts import BrokenRule
from taken_out import Patch, lay
from walk import Act, Walked

from passcheck.job import standing
from passcheck.job.moment import Moment
from passcheck.job.state import Attempt, Job
from passcheck.job.symptoms import failed_as_found
from passcheck.sequence.model import Sequence, Step
from sequences import RAIL


@dataclass(frozen=True)
class Model:
    """A model and what walking it to the end has to give."""

    board: Sequence
    acts: Mapping[str, Act]
    watched: str | None
    states: int


MODELS = {
    "power": Model(models.BOARD, models.POWER, None, 1340),
    "power and charge": Model(models.CHARGED_BOARD, models.POWER, None, 1300),
    "verdicts": Model(models.BOARD, models.VERDICTS, RAIL, 270),
    "as found": Model(models.BOARD, models.AS_FOUND, RAIL, 1580),
    "under conditions": Model(models.BOARD, models.UNDER_CONDITIONS, RAIL, 1017),
    "on soak": Model(models_soak.BOARD, models_soak.ON_SOAK, None, 1385),
}


def _walk(name: str) -> Walked:
    model = MODELS[name]
    return walk.walk(model.board, model.acts, watched=model.watched)


@pytest.mark.parametrize("name", MODELS)
def test_the_states_of_a_small_model_come_to_an_end_and_none_breaks_a_rule(name: str) -> None:
    found = _walk(name)
    print(f"\n{name}: {found.states} states, {found.transitions} transitions, longest way {found.deepest}")
    assert found.states == MODELS[name].states
    assert found.signed_off > 0, "a model in which nothing is ever released proves nothing about releases"


def _ended_forgotten(job: Job, *rest: Any) -> Any:
    from passcheck.job.decide import decide

    return decide(replace(job, ended=None), *rest)


def _void_takes_away(attempt: Attempt) -> bool:
    return attempt.void is not None


def _same_person_once(job: Job, name: str, _caution: object, person: str, _alerts: object) -> bool:
    return any(it.facts.caution == name and it.by == person for it in job.acknowledged)


def _never_away(_self: Moment, _earlier: Moment) -> bool:
    return False


def _tried_at_all(job: Job, step: Step) -> tuple[str, ...] | None:
    made = [set(a.conditions) for a in standing.standing_attempts(job, step) if a.purpose in standing.COUNTING]
    under = (fail.conditions for fail in failed_as_found(job, step.id) if fail.conditions)
    return next((words for words in under if not any(set(words) <= tried for tried in made)), None)


def _always_shown(*_: object) -> tuple[bool, str]:
    return True, ""


MUTANTS: Mapping[str, tuple[str, tuple[Patch, ...]]] = {
    "cautions are never asked": ("power", (("passcheck.job.cautions.outstanding", lambda *_: ()),)),
    "a caution once answered is answered for ever": (
        "power",
        (("passcheck.job.cautions._answered", _same_person_once),),
    ),
    "a restart leaves power as it was told": ("power", (("passcheck.job.fold._lost", lambda job, _one: job),)),
    "a long absence is not noticed": ("power", (("passcheck.job.moment.Moment.absent_since", _never_away),)),
    "told off is as good as proved dead": (
        "power",
        (("passcheck.job.power.proved_dead", lambda _job: True),),
    ),
    "hands go in whatever the supplies are": (
        "power",
        (("passcheck.job.decide_attempt.touch_refusal", lambda *_: None),),
    ),
    "power needs no unpowered guard": (
        "power",
        (("passcheck.job.standing.unmet_needs", lambda *_: ()),),
    ),
    "the gate doesn't ask about power": ("power", (("passcheck.job.gate.QUESTIONS", "_power"),)),
    "a journal goes on after its end": ("power", (("story.decide", _ended_forgotten),)),
    "an as-found pass counts as left": (
        "power",
        (("passcheck.job.standing.COUNTING", ("acceptance", "retest", "as-found")),),
    ),
    "every unit holds little energy": ("power and charge", (("passcheck.job.power.little_energy", lambda _seq: True),)),
    "a rework spoils nothing": (
        "verdicts",
        (("passcheck.job.staleness.Spoilers.of", lambda *_: None),),
    ),
    "any pass explains itself": (
        "verdicts",
        (("passcheck.job.standing.unexplained", lambda *_: None),),
    ),
    "one clean repeat explains everything": (
        "verdicts",
        (("passcheck.job.standing.clean_repeats_needed", lambda *_: 1),),
    ),
    "no note is needed": ("verdicts", (("passcheck.job.standing._noted_since", lambda *_: True),)),
    "a void takes a fail away": (
        "verdicts",
        (("passcheck.job.standing.withdrawn", _void_takes_away),),
    ),
    "a fail is kept at the first typing": (
        "verdicts",
        (("passcheck.job.decide_attempt._typed_twice", lambda *_: False),),
    ),
    "a fail after the pass is not seen": (
        "as found",
        (("passcheck.job.standing.failed_since", lambda *_: None),),
    ),
    "what came and went is forgotten with the rework": (
        "as found",
        (("passcheck.job.standing._intermittent", lambda *_: None),),
    ),
    "a symptom is not tried again": ("under conditions", (("passcheck.job.gate.QUESTIONS", "symptoms"),)),
    "any try answers a symptom, whatever came of it": (
        "under conditions",
        (("passcheck.job.gate_step._untried", _tried_at_all),),
    ),
    "a cold pass explains what failed warm": (
        "under conditions",
        (("passcheck.job.standing.tried_as", lambda *_: True),),
    ),
    "a soak is done when somebody says so": ("on soak", (("passcheck.job.soak.SoakNow.complete", True),)),
    "a look is walked to its end before it begins": ("on soak", (("passcheck.job.soak._missing", lambda *_: ()),)),
    "a look that came late counts in full": ("on soak", (("passcheck.judge.soak_credit.GRACE_SHARE", 1.5),)),
    "a missed look is a late one": ("on soak", (("passcheck.judge.soak_credit.MISSED_AFTER", 9.0),)),
    "nothing has to show that power stayed on": ("on soak", (("passcheck.job.soak._continuity", _always_shown),)),
    "hours before a rework count": (
        "on soak",
        (("passcheck.job.soak.standing_legs", lambda job, _step: job.soaks),),
    ),
    "a look that fails changes nothing": (
        "on soak",
        (("passcheck.job.decide_attempt._with_its_end", lambda _job, _step, _run, event: (event,)),),
    ),
    "a look that fails revokes nothing": ("on soak", (("passcheck.job.staleness._everything", lambda *_: False),)),
    "a unit that fails is put on soak": ("on soak", (("passcheck.job.decide_soak._fails", lambda _job: None),)),
    "a soak outlives the looks that it stands on": (
        "on soak",
        (("passcheck.job.decide_soak.undone_with", lambda *_: ()),),
    ),
    "a run ends over its soak": ("on soak", (("passcheck.job.state.Job.open_soak", property(lambda _job: None)),)),
}


@pytest.mark.parametrize("mutant", MUTANTS)
def test_the_watcher_sees_it_when_a_rule_is_taken_out(mutant: str, monkeypatch: pytest.MonkeyPatch) -> None:
    model, patches = MUTANTS[mutant]
    lay(monkeypatch, patches)
    with pytest.raises(BrokenRule) as caught:
        _walk(model)
    print(f"\n{mutant}: {caught.value}")

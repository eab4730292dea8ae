"""Whatever could be asked of a job, sense and nonsense alike, as commands for hypothesis to choose from."""

from typing import Literal

from hypothesis import strategies as st

import sequences
from passcheck.job import commands
from passcheck.job.answers import Answer, CountAnswer, Departure, ListAnswer, ReadingAnswer
from passcheck.job.commands import Command
from passcheck.job.events import Action, PointProof, Purpose


def some(*values: str) -> st.SearchStrategy[str]:
    """One of these."""
    return st.sampled_from(values)


def few(*values: str) -> st.SearchStrategy[tuple[str, ...]]:
    """None, one or two of these."""
    return st.lists(st.sampled_from(values), max_size=2).map(tuple)


PEOPLE = some("t1", "t1", "t1", "t2", "k9")
ANYBODY = some("t1", "t2", "k9", "nobody", "")
STEPS = some(sequences.GUARD, sequences.RAIL, sequences.LAMPS, "arrival", "final", "inlet", "soak", "none such")
WORDS = st.text(max_size=12)
VOLTS = ("5.00 V", "5.14 V", "5.16 V", "3.9 V", "-5.00 V", "24.0 V", "1e99 V")
SHOWN = some(*VOLTS, "0", "OL", "0.30 A", "0.3 A", "200 Ω", "20 Ω", "x", "")
PLACES = some("TP9 to TP0", "TP1")
BLOCKS = few("PWR", "LAMP", "GHOST")
PARTS = few("C1", "DS1", "X9")
POINT = st.builds(PointProof, PLACES, SHOWN, SHOWN, SHOWN, st.integers(-1, 30), SHOWN, SHOWN)
DEPARTURE = st.builds(Departure, st.integers(-1, 3), some("", "dark"))
ANSWERS: st.SearchStrategy[Answer] = st.one_of(
    st.builds(ReadingAnswer, st.lists(SHOWN, max_size=2).map(tuple)),
    st.builds(ListAnswer, st.lists(DEPARTURE, max_size=2).map(tuple)),
    st.builds(CountAnswer, st.integers(-1, 3)),
)
TIMES = st.none() | some("", "2031-04-02T08:00:00+00:00", "2031-04-02T08:10:00")
ACTIONS: st.SearchStrategy[Action] = st.sampled_from(
    ("replaced", "firmware", "inspected", "leg lifted", "swapped in", "put back")
)
WORKED: st.SearchStrategy[Action] = st.sampled_from(("leg lifted", "swapped in", "put back", "reflowed"))
DONORS = some("", "7Q22099")
CONDITIONS = few("warm", "cold", "")
PURPOSES: st.SearchStrategy[Purpose] = st.sampled_from(("as-found", "burn-in", "good-unit", "retest"))
SWITCHED: st.SearchStrategy[Literal["off", "cycled", "on"]] = st.sampled_from(("off", "cycled", "on"))
NUMBERS = st.integers(0, 5)
SIGNS = some("held", "1204.60 h", "1205.60 h", "1204.6", "")
FACTS = st.lists(WORDS, max_size=5).map(tuple)
SEEN = st.builds(commands.Seen, some("7Q22051", "x"), SHOWN, SHOWN, st.booleans(), st.none() | SIGNS)
NONSENSE: st.SearchStrategy[Command] = st.one_of(
    st.builds(commands.MapComplaint, ANYBODY, few("rail-low", "ghost")),
    st.builds(commands.StartRun, ANYBODY, PURPOSES, some("7Q22051", "7Q22052", "x"), again=st.booleans()),
    st.builds(commands.CloseRun, ANYBODY),
    st.builds(commands.Acknowledge, ANYBODY, some("fault-current", "mains", "ghost"), st.none() | SHOWN),
    st.builds(commands.Energise, ANYBODY, STEPS, SHOWN, SHOWN),
    st.builds(commands.ReadSupply, ANYBODY, some("battery", "mains", "ghost"), SHOWN, SHOWN, st.booleans()),
    st.builds(commands.TellPower, ANYBODY, SWITCHED),
    st.builds(commands.CallMakeSafe, ANYBODY),
    st.builds(commands.ProveDead, ANYBODY, WORDS, st.lists(POINT, max_size=2).map(tuple), st.none() | SHOWN),
    st.builds(commands.Attempt, ANYBODY, STEPS, ANSWERS, st.none() | ANSWERS, measured_at=TIMES, conditions=CONDITIONS),
    st.builds(commands.VoidAttempt, ANYBODY, NUMBERS, WORDS, st.none() | WORDS, st.none() | WORDS),
    st.builds(commands.AddNote, ANYBODY, WORDS, st.none() | STEPS),
    st.builds(commands.ReportIncident, ANYBODY, BLOCKS, WORDS),
    st.builds(
        commands.LogRework,
        ANYBODY,
        BLOCKS,
        few("C1", "DS1", "X9"),
        ACTIONS,
        WORDS,
        incident=st.none() | NUMBERS,
        donor=some("", "7Q22099", "7Q22051", "[b]"),
    ),
    st.builds(commands.LogRework, PEOPLE, st.just(("PWR",)), st.just(("C1",)), WORKED, st.just("why"), donor=DONORS),
    st.builds(commands.OpenCase, ANYBODY, WORDS),
    st.builds(commands.UndoChange, ANYBODY, some("shorting lead", sequences.RAIL, "rework 1", "ghost"), WORDS),
    st.builds(commands.StartSoak, ANYBODY, STEPS, SHOWN, SHOWN, st.booleans(), st.none() | SIGNS, unattended=FACTS),
    st.builds(commands.CheckSoak, ANYBODY, STEPS, SEEN, st.none() | SEEN, cycles=st.integers(-1, 2)),
    st.builds(commands.BreakSoak, ANYBODY, STEPS, WORDS),
    st.builds(commands.FinishSoak, ANYBODY, STEPS),
    st.builds(commands.HandOver, ANYBODY, ANYBODY),
    st.builds(commands.Propose, ANYBODY, st.lists(WORDS, max_size=2).map(tuple)),
    st.builds(commands.AgreeOwner, ANYBODY, WORDS, WORDS),
    st.builds(commands.Jot, ANYBODY, WORDS, WORDS),
    st.builds(commands.SignOff, ANYBODY, some("7Q22051", "x"), second=st.none() | ANYBODY),
    st.builds(commands.ReturnInPart, ANYBODY, WORDS),
)

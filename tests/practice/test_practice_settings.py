"""Is the robot's bench a first bench.yaml with nothing but what the robot can't do without?"""

from datetime import date

from passcheck.job.kept_latency import latency_now
from passcheck.practice.settings import filmed, robots_bench
from passcheck.records.bench_starter import starter_text
from passcheck.records.bench_text import settings_of

TODAY = date(2031, 1, 1)
FIRST = settings_of(starter_text(TODAY), "a first bench.yaml")


def test_who_works_may_do_everything_and_the_others_what_they_may() -> None:
    bench = robots_bench(FIRST, "l1", "simulated", TODAY)
    assert bench.people["l1"].hazardous_live
    for name, person in FIRST.people.items():
        allowed = person.hazardous_live or name == "l1"
        assert bench.people[name] == person.model_copy(update={"hazardous_live": allowed})


def test_no_calibration_falls_due_and_no_instrument_is_better_for_it() -> None:
    bench = robots_bench(FIRST, "l1", "simulated", TODAY)
    assert bench.instruments.keys() == FIRST.instruments.keys()
    for name, instrument in bench.instruments.items():
        assert instrument.fills == FIRST.instruments[name].fills
        assert instrument.due > date(2900, 1, 1)


def test_the_latency_was_filmed_on_this_terminal_today() -> None:
    latency = robots_bench(FIRST, "l1", "simulated", TODAY).latency
    assert latency is not None
    assert (latency.day, latency.terminal) == ("2031-01-01", "simulated")


def test_a_bench_that_goes_on_for_months_films_anew() -> None:
    bench = robots_bench(FIRST, "l1", "simulated", TODAY)
    later = filmed(bench, "simulated", date(2031, 6, 1))
    assert latency_now(bench.latency, date(2031, 6, 1), "simulated").said
    assert not latency_now(later.latency, date(2031, 6, 1), "simulated").said
    assert later.model_copy(update={"latency": bench.latency}) == bench

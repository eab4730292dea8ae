"""Do the plots of timed steps and of the burn-in show what was tapped and read, beside the limit?"""

import asyncio
from pathlib import Path

import pytest
from paper_parts import facts, plots, row, rows, said, section, text
from recorded_jobs import record_of, recorded, sample
from rig import Rig
from soaking import start
from telling import Telling
from told_stories import story_of

from passcheck.report.document import Cell, Paper, Plot

SAMPLES = Path(__file__).parents[1] / "samples"
TIMED, SOAKED = "Timed by taps", "Burn-in"


def _plot(title: str) -> Plot:
    return next(it for it in plots(recorded(*sample("A31-0015")), TIMED) if it.title.startswith(title))


def test_a_response_is_drawn_trial_by_trial_beside_its_limit_and_the_reference_trials() -> None:
    plot = _plot("SW1 response")
    unit, reference = plot.series
    assert (len(unit.points), len(reference.points)) == (3, 20)
    assert (plot.low, plot.high, plot.y) == (None, 0.5, "delay, s")
    assert not unit.joined


def test_the_middle_of_the_unit_s_trials_is_what_was_judged() -> None:
    job, _source = sample("A31-0015")
    judged = float(job.attempts[0].judgement.value or "0")
    unit, reference = _plot("SW1 response").series
    assert sorted(y for _x, y in unit.points)[1] == pytest.approx(judged, abs=0.03)
    middle = sorted(y for _x, y in reference.points)[9:11]
    assert sum(middle) / 2 == pytest.approx(0.5, abs=0.001), "reference trials lie about the limit"


def test_a_step_of_a_second_and_more_is_drawn_without_reference_trials() -> None:
    plot = _plot("Homing time")
    assert [one.name for one in plot.series] == ["this unit"]
    assert plot.high == 4.0
    assert "less 0.3 s" in plot.words


def test_the_words_of_a_plot_are_the_judgement_s_own() -> None:
    job, _source = sample("A31-0015")
    assert _plot("SW1 response").words == f"3 trials that count. {job.attempts[0].judgement.sentence}"


def test_a_job_without_taps_has_no_such_section() -> None:
    assert TIMED not in said(record_of(story_of("OV-24P")))


def test_a_burn_in_says_how_many_hours_count_of_how_many_and_how_many_cycles() -> None:
    found = facts(record_of(story_of("OV-24P")), SOAKED)
    assert found["Shown"] == "4 h 01 min of 4 h at power count"
    assert found["Planned times off and on"] == "12 of 12"


def test_a_stretch_that_did_not_count_says_why() -> None:
    told = facts(record_of(story_of("OV-24P")), SOAKED)["Didn't count in full"]
    assert "continuity not shown: the mains dipped: the wall clock blinks" in told
    assert "0 h 00 min of 1 h 00 min counts" in told
    assert "the look came late" in facts(record_of(story_of("PM-7")), SOAKED)["Didn't count in full"]


def test_every_look_has_time_supply_sign_of_power_ambient_and_cycles() -> None:
    paper = record_of(story_of("OV-24P"))
    looks = rows(section(paper, SOAKED))
    assert [text(it[0]) for it in looks] == ["start", "1", "2", "3", "4", "5", "6"]
    assert [text(it) for it in row(paper, SOAKED, "2")[1:]] == [
        *("2031-04-03 02:01", "24.0 V, 0.15 A", "1206.61 h", "22 °C", "3", "as it should be"),
    ]
    assert text(row(paper, SOAKED, "3")[3]).startswith("not shown: the mains dipped")


def test_a_unit_left_alone_says_what_was_said_before() -> None:
    told = said(record_of(story_of("TH-12")), SOAKED)
    assert "Left alone, after these were said: F1, the polyfuse of 500 mA" in told
    assert "Left alone" not in said(record_of(story_of("QM-48")), SOAKED)


def test_each_watched_value_is_drawn_over_the_hours_with_its_limits() -> None:
    (rail,) = plots(record_of(story_of("OV-24P")), SOAKED)
    assert (rail.x, rail.y, rail.low, rail.high) == ("hours at power", "V", 4.85, 5.15)
    assert len(rail.series[0].points) == 6
    assert "Too few readings to say whether it drifts." in rail.words


def test_a_soak_that_was_broken_off_says_how_it_ended() -> None:
    told = said(recorded(*sample("A31-0012")), SOAKED)
    assert "ended: the bench is needed" in told
    assert "0 h 00 min of 2 h at power count" in told


async def _on_soak() -> Paper:
    """A lamp box that passed acceptance and was left at power half an hour ago."""
    rig = Rig((SAMPLES / "journals" / "lamp-box-3.yaml").read_text(encoding="utf-8"))
    told = Telling(rig, await rig.job())
    await told.begin("acceptance")
    await told.walk()
    await told.end()
    await told.begin("burn-in")
    await rig.power(told.bench, "soak")
    await told.do(start(told.job))
    rig.clock.pass_time(minutes=30)
    return record_of(told)


def test_a_soak_that_goes_on_says_so_in_its_section_and_in_its_box() -> None:
    paper = asyncio.run(_on_soak())
    assert facts(paper, SOAKED)["Stands"] == "at power when this record was made"
    assert "under way" in said(paper, SOAKED)
    box = row(paper, "Results", "Two hours at power")[2]
    assert isinstance(box, Cell)
    assert box.text.startswith("ON SOAK 0 h 00 min of 2 h")

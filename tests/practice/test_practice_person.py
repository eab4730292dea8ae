"""Is the simulated population the one that the rule for tapped times was weighed with?"""

import random  # noqa: TID251 - a simulated person from a seed
from collections import Counter
from statistics import fmean, stdev

import pytest

from passcheck.practice.person import Person, draw_person

PEOPLE = 4000


def drawn(seed: int = 1) -> random.Random:
    return random.Random(seed)  # noqa: S311 - a simulation


def people() -> list[Person]:
    draw = drawn()
    return [draw_person(draw) for _ in range(PEOPLE)]


@pytest.mark.parametrize(
    ("name", "mean_s", "sd_s"), [("mu_s", 0.18, 0.015), ("beside_s", 0, 0.01), ("mismatch_s", 0, 0.012)]
)
def test_what_is_normal_among_people_has_its_mean_and_spread(name: str, mean_s: float, sd_s: float) -> None:
    values = [getattr(one, name) for one in people()]
    assert fmean(values) == pytest.approx(mean_s, abs=4 * sd_s / PEOPLE**0.5)
    assert stdev(values) == pytest.approx(sd_s, rel=0.05)


@pytest.mark.parametrize(
    ("name", "low_s", "high_s"),
    [
        ("sigma_s", 0.015, 0.030),
        ("tau_s", 0.025, 0.060),
        ("beside_scatter_s", 0.008, 0.020),
        ("latency_s", 0.030, 0.100),
        ("learned_s", 0.0, 0.040),
        ("along_s", 0.025, 0.030),
    ],
)
def test_what_is_even_among_people_fills_its_span(name: str, low_s: float, high_s: float) -> None:
    values = [getattr(one, name) for one in people()]
    span_s = high_s - low_s
    assert low_s <= min(values) < low_s + 0.01 * span_s
    assert high_s - 0.01 * span_s < max(values) <= high_s
    assert fmean(values) == pytest.approx((low_s + high_s) / 2, abs=0.02 * span_s)


def test_a_reaction_is_ex_gaussian_and_slower_after_a_short_delay() -> None:
    person, draw = Person(sigma_s=0.020, tau_s=0.045), drawn(2)
    reactions_s = [person.reaction_s(draw) for _ in range(20_000)]
    assert fmean(reactions_s) == pytest.approx(0.225, abs=0.0015)  # mu + tau
    assert stdev(reactions_s) == pytest.approx(0.04924, rel=0.03)  # root of sigma² + tau²
    early_s = [person.reaction_s(draw, 0.0) for _ in range(20_000)]
    assert fmean(early_s) - fmean(reactions_s) == pytest.approx(0.060, abs=0.002)


def test_of_a_hundred_trials_three_lapse_two_are_foreseen_and_one_comes_double() -> None:
    draw, person = drawn(3), Person()
    deeds = Counter(person.deed(draw) for _ in range(100_000))
    shares = {deed: count / 100_000 for deed, count in deeds.items()}
    assert shares["lapses"] == pytest.approx(0.03, abs=0.002)
    for deed in ("foresees", "owns up", "doubles"):
        assert shares[deed] == pytest.approx(0.01, abs=0.0013)
    assert shares["sees"] == pytest.approx(0.94, abs=0.003)


def test_the_same_seed_gives_the_same_person_and_another_seed_another() -> None:
    assert draw_person(drawn(7)) == draw_person(drawn(7))
    assert draw_person(drawn(7)) != draw_person(drawn(8))

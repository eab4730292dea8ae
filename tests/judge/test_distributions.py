"""Are the normal and Student's distribution within their stated error of scipy's values?"""

import json
from pathlib import Path

import pytest

from passcheck.judge.normal import normal_cdf, normal_quantile
from passcheck.judge.student import student_cdf, student_quantile

TABLES = json.loads((Path(__file__).parents[1] / "samples" / "distributions.json").read_text("utf-8"))
CDF_ERROR = 2e-10
QUANTILE_ERROR = 3e-9


def test_the_normal_distribution_keeps_its_digits_into_the_tails() -> None:
    for z, p in TABLES["normal_cdf"]:
        assert normal_cdf(z) == pytest.approx(p, rel=1e-13, abs=0)
    for p, z in TABLES["normal_quantile"]:
        assert normal_quantile(p) == pytest.approx(z, abs=1e-14, rel=1e-14)


def test_students_distribution_has_its_stated_error() -> None:
    assert len(TABLES["student_cdf"]) == 210
    for t, nu, p in TABLES["student_cdf"]:
        assert student_cdf(t, nu) == pytest.approx(p, abs=CDF_ERROR, rel=0)


def test_students_quantile_has_its_stated_error() -> None:
    assert len(TABLES["student_quantile"]) == 180
    for p, nu, t in TABLES["student_quantile"]:
        assert student_quantile(p, nu) == pytest.approx(t, rel=QUANTILE_ERROR, abs=0)

"""Figures about a class against published worked examples and against a statistics library.

The worked example of KR-20: five items, ten students, worked out by hand from the published formula in the comments
beside it; point-biserial and correlations against scipy; the interval of a share against scipy's Wilson interval.
"""

from __future__ import annotations

import random

import pytest
from scipy import stats

from boardproof.practice.statistics import (
    alpha,
    discrimination,
    facility,
    item_figures,
    option_table,
    point_biserial,
    wilson,
)

# A Guttman-like table; p = 1, .8, .6, .4, .2: sum of p q = 0 + .16 + .24 + .24 + .16 = .80. Totals 5 4 4 3 3 3 3 2 2 1:
# mean 3, variance 1.2. KR-20 = 5/4 (1 - .80/1.2) = 0.41667 (Kuder and Richardson 1937, formula 20, by hand).
TABLE = [
    [1, 1, 1, 1, 1],
    [1, 1, 1, 1, 0],
    [1, 1, 1, 1, 0],
    [1, 1, 1, 0, 0],
    [1, 1, 1, 0, 0],
    [1, 1, 0, 1, 0],
    [1, 1, 1, 0, 0],
    [1, 1, 0, 0, 0],
    [1, 0, 0, 0, 1],
    [1, 0, 0, 0, 0],
]


def test_kr20_as_worked_by_hand():
    assert alpha(TABLE).value == pytest.approx(5 / 4 * (1 - 0.80 / 1.2))


def test_facilities_are_shares():
    assert [each.facility for each in item_figures(TABLE, [1] * 5)] == pytest.approx([1, 0.8, 0.6, 0.4, 0.2])


def test_alpha_of_items_with_more_marks_against_covariances():
    luck = random.Random(1)
    skill = [luck.gauss(0, 1) for _ in range(60)]
    rows = [[round(max(0, min(4, 2 + each + luck.gauss(0, 1)))) for _ in range(8)] for each in skill]
    import numpy as np

    table = np.cov(np.array(rows, float).T)
    k = 8
    mean_covariance = (table.sum() - np.trace(table)) / (k * (k - 1))
    mean_variance = np.trace(table) / k
    # Cronbach 1951 in terms of covariances: k c / (v + (k - 1) c)
    assert alpha(rows).value == pytest.approx(
        k * mean_covariance / (mean_variance + (k - 1) * mean_covariance)
    )
    assert alpha(rows).least < alpha(rows).value < alpha(rows).most


@pytest.mark.parametrize("seed", range(5))
def test_point_biserial_agrees_with_scipy(seed):
    luck = random.Random(seed)
    item = [luck.randint(0, 1) for _ in range(30)]
    total = [3 * each + luck.randint(0, 10) for each in item]
    assert point_biserial(item, total) == pytest.approx(stats.pointbiserialr(item, total).statistic)


def test_point_biserial_by_the_means_of_those_right_and_wrong():
    # (M1 - M0)/s sqrt(p q) with s of divisor N: M1 = 8, M0 = 5, s = sqrt(3.25), p = q = 1/2
    assert point_biserial([1, 1, 0, 0], [9, 7, 6, 4]) == pytest.approx(3 / 3.25**0.5 * 0.5)


@pytest.mark.parametrize(("right", "count"), [(0, 12), (5, 12), (12, 12), (40, 90)])
def test_the_interval_of_a_share_agrees_with_scipy(right, count):
    known = stats.binomtest(right, count).proportion_ci(method="wilson")
    assert wilson(right / count, count) == pytest.approx((known.low, known.high), abs=1e-12)


def test_discrimination_takes_27_per_cent_of_a_large_class():
    totals = list(range(100))
    item = [int(each >= 80) for each in totals]
    assert discrimination(item, totals) == pytest.approx(20 / 27)


def test_the_order_of_the_class_list_does_not_matter():
    totals = [5, 5, 5, 5, 3, 3, 3, 1, 1, 1, 1, 1]
    item = [1, 0, 1, 1, 0, 1, 0, 0, 1, 0, 0, 0]
    pairs = list(zip(item, totals, strict=True))
    found = set()
    for seed in range(20):
        random.Random(seed).shuffle(pairs)
        found.add(round(discrimination([a for a, _ in pairs], [b for _, b in pairs]), 12))
    assert len(found) == 1


def test_a_question_that_goes_against_the_paper_is_suspect_only_in_a_large_class():
    rows = [[int(n >= 20), int(n >= 18), int(n >= 15), int(n < 20)] for n in range(40)]
    assert item_figures(rows, [1] * 4)[3].suspect
    assert not item_figures(rows[::4], [1] * 4)[3].suspect


def test_options_that_nobody_takes_do_no_work():
    chosen = ["A"] * 30 + ["B"] * 9 + ["C"]
    totals = [10.0] * 30 + [4.0] * 9 + [9.0]
    assert {letter: works for letter, (_, _, works) in option_table(chosen, "A", totals).items()} == {
        "A": True,
        "B": True,
        "C": False,
    }


def test_small_or_uniform_classes_give_no_false_precision():
    assert alpha([[1, 0], [1, 0], [1, 0]]) is None
    assert alpha([[1, 0]]) is None
    assert discrimination([1, 0, 1], [1, 0, 1]) is None
    assert point_biserial([1, 1], [1, 2]) is None
    assert facility([2, 1], 2) == 0.75

"""Points of the net against scipy's Sobol sequence, and the two promises of a scramble."""

from itertools import product

import numpy as np
import pytest
from scipy.stats import kstest, qmc

from hearthold.errors import InputError
from hearthold.study.nets import plain, scrambled


@pytest.mark.parametrize("count", [1, 2, 64, 1024])
def test_before_the_scramble_they_are_scipys_points(count):
    theirs = qmc.Sobol(3, scramble=False, bits=32).random(count)
    assert np.array_equal(plain(count), theirs)


@pytest.mark.parametrize("pair", [(0, 1), (0, 2), (1, 2)])
def test_one_point_in_each_box_of_every_shape(pair):
    """The first two coordinates are a (0, m, 2)-net; the third joins them with quality 1 at worst (Sobol)."""
    points = scrambled(64, np.random.default_rng(5))[:, pair]
    for a in range(7):
        boxes = np.floor(points * [2**a, 2 ** (6 - a)]).astype(int)
        held = np.unique(boxes, axis=0, return_counts=True)[1]
        assert held.max() <= (1 if pair == (0, 1) else 2)
    for column in points.T:
        assert sorted(np.floor(column * 64).astype(int)) == list(range(64))


def test_each_point_is_uniform_by_itself():
    """Kolmogorov-Smirnov on one point of many scrambles (scipy); eight tests at a thousandth."""
    many = np.array([scrambled(8, np.random.default_rng(n))[[0, 5]] for n in range(2000)])
    for point, axis in product(range(2), range(3)):
        assert kstest(many[:, point, axis], "uniform").pvalue > 1e-3


def test_the_mean_of_a_smooth_function_is_far_sharper_than_plain():
    """Integral of exp(x + y + z) over the cube: (e - 1)^3."""
    found = [np.exp(scrambled(256, np.random.default_rng(n)).sum(axis=1)).mean() for n in range(50)]
    true = (np.e - 1.0) ** 3
    plain_error = np.sqrt(((np.e**2 - 1.0) / 2.0) ** 3 - true**2) / 16.0
    assert np.mean(found) == pytest.approx(true, abs=4.0 * np.std(found) / 50**0.5)
    assert np.std(found) < plain_error / 10.0


@pytest.mark.parametrize("count", [0, 3, 100])
def test_other_numbers_are_refused(count):
    with pytest.raises(InputError, match="power of two"):
        scrambled(count, np.random.default_rng(1))

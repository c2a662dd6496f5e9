"""Points of the net against scipy's Sobol sequence, and the two promises of a scramble."""

from itertools import product

import numpy as np
import pytest
from scipy.stats import kstest, qmc

from hearthold.errors import InputError
from hearthold.study.nets import plain, scrambled, stretch


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


def test_stretches_of_one_sequence_are_nets_and_make_a_larger_one():
    """As consecutive points of Sobol's sequence do: one in each box, of each stretch and of all together."""
    parts = [stretch(n, 64, [7, 1]) for n in range(4)]
    for points in (*parts, np.concatenate(parts)):
        digits = len(points).bit_length() - 1
        for a in range(digits + 1):
            boxes = np.floor(points[:, :2] * [2**a, 2 ** (digits - a)]).astype(int)
            assert len(np.unique(boxes, axis=0)) == len(points)
    assert not np.any(np.isclose(parts[0], stretch(0, 64, [8, 1])))


def test_stretches_together_are_sharper_than_as_many_nets_apart():
    """Integral of exp(x + y + z) over the cube: (e - 1)^3."""
    true = (np.e - 1.0) ** 3

    def spread(makers):
        found = [np.exp(np.concatenate(parts).sum(axis=1)).mean() for parts in makers]
        assert np.mean(found) == pytest.approx(true, abs=4.0 * np.std(found) / len(found) ** 0.5)
        return np.std(found)

    together = spread([[stretch(n, 32, [key]) for n in range(8)] for key in range(60)])
    apart = spread([[stretch(0, 32, [n, key]) for n in range(8)] for key in range(60)])
    assert together < apart / 2.0


def test_points_beyond_the_last_that_belong_together_are_refused():
    with pytest.raises(InputError, match="at most 65536 belong together"):
        stretch(512, 128, [1])


def test_each_point_is_uniform_by_itself():
    """Kolmogorov-Smirnov on one point of many scrambles (scipy); twelve tests at a thousandth."""
    ways = (lambda n: scrambled(8, np.random.default_rng(n)), lambda n: stretch(3, 8, [n]))
    for way in ways:
        many = np.array([way(n)[[0, 5]] for n in range(2000)])
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

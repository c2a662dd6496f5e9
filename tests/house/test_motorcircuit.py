"""Breakers of motor circuits against the code's own arithmetic."""

import pytest

from hearthold.house.motorcircuit import motor_device


@pytest.mark.parametrize(
    ("full_load_a", "usual_a", "most_a"),
    [
        # NEC 430.52(C)(1) with Table 430.248 (230 V): 3/4 hp 6.9 A x 2.5 = 17.25, next size 20 A; x 4 = 27.6
        ([6.9], 20.0, 27.6),
        # 1-1/2 hp: 10 A x 2.5 = 25 A is a standard size and stays
        ([10.0], 25.0, 40.0),
        # two motors, 430.53(C) and 430.62(A): the largest by its ratio, plus the other
        ([10.0, 6.9], 35.0, 46.9),
        # a fan of 1 A: the smallest standard breaker, 15 A, is always allowed
        ([1.0], 15.0, 15.0),
    ],
)
def test_the_bounds_of_the_code(full_load_a, usual_a, most_a):
    found = motor_device(full_load_a)
    assert found.usual_a == usual_a
    assert found.most_a == pytest.approx(most_a)

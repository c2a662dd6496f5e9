"""Exponentials kept for lengths that come again: the same to the bit as computed anew."""

import numpy as np
import pytest
from scipy.integrate import quad

from hearthold.engine.kernels.decays import decay, first_crossing, stays, third
from hearthold.engine.kernels.layout import EXACT_S, FAR
from hearthold.physics.twonode import decay_integral_kernel, decay_mean_kernel, twoexp_crossing_kernel


@pytest.mark.parametrize("x", [0.0, 1e-12, 1e-6, 1e-3, 0.0199, 0.0201, 0.5, 3.0, 40.0])
def test_decay_integrals(x):
    dt = 1234.5
    once, twice = decay(x / dt, dt)
    assert once == pytest.approx(decay_integral_kernel(x / dt, dt), rel=1e-13)
    assert twice == pytest.approx(dt * decay_mean_kernel(x / dt, dt), rel=1e-12)


@pytest.mark.parametrize("x", [0.0, 1e-6, 1e-3, 0.0199, 0.0201, 0.5, 3.0])
def test_third_integral(x):
    dt = 1234.5
    wanted, _ = quad(lambda t: decay(x / dt, t)[1], 0.0, dt, epsabs=0.0, epsrel=1e-12)
    assert third(x / dt, dt, decay(x / dt, dt)[1]) == pytest.approx(wanted, rel=1e-9)


def test_crossings_agree_with_the_careful_ones():
    rng = np.random.default_rng(11)
    found = spared = 0
    for _ in range(3000):
        fast, slow = 10.0 ** rng.uniform(-5, -2), 10.0 ** rng.uniform(-8, -5)
        a_fast, a_slow = rng.normal(0.0, 1e-3), rng.normal(0.0, 1e-4)
        level, dt = rng.normal(0.0, 1.0), 10.0 ** rng.uniform(2, 4)
        wanted = twoexp_crossing_kernel(-level, a_fast, a_slow, fast, slow, dt)
        once, _ = decay(fast, dt)
        twice, _ = decay(slow, dt)
        end = a_fast * once + a_slow * twice
        below, above = (-FAR, level) if level > 0.0 else (level, FAR)
        if stays(0.0, a_fast, a_slow, below, above, dt):
            spared += 1
            assert wanted < 0.0
        got = first_crossing(0.0, a_fast, a_slow, fast, slow, below, above, dt, end, EXACT_S)
        if wanted < 0.0:
            assert got == FAR
        else:
            found += 1
            assert got == pytest.approx(wanted, abs=1e-6, rel=1e-9)
    assert found > 300
    assert spared > 300

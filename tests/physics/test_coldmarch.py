"""One exact step of a freezer: which segment, which event, and a heat balance that closes."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.physics.coldmarch import cold_step_kernel, segment_kernel
from hearthold.physics.food import enthalpy_segments

CURVE = enthalpy_segments(0.65, 0.12, -1.8, count=8)
FIXED = settings(derandomize=True, max_examples=80, deadline=None)


def held_j_per_kg(t):
    """Enthalpy on the segments, straight on above the last knot."""
    above = max(0.0, t - CURVE.knots_c[-1]) * CURVE.heat_j_per_kg_k[-1]
    return float(np.interp(t, CURVE.knots_c, CURVE.knots_j_per_kg)) + above


def march(shell_kg, core_kg, cabinet, ua, g, room, q, t1, t2, limit, dt):
    """All events up to dt or the limit: end time, end temperatures, shell temperature integral, events."""
    now, area, events = 0.0, 0.0, 0
    while now < dt:
        step, t1, t2, mean, reached = cold_step_kernel(
            CURVE.knots_c,
            CURVE.heat_j_per_kg_k,
            shell_kg,
            core_kg,
            cabinet,
            ua,
            g,
            room,
            q,
            t1,
            t2,
            limit,
            dt - now,
        )
        now, area, events = now + step, area + mean * step, events + 1
        assert events < 200
        if reached:
            break
    return now, t1, t2, area, events


@pytest.mark.parametrize("way", [-1.0, 0.0, 1.0])
def test_every_temperature_has_its_segment(way):
    for i in range(8):
        middle = (CURVE.knots_c[i] + CURVE.knots_c[i + 1]) / 2
        assert segment_kernel(CURVE.knots_c, middle, way) == i
    assert segment_kernel(CURVE.knots_c, -60.0, way) == 0
    assert segment_kernel(CURVE.knots_c, 80.0, way) == 7


def test_on_a_knot_the_way_decides():
    knot = CURVE.knots_c[3]
    assert segment_kernel(CURVE.knots_c, knot, 1.0) == 3
    assert segment_kernel(CURVE.knots_c, knot, -1.0) == 2


@FIXED
@given(
    st.floats(1.0, 80.0),
    st.floats(0.0, 150.0),
    st.floats(1e3, 5e4),
    st.floats(0.2, 4.0),
    st.floats(0.0, 20.0),
    st.floats(-20.0, 40.0),
    st.floats(-300.0, 50.0),
    st.floats(-35.0, 20.0),
    st.floats(-35.0, 20.0),
    st.floats(60.0, 1e6),
)
def test_heat_stored_is_heat_passed(shell, core, cabinet, ua, g, room, q, t1, t2, dt):
    g = g if core > 0.0 else 0.0
    now, e1, e2, area, _ = march(shell, core, cabinet, ua, g, room, q, t1, t2, 1e9, dt)
    assert now == pytest.approx(dt)
    # Below -40 degC the curve has no heights; the segment goes straight on there and so must the sum.
    if min(e1, e2) < -40.0:
        return
    stored = shell * (held_j_per_kg(e1) - held_j_per_kg(t1)) + core * (held_j_per_kg(e2) - held_j_per_kg(t2))
    stored += cabinet * (e1 - t1)
    passed = ua * (room * dt - area) + q * dt
    assert stored == pytest.approx(passed, abs=1e-6 * (abs(passed) + (shell + core) * 4e5))


@FIXED
@given(st.floats(30.0, 3e5), st.floats(0.05, 0.95))
def test_stopping_on_the_way_changes_nothing(dt, part):
    of = (20.0, 116.0, 25e3, 1.32, 0.27, 22.0, 0.0)
    once = march(*of, -17.8, -17.8, 1e9, dt)
    first = march(*of, -17.8, -17.8, 1e9, dt * part)
    then = march(*of, first[1], first[2], 1e9, dt * (1.0 - part))
    assert then[1:3] == pytest.approx(once[1:3], abs=1e-7)


@pytest.mark.parametrize(
    "limit", [CURVE.knots_c[7], CURVE.knots_c[7] + 5e-10, CURVE.knots_c[7] - 5e-10, 4.44]
)
def test_a_limit_on_a_knot_is_not_missed(limit):
    now, t1, _, _, _ = march(20.0, 116.0, 25e3, 1.32, 0.27, 22.0, 0.0, -17.8, -17.8, limit, 1e7)
    assert t1 == pytest.approx(limit, abs=2e-9)
    assert now < 60 * 3600


def test_running_compressor_and_thaw_take_the_same_road_back():
    thawed = march(20.0, 0.0, 25e3, 1.3, 0.0, 22.0, 0.0, -18.0, -18.0, 2.0, 1e7)
    frozen = march(20.0, 0.0, 25e3, 1e-9, 0.0, 22.0, -150.0, 2.0, 2.0, -18.0, 1e7)
    heat = 20.0 * (held_j_per_kg(2.0) - held_j_per_kg(-18.0)) + 25e3 * 20.0
    assert frozen[0] == pytest.approx(heat / 150.0, rel=1e-6)
    assert 1.3 * (22.0 * thawed[0] - thawed[3]) == pytest.approx(heat, rel=1e-9)

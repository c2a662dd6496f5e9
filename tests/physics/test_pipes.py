"""Pipes in a cooling house: where they stand, when the clock runs out, and when it starts again."""

from math import inf

import pytest
from scipy.integrate import solve_ivp

from hearthold.errors import InputError
from hearthold.physics import heat, pipes

H = 3600.0
HOUSE = heat.house_nodes(
    ua_w_per_k=290.0, heated_area_m2=167.0, heat_class_j_per_k_m2=110e3, air_share_frac=0.45
)
# Air and furniture apart from the linings.
BARE = heat.house_nodes(290.0, 167.0, 110e3, 0.45, fast_frac=10.0 / 110.0)
COPPER = {
    "pipe_inside_m": 0.0138,
    "pipe_outside_m": 0.0159,
    "insulation_w_per_m_k": 0.04,
    "film_w_per_m2_k": 9.0,
}


def test_pipe_lies_between_outdoors_and_indoors():
    assert pipes.pipe_c(-10.0, 20.0, 1.0) == 20.0
    assert pipes.pipe_c(-10.0, 20.0, 0.4) == pytest.approx(2.0)
    assert pipes.pipe_c(-10.0, 20.0, pipes.freezing_share_frac(-10.0, 20.0)) == pytest.approx(0.0, abs=1e-12)
    assert pipes.freezing_share_frac(2.0, 20.0) == 0.0  # no pipe freezes
    assert pipes.freezing_share_frac(-10.0, -1.0) == 1.0  # every pipe does
    level = pipes.freezing_indoor_c(-10.0, 0.4)
    assert pipes.pipe_c(-10.0, level, 0.4) == pytest.approx(0.0, abs=1e-12)


def test_risk_is_passage_plus_clock():
    level = pipes.freezing_indoor_c(-15.0, 0.7)
    passage = heat.house_hold_s(HOUSE, 20.0, 19.0, -15.0, 300.0, level)
    assert pipes.freeze_risk_s(HOUSE, 20.0, 19.0, -15.0, 300.0, 0.7) == pytest.approx(passage + 3 * H)


def test_time_already_below_counts():
    below = pipes.freezing_indoor_c(-15.0, 0.4) - 2.0
    assert pipes.freeze_risk_s(HOUSE, below, below, -15.0, 300.0, 0.4) == pytest.approx(3 * H)
    assert pipes.freeze_risk_s(HOUSE, below, below, -15.0, 300.0, 0.4, below_s=2 * H) == pytest.approx(1 * H)
    assert pipes.freeze_risk_s(HOUSE, below, below, -15.0, 300.0, 0.4, below_s=9 * H) == 0.0


def test_a_better_place_more_heat_and_milder_weather_give_time():
    def risk(outdoor=-15.0, gains=300.0, share=0.5):
        return pipes.freeze_risk_s(
            HOUSE, 20.0, heat.steady_mass_c(HOUSE, 20.0, outdoor), outdoor, gains, share
        )

    assert risk(share=0.4) <= risk(share=0.6) < risk(share=0.9)
    assert risk(gains=0.0) < risk(gains=2000.0)
    assert risk(outdoor=-25.0) < risk(outdoor=-8.0)
    assert risk(outdoor=2.0) == inf
    assert risk(gains=20000.0, share=0.9) == inf


def test_a_dip_that_recovers_restarts_the_clock():
    # Doors stood open: air at -5, walls at 18; the walls lift it within ten minutes, then all cools.
    cold_air = pipes.freeze_risk_s(BARE, -5.0, 18.0, -15.0, 300.0, 0.9, below_s=2.8 * H)
    level = pipes.freezing_indoor_c(-15.0, 0.9)
    up = heat.first_passage_s(BARE, -5.0, 18.0, -15.0, 300.0, level)
    assert 0.05 * H < up < 0.2 * H
    assert cold_air > up + 10 * H
    # With less than those minutes left on the clock it runs out first.
    soon = pipes.freeze_risk_s(BARE, -5.0, 18.0, -15.0, 300.0, 0.9, below_s=2.9 * H)
    assert soon == pytest.approx(0.1 * H)


def test_cooling_water_against_integration():
    of = dict(COPPER, insulation_m=0.013)
    found = pipes.pipe_cool_s(**of, start_c=8.0, ambient_c=-8.0)
    r = pipes._pipe_k_m_per_w(**of)
    c = 4.2e6 * 3.141592653589793 * 0.0138**2 / 4

    def reached(_, t):
        return t[0]

    reached.terminal = True
    run = solve_ivp(
        lambda _, t: (-8.0 - t) / (r * c), (0, 1e6), [8.0], events=reached, rtol=1e-10, atol=1e-12
    )
    assert found == pytest.approx(run.t_events[0][0], rel=1e-6)


def test_freezing_takes_hours_and_insulation_only_delays():
    bare, wrapped = (
        pipes.pipe_freeze_s(**COPPER, insulation_m=t, frozen_frac=0.2, ambient_c=-6.0) for t in (0.0, 0.02)
    )
    assert 0.5 * H < bare < wrapped < 3 * H
    assert pipes.pipe_freeze_s(**COPPER, insulation_m=0.0, frozen_frac=1.0, ambient_c=0.0) == inf
    assert pipes.pipe_cool_s(**COPPER, insulation_m=0.0, start_c=5.0, ambient_c=1.0) == inf
    assert pipes.pipe_cool_s(**COPPER, insulation_m=0.0, start_c=0.0, ambient_c=-1.0) == 0.0


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: pipes.pipe_c(-10.0, 20.0, 0.0), "indoor_share_frac is 0"),
        (lambda: pipes.freeze_risk_s(HOUSE, 20.0, 19.0, -15.0, 0.0, 0.5, below_s=-1.0), "below_s is -1"),
        (lambda: pipes.pipe_cool_s(0.02, 0.02, 0.0, 0.04, 9.0, 8.0, -8.0), "must be more than pipe_inside_m"),
    ],
)
def test_what_cannot_be_is_refused(call, message):
    with pytest.raises(InputError, match=message):
        call()

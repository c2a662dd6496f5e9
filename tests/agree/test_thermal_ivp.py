"""Two roads, one answer: event-exact thermal models against integration, properties against libraries."""

from math import log

import CoolProp.CoolProp
import numpy as np
import psychrolib
import pytest
from scipy.integrate import solve_ivp

from hearthold.physics import cold, food, heat, ice, tankheater, twonode

MIXED = (0.65, 0.12, -1.8)
H = 3600.0
TIGHT = {"rtol": 1e-9, "atol": 1e-7, "method": "LSODA"}


def chen_freezer_hold_h(ua, shell_kg, core_kg, cabinet, g, room, start, limit):
    """Time to the limit with the curved enthalpy itself, state = enthalpies, no segments."""
    h0 = food.food_enthalpy_j_per_kg(start, *MIXED)
    of = food.chen_constants_kernel(*MIXED)

    def temps(y):
        # Shell state: temperature (the cabinet moves with it); core state: enthalpy per kg.
        return y[0], food.chen_temp_kernel(y[1], MIXED[2], of)

    def rates(_, y):
        t1, t2 = temps(y)
        c1 = shell_kg * food.food_heat_j_per_kg_k(t1, *MIXED) + cabinet
        return [(ua * (room - t1) + g * (t2 - t1)) / c1, g * (t1 - t2) / core_kg if core_kg else 0.0]

    def limit_reached(_, y):
        return y[0] - limit

    limit_reached.terminal = True
    run = solve_ivp(rates, (0, 3e6), [start, h0], events=limit_reached, **TIGHT)
    return run.t_events[0][0] / H


@pytest.mark.parametrize("count", [8, 20])
@pytest.mark.parametrize(("food_kg", "room"), [(136.0, 22.0), (68.0, 22.0), (136.0, 10.0), (34.0, 32.0)])
def test_freezer_holds_against_the_curved_enthalpy(count, food_kg, room):
    curve = food.enthalpy_segments(*MIXED, count=count)
    box = cold.cold_box(1.32, food_kg, 25e3, curve, 0.15, 0.002)
    start, limit = cold.FREEZER_START_C, cold.DANGER_C
    # The segments read at most curve.error_k too cold, so heat comes in a little too fast: holds err short.
    share = curve.error_k / (room - limit)
    g = 0.002 * food_kg
    truth = chen_freezer_hold_h(1.32, 0.15 * food_kg, 0.85 * food_kg, 25e3, g, room, start, limit)
    found = cold.hold_planning_s(box, start, start, room, limit) / H
    assert found == pytest.approx(truth, rel=share + 1e-6)
    truth = chen_freezer_hold_h(1.32, food_kg, 0.0, 25e3, 0.0, room, start, limit)
    found = cold.hold_likely_s(box, start, room, limit) / H
    assert truth * (1.0 - share) < found < truth * (1.0 + 1e-6)


def test_freezer_steps_against_integration_of_the_same_segments():
    """Same straight segments on both roads: the event-exact march agrees to the integrator's digits."""
    curve = food.enthalpy_segments(*MIXED, count=8)
    shell, core, cabinet, ua, g, room, q = 20.4, 115.6, 25e3, 1.32, 0.272, 22.0, -150.0
    now, t1, t2, events = 0.0, -4.0, -9.0, 0
    while now < 4 * H:
        step, t1, t2, _, _ = cold.cold_step_kernel(
            curve.knots_c,
            curve.heat_j_per_kg_k,
            shell,
            core,
            cabinet,
            ua,
            g,
            room,
            q,
            t1,
            t2,
            1e9,
            4 * H - now,
        )
        now, events = now + step, events + 1

    def slope(t):
        i = min(max(int(np.searchsorted(curve.knots_c, t)) - 1, 0), 7)
        return curve.heat_j_per_kg_k[i]

    def rates(_, y):
        flow = g * (y[1] - y[0])
        return [
            (ua * (room - y[0]) + flow + q) / (shell * slope(y[0]) + cabinet),
            -flow / (core * slope(y[1])),
        ]

    run = solve_ivp(rates, (0, 4 * H), [-4.0, -9.0], rtol=1e-9, atol=1e-9, max_step=5.0)
    assert events > 2
    assert [t1, t2] == pytest.approx(run.y[:, -1].tolist(), abs=2e-4)


def test_two_nodes_against_integration():
    c1, c2, u1, u2, g = 1.7e6, 1.67e7, 130.0, 180.0, 1540.0
    times = np.linspace(0.0, 3 * 86400.0, 200)
    ours = twonode.twonode_path_c(c1, c2, u1, u2, g, 20.0, 18.0, -7.0, -7.0, 4000.0, 0.0, times)
    run = solve_ivp(
        lambda _, y: [
            (u1 * (-7.0 - y[0]) + g * (y[1] - y[0]) + 4000.0) / c1,
            (u2 * (-7.0 - y[1]) + g * (y[0] - y[1])) / c2,
        ],
        (0, times[-1]), [20.0, 18.0], t_eval=times, rtol=1e-10, atol=1e-10,
    )  # fmt: skip
    np.testing.assert_allclose(np.array(ours), run.y, atol=1e-6)


def test_house_hold_against_integration():
    nodes = heat.house_nodes(290.0, 167.0, 110e3, 0.45)

    def rates(_, y):
        across = nodes.air_mass_w_per_k * (y[1] - y[0])
        air = (nodes.air_ua_w_per_k * (-12.0 - y[0]) + across + 350.0) / nodes.air_j_per_k
        return [air, (nodes.mass_ua_w_per_k * (-12.0 - y[1]) - across) / nodes.mass_j_per_k]

    def low(_, y):
        return y[0] - 7.0

    low.terminal = True
    run = solve_ivp(rates, (0, 1e6), [20.0, 18.5], events=low, rtol=1e-10, atol=1e-10)
    assert heat.house_hold_s(nodes, 20.0, 18.5, -12.0, 350.0, 7.0) == pytest.approx(
        run.t_events[0][0], rel=1e-6
    )


def test_tank_with_a_draw_and_an_element_against_integration():
    flow, c = 4e-5, tankheater.WATER_J_PER_M3_K

    def rate(_, y):
        return [(1.5 * (18.0 - y[0]) + c * flow * (8.0 - y[0]) + 4500.0) / (c * 0.19)]

    run = solve_ivp(rate, (0, 2 * H), [52.0], rtol=1e-10, atol=1e-10)
    found = tankheater.tank_after_c(0.19, 1.5, 52.0, 18.0, 2 * H, 8.0, flow, 4500.0)
    assert found == pytest.approx(float(run.y[0, -1]), abs=1e-6)


def test_water_of_the_tank_against_a_property_library():
    # One figure for all temperatures: within 2 % of rho c from cold inlet to hot tank.
    for t_c in (5.0, 20.0, 40.0, 60.0):
        of = ("T", t_c + 273.15, "P", 3e5, "Water")
        product = CoolProp.CoolProp.PropsSI("D", *of) * CoolProp.CoolProp.PropsSI("C", *of)
        assert abs(tankheater.WATER_J_PER_M3_K / product - 1.0) < 0.02


def test_melting_heat_and_water_against_a_property_library():
    # IAPWS ice is not in every build of the library; the liquid side is.
    h = [CoolProp.CoolProp.PropsSI("H", "T", t + 273.15, "P", 101325.0, "Water") for t in (0.01, 20.0)]
    assert (h[1] - h[0]) / 19.99 == pytest.approx(ice.WATER_J_PER_KG_K, rel=0.005)


def test_dry_ice_gas_against_a_property_library():
    of = [CoolProp.CoolProp.PropsSI("H", "T", t + 273.15, "P", 101325.0, "CO2") for t in (-55.0, -15.0)]
    # The library stops at the triple point (-56.6 degC); the gas below it is hardly different.
    assert (of[1] - of[0]) / 40.0 == pytest.approx(ice.DRY_ICE_GAS_J_PER_KG_K, rel=0.03)


@pytest.mark.parametrize(("t_c", "humidity"), [(22.0, 0.5), (32.0, 0.7), (10.0, 0.4), (3.0, 1.0)])
def test_moist_air_against_a_psychrometric_library(t_c, humidity):
    psychrolib.SetUnitSystem(psychrolib.SI)
    ratio = psychrolib.GetHumRatioFromRelHum(t_c, humidity, 101325.0)
    enthalpy, dry = ice.moist_air_kernel(t_c, humidity)
    assert enthalpy == pytest.approx(psychrolib.GetMoistAirEnthalpy(t_c, ratio), rel=0.004)
    assert dry == pytest.approx(1.0 / psychrolib.GetMoistAirVolume(t_c, ratio, 101325.0), rel=0.001)


def test_fridge_planning_capacity_against_integration():
    c = cold.fridge_planning_j_per_k(1.15)
    run = solve_ivp(lambda _, y: [1.15 * (22.0 - y[0]) / c], (0, 4 * H), [cold.FRIDGE_START_C], rtol=1e-10)
    assert float(run.y[0, -1]) == pytest.approx(cold.DANGER_C, abs=1e-6)
    assert c == pytest.approx(1.15 * 4 * H / log((22 - cold.FRIDGE_START_C) / (22 - cold.DANGER_C)))

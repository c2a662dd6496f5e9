"""Fuel of an automatic set that nobody stops: no-load burn the day round, and the slope for what it carries."""

from dataclasses import replace

import pytest
from running_houses import running_house

from hearthold.engine.control import Standby
from hearthold.engine.run import simulate
from hearthold.house.supply import HookupKind
from hearthold.plan.byitself import by_itself_day_m3
from hearthold.plan.routine import FAILS_AT_S, steady_hours
from hearthold.sizing.burn import burn
from hearthold.sizing.conditions import conditions


@pytest.fixture(scope="module")
def standby():
    house = running_house()
    return replace(house, hookup=house.hookup.model_copy(update={"kind": HookupKind.AUTOMATIC_STANDBY}))


def test_it_is_the_willans_line_at_the_mean_power(standby):
    """Affine in power, so a day's fuel follows from the mean alone; running time and energy are the engine's."""
    weather, line = conditions(standby, 1), burn(standby)
    found = by_itself_day_m3(standby, weather, line.fuel)
    hours = standby.outages.plan_for_s / 3600.0
    out = simulate(
        standby,
        steady_hours(weather, days=12),
        Standby(),
        start_s=FAILS_AT_S,
        hours=hours,
        fuel_m3=float("inf"),
    ).outcomes
    assert out.run_s[0] > 0.9 * hours * 3600.0
    mean_w = out.energy_j[0] / out.run_s[0]
    expected = line.m3_per_s(mean_w) * out.run_s[0] / (hours / 24.0)
    assert found == pytest.approx(expected, rel=1e-6)


def test_other_hookups_have_none(standby):
    house = running_house()
    assert by_itself_day_m3(house, conditions(house, 1), burn(house).fuel) is None
    assert by_itself_day_m3(replace(standby, generator=None), conditions(house, 1), None) is None

"""The own battery of a medical appliance: charged while its circuit is live, by a charger that the source carries."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from engine_houses import HOUR_S, house, still
from house_parts import branch, load

from hearthold.engine.control import AlwaysOn, DailySpell, Handling, Off, Routine, Step
from hearthold.engine.run import simulate
from hearthold.engine.weather import month_hours
from hearthold.house.reader import read_house
from hearthold.house.supply import Battery

EXAMPLE = Path(__file__).parents[2] / "examples" / "tarn_hollow.toml"
BEDROOM = branch("Bedroom") + load("cpap", "cpap_with_humidifier", "bedroom", running=60)
NEED = '[[medical]]\nload = "cpap"\nhours_per_day = {hours}\nfrom = "22:00"\nown_battery = "{own}"\n'
KEPT = 0.85  # of what the charger draws: the row own_battery_charging of the defaults
SPELL = (Step("bedroom"),)
READY_S = 120.0  # warming up; the bedroom is the first circuit to be switched


def bedroom(hours: float = 8, own: str = "9 h", recharge: str | None = None, **changes):
    """The test house with a CPAP on a circuit of its own."""
    more = f'recharge = "{recharge}"\n' if recharge else ""
    return replace(house(BEDROOM + NEED.format(hours=hours, own=own) + more), **changes)


def bedroom_w(trace):
    return trace.circuit_w[:, trace.house.circuit_ids.index("bedroom")]


def test_the_charger_draws_what_the_house_says_while_nobody_sleeps():
    """60 W for 9 h in 6 h of charging: 60 x 9/6 = 90 W kept, 90/0.85 = 105.9 W drawn."""
    rule = Routine((DailySpell(12 * HOUR_S, 3 * HOUR_S, SPELL),))
    trace = simulate(bedroom(recharge="6 h"), still(), rule, start_s=21 * HOUR_S, hours=20, fuel_m3=1.0)
    midday = bedroom_w(trace)[15 * 60 + 3 : 18 * 60]
    assert midday == pytest.approx(60.0 * 9.0 / 6.0 / KEPT, rel=1e-9)


def test_the_machine_carries_the_charger():
    """The same outage with a battery to charge and with none: more energy by watts times time, as one hour adds."""
    rule = Routine((DailySpell(12 * HOUR_S, 3 * HOUR_S, SPELL),))
    days = {"start_s": 21 * HOUR_S, "hours": 20, "fuel_m3": 1.0}
    with_one = simulate(bedroom(recharge="6 h"), still(), rule, **days).outcomes
    without = simulate(bedroom(own="0 h"), still(), rule, **days).outcomes
    more_j = with_one.energy_j[0] - without.energy_j[0]
    assert more_j == pytest.approx(90.0 / KEPT * (3 * HOUR_S - READY_S), rel=1e-9)


def test_charging_ends_when_the_battery_is_full():
    """One hour of use is put back, no more: 60 W x 1 h / 0.85, at one and a half hours of use an hour."""
    rule = Routine((DailySpell(12 * HOUR_S, 6 * HOUR_S, SPELL),))
    given = bedroom(hours=1, recharge="6 h")
    trace = simulate(given, still(), rule, start_s=21 * HOUR_S, hours=22, fuel_m3=1.0)
    watts = bedroom_w(trace)
    assert np.sum(watts) * 60.0 == pytest.approx(60.0 * HOUR_S / KEPT, rel=1e-9)
    last_s = 60.0 * (np.flatnonzero(watts)[-1] + 1)
    assert last_s == pytest.approx(15 * HOUR_S + READY_S + HOUR_S / 1.5, abs=60.0)


@pytest.mark.parametrize(("recharge", "short_h"), [("9 h", 4.0), ("4.5 h", 1.0), ("3 h", 0.0), (None, 4.0)])
def test_what_a_spell_puts_back_by_hand(recharge, short_h):
    """9 h less a night of 8 leaves 1; three hours of charging add 3 x 9/recharge; 8 h are wanted the next night.

    Without a figure an hour of charging is taken to give an hour of use.
    """
    rule = Routine((DailySpell(12 * HOUR_S, 3 * HOUR_S + READY_S, SPELL),))
    given = bedroom(recharge=recharge)
    out = simulate(given, still(), rule, start_s=21 * HOUR_S, hours=34, fuel_m3=1.0).outcomes
    assert out.medical_unpowered_s[0, 0] == pytest.approx(short_h * HOUR_S, abs=1.0)


def test_no_charge_through_a_circuit_that_is_not_switched_on():
    """The machine runs for the freezer alone: as with no machine, 1 h is left for a night of 8."""
    rule = Routine((DailySpell(12 * HOUR_S, 6 * HOUR_S, (Step("freezer"),)),))
    out = simulate(
        bedroom(recharge="3 h"), still(), rule, start_s=21 * HOUR_S, hours=34, fuel_m3=1.0
    ).outcomes
    assert out.medical_unpowered_s[0, 0] == pytest.approx(7.0 * HOUR_S, abs=1.0)


def test_an_inverter_charges_it_too():
    """A house battery that is empty at night and lit by the sun at noon puts as much back as a machine would."""
    battery = Battery(capacity="0.4 kWh", usable=0.9, charge="2 kW", discharge="3 kW")
    handling = Handling(battery_circuits=("bedroom",))
    outside = still(15.0)  # no lithium cell is charged in frost
    lit = replace(outside, solar_w=np.where(np.arange(480) % 24 >= 12, 800.0, 0.0))
    given = bedroom(hours=12, own="9 h", recharge="3 h", battery=battery)
    days = {"start_s": 0.0, "hours": 70}
    dark = simulate(given, outside, Off(handling), **days)
    sunny = simulate(given, lit, Off(handling), **days)
    charging = bedroom_w(sunny)[24 * 60 + 12 * 60 :].max()
    assert charging == pytest.approx(60.0 * 3.0 / KEPT, rel=1e-9)
    assert sunny.outcomes.medical_unpowered_s[0, 0] < dark.outcomes.medical_unpowered_s[0, 0] - HOUR_S


def test_nothing_is_charged_on_the_grid_side_of_a_full_battery():
    trace = simulate(bedroom(), still(), AlwaysOn(delay_s=0.0), start_s=6 * HOUR_S, hours=12, fuel_m3=1.0)
    assert not bedroom_w(trace).any()


def test_the_example_is_kept_by_enough_daily_running_and_only_by_that():
    """Nights of 8 h and 9 h recharged in 5: 8/9 x 5 = 4.4 h of live circuit a day keep it; 2 h give 3.6 h of use."""
    given = read_house(EXAMPLE)
    outside = month_hours(given, 1)
    days = {"start_s": 20 * HOUR_S, "hours": 5 * 24, "fuel_m3": 1.0}
    enough = Routine((DailySpell(6 * HOUR_S, 2.5 * HOUR_S), DailySpell(17 * HOUR_S, 2.5 * HOUR_S)))
    little = Routine((DailySpell(17 * HOUR_S, 2 * HOUR_S),))
    kept = simulate(given, outside, enough, **days).outcomes
    lost = simulate(given, outside, little, **days).outcomes
    assert kept.medical_unpowered_s[0, 0] == 0.0
    # 1 h left and 3.6 h put back for 8 h, then 3.6 h for 8 h on each night but the fifth (until 20:00): 3.4 + 3 x 4.4 h
    assert lost.medical_unpowered_s[0, 0] == pytest.approx((3.4 + 3 * 4.4) * HOUR_S, rel=0.05)

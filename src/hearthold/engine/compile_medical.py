"""Medical needs as rows, and the charger of an appliance's own battery as a load of its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.layout import Array
from hearthold.engine.rows import row
from hearthold.house.house import House
from hearthold.house.loads import Load, Pattern
from hearthold.house.site import Medical
from hearthold.reference.reader import table


def own_chargers(house: House, served: Iterable[Load]) -> dict[str, Load]:
    """The charger of each own battery, by the load it belongs to; only loads that are served have one."""
    by_id = {load.id: load for load in served}
    return {
        need.load: _charger(by_id[need.load], need)
        for need in house.medical
        if need.load in by_id and charge_rate(need) > 0.0
    }


def charge_rate(need: Medical) -> float:
    """Seconds of use that one second of charging gives; 0 without a battery."""
    return need.own_battery_s / need.recharge_s if need.recharge_s and need.own_battery_s > 0.0 else 0.0


def _charger(load: Load, need: Medical) -> Load:
    """A steady load on the same circuit: what the appliance uses, at the charging rate, and the charger's losses.

    Source: energy balance; the share lost is a row of the defaults.
    """
    kept = table("house_defaults").row("own_battery_charging").si("typical_frac")
    watts = load.running_w * charge_rate(need) / kept
    return replace(
        load, id=f"{load.id} battery", name=f"{load.name}: its battery", count=1, running_w=watts, low_w=watts,
        high_w=watts, start_va=watts / load.power_factor, duty_frac=0.0, pattern=Pattern.CYCLING, use=(),
    )  # fmt: skip


def medical_row(need: Medical, row_of: Mapping[str, int], chargers: Mapping[str, Load]) -> Array:
    """One need: its load, its own battery in seconds of use, and that battery's charger."""
    charger = chargers.get(need.load)
    return row(
        c.H_COUNT,
        {
            c.H_LOAD: row_of[need.load],
            c.H_OWN_S: need.own_battery_s,
            c.H_CHARGER: row_of[charger.id] if charger is not None else -1,
            c.H_RATE: charge_rate(need) if charger is not None else 0.0,
        },
    )

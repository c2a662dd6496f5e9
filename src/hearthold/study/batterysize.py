"""How large a battery, its inverter and the panels must be for what a house is to carry."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from hearthold.house.supply import Battery, Solar
from hearthold.reference.storage import battery_kind, pv_constant
from hearthold.sizing.together import draws

if TYPE_CHECKING:
    from hearthold.house.house import House

NIGHT_S = 14 * 3600.0  # from the last charge of the day to the first of the next (common practice, no source)
DARK_S = 24 * 3600.0  # with panels: one day without sun (common practice, no source)
MARGIN_FRAC = 1.15  # for cold, ageing and what was forgotten (common practice, no source)
MODULE_J = 2.5 * 3.6e6  # batteries are sold in steps of about 2.5 kWh (common practice, no source)
INVERTER_W = 1000.0  # and inverters in steps of about 1 kW
SURGE_RATIO = 1.5
USABLE, ONE_WAY = 0.9, 0.95
_IDLE_FRAC = 0.008  # of the inverter's rating, middle of the reference table's range


@dataclass(frozen=True, slots=True)
class Need:
    """What a battery must give: mean and highest running power, and the heaviest start."""

    mean_w: float
    running_w: float
    start_va: float


def need(house: House, circuits: tuple[str, ...]) -> Need:
    """What some circuits ask of a battery; loads that can wait are left off where others share the circuit."""
    found = draws(house, circuits)
    total = sum((d.total_va for d in found), 0j)
    starts = [abs(total + a + b) for d in found for a, b in d.surpluses]
    return Need(sum(d.mean_w for d in found), total.real, max([abs(total), *starts]))


def battery_for(asked: Need, dark_s: float, charger_w: float) -> Battery:
    """The battery that carries the mean load for `dark_s`, with an inverter for the running peak and heaviest start.

    Charging takes at most what the chemistry bears and `charger_w` gives.
    Source: energy balance; usable share, rate and efficiencies from the reference table (from memory).
    """
    inverter_w = INVERTER_W * ceil(max(asked.running_w, asked.start_va / SURGE_RATIO) / INVERTER_W)
    idle_w = _IDLE_FRAC * inverter_w
    wanted_j = MARGIN_FRAC * (asked.mean_w / ONE_WAY + idle_w) * dark_s / USABLE
    capacity_j = MODULE_J * max(1, ceil(wanted_j / MODULE_J))
    rate_w = battery_kind("lithium_iron_phosphate").charge_rate_per_h * capacity_j / 3600.0
    return Battery.model_construct(
        capacity_j=capacity_j, usable=USABLE, chemistry="lfp", charge_w=min(rate_w, charger_w),
        discharge_w=inverter_w, charge_efficiency=ONE_WAY, discharge_efficiency=ONE_WAY, idle_w=idle_w,
        surge_va=SURGE_RATIO * inverter_w, place="heated",
    )  # fmt: skip


def panels_for(house: House, asked: Need, battery: Battery) -> Solar:
    """Panels that bring back a day's use in the year's darkest month, but no more than a roof holds (12 kW).

    Source: energy balance on the month's mean day; see study.sunlight.
    """
    from hearthold.study.sunlight import darkest_day_j

    tilt = min(60.0, max(15.0, abs(house.site.latitude) + 10.0))
    azimuth = 180.0 if house.site.latitude >= 0.0 else 0.0
    one = Solar.model_construct(
        peak_w=1000.0, tilt_deg=tilt, azimuth_deg=azimuth, performance=pv_constant("performance_ratio")
    )
    darkest_j = darkest_day_j(house, one)
    day_j = (asked.mean_w / ONE_WAY**2 + battery.idle_w) * 86400.0
    wanted_w = 500.0 * ceil(1000.0 * day_j / max(darkest_j, 1.0) / 500.0)
    return one.model_copy(update={"peak_w": min(12000.0, max(1000.0, wanted_w))})

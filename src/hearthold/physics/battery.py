"""Battery with inverter and charger: one store of energy, losses each way, an idle draw, limits in the cold.

The state is energy in the store. A load takes load/discharge_frac plus the inverter's idle draw out; the
charger puts input x charge_frac in. Between switchings the rate is constant, so the advance is exact. No
Peukert term: lithium iron phosphate gives nearly the same energy at every rate used in a house; lead-acid
does not, and its usable fraction must be set lower by hand. Self-discharge, a few per cent a month, is left
out.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from hearthold.errors import InputError
from hearthold.quantities.glossary import require

_HOUR_S = 3600.0


@dataclass(frozen=True, slots=True)
class Advance:
    """Store after a step, with the energy short below empty and over above full (J, at the store)."""

    stored_j: float
    short_j: float
    over_j: float


def net_kernel(
    house_load_w: float, charge_input_w: float, idle_w: float, discharge_frac: float, charge_frac: float
) -> float:
    """Rate of the store, W: positive fills it."""
    return charge_input_w * charge_frac - house_load_w / discharge_frac - idle_w


def advance_kernel(stored_j: float, net_w: float, duration_s: float, capacity_j: float) -> float:
    """Stored energy after a step at a constant rate, kept between empty and full, J."""
    return min(max(stored_j + net_w * duration_s, 0.0), capacity_j)


def limit_time_kernel(stored_j: float, net_w: float, capacity_j: float) -> float:
    """Seconds until the store is full (rising) or empty (falling); infinite at rest."""
    if net_w > 0.0:
        return (capacity_j - stored_j) / net_w
    return stored_j / -net_w if net_w < 0.0 else inf


def store_rate_w(
    house_load_w: float, charge_input_w: float, idle_w: float, discharge_frac: float, charge_frac: float
) -> float:
    """Rate of the store: charger input x charge_frac - load / discharge_frac - idle draw.

    Give `idle_w` 0 with the inverter off. A load fed straight through from the generator is not a load here.

    Raises: InputError outside the glossary ranges.
    Source: energy balance.
    """
    require(house_load_w=house_load_w, charge_input_w=charge_input_w, idle_w=idle_w)
    require(discharge_frac=discharge_frac, charge_frac=charge_frac)
    return net_kernel(house_load_w, charge_input_w, idle_w, discharge_frac, charge_frac)


def advance(stored_j: float, net_w: float, duration_s: float, capacity_j: float) -> Advance:
    """Store after a step at a constant rate, with what was short and what was over; the balance closes.

    stored_after - stored = net x t + short - over.

    Raises: InputError if more is stored than fits, or outside the glossary ranges.
    Source: energy balance.
    """
    _require_state(stored_j, net_w, capacity_j)
    require(duration_s=duration_s)
    wanted_j = stored_j + net_w * duration_s
    after_j = advance_kernel(stored_j, net_w, duration_s, capacity_j)
    return Advance(after_j, max(0.0, -wanted_j), max(0.0, wanted_j - capacity_j))


def time_to_empty_s(stored_j: float, net_w: float, capacity_j: float) -> float:
    """Time until nothing is left at this rate; infinite unless the store falls.

    Raises: InputError if more is stored than fits, or outside the glossary ranges.
    Source: energy balance.
    """
    _require_state(stored_j, net_w, capacity_j)
    return limit_time_kernel(stored_j, net_w, capacity_j) if net_w < 0.0 else inf


def time_to_full_s(stored_j: float, net_w: float, capacity_j: float) -> float:
    """Time until the store is full at this rate; infinite unless it rises (or 0 if full already).

    A real charger slows down near full; for lead-acid the last fifth takes hours more.

    Raises: InputError if more is stored than fits, or outside the glossary ranges.
    Source: energy balance.
    """
    _require_state(stored_j, net_w, capacity_j)
    if stored_j >= capacity_j:
        return 0.0
    return limit_time_kernel(stored_j, net_w, capacity_j) if net_w > 0.0 else inf


def round_trip_frac(discharge_frac: float, charge_frac: float) -> float:
    """Energy out over energy in, idle draw aside: the product of both ways.

    Raises: InputError outside the glossary ranges.
    Source: definition.
    """
    require(discharge_frac=discharge_frac, charge_frac=charge_frac)
    return discharge_frac * charge_frac


def usable_capacity_j(
    nominal_j: float,
    usable_frac: float,
    cell_c: float,
    warm_c: float = 20.0,
    cold_c: float = -18.0,
    cold_capacity_frac: float = 0.70,
) -> float:
    """Energy the battery holds as used, at a cell temperature.

    Full at `warm_c` and above, `cold_capacity_frac` at `cold_c`, straight between and below, never under 0.
    The default pair is a lithium iron phosphate figure from trade pages; take the maker's own sheet.

    Raises: InputError if cold_c is not below warm_c, or outside the glossary ranges.
    Source: 70 % at 0 degF, trade pages; straight line between is our simplification.
    """
    require(nominal_j=nominal_j, usable_frac=usable_frac, cell_c=cell_c, warm_c=warm_c, cold_c=cold_c)
    require(cold_capacity_frac=cold_capacity_frac)
    if cold_c >= warm_c:
        raise InputError(
            f"cold_c is {cold_c:g} degC and must be below warm_c ({warm_c:g} degC).", code="cold_capacity"
        )
    lost_frac = (1.0 - cold_capacity_frac) * max(0.0, warm_c - cell_c) / (warm_c - cold_c)
    return nominal_j * usable_frac * max(0.0, 1.0 - lost_frac)


def may_charge(cell_c: float, charge_min_c: float = 0.0, charge_max_c: float = 45.0) -> bool:
    """Whether the cells are within their charging temperatures.

    Charging lithium iron phosphate below 0 degC plates metal onto the anode and ruins it; a heated battery
    may charge once the cells, not the room, are warm.

    Raises: InputError outside the glossary ranges.
    Source: limits common on lithium iron phosphate data sheets (0 to 45 or 55 degC), trade pages.
    """
    require(cell_c=cell_c, charge_min_c=charge_min_c, charge_max_c=charge_max_c)
    return charge_min_c <= cell_c <= charge_max_c


def may_discharge(cell_c: float, discharge_min_c: float = -20.0, discharge_max_c: float = 55.0) -> bool:
    """Whether the cells are within their discharging temperatures.

    Raises: InputError outside the glossary ranges.
    Source: -10 to -30 degC lowest on lithium iron phosphate data sheets, trade pages.
    """
    require(cell_c=cell_c, discharge_min_c=discharge_min_c, discharge_max_c=discharge_max_c)
    return discharge_min_c <= cell_c <= discharge_max_c


def charge_accepted_w(
    charge_input_w: float, charger_w: float, charge_limit_w: float, charge_frac: float
) -> float:
    """Charger input really taken: the least of what is offered, the charger, and the store's own limit.

    `charge_limit_w` counts at the store; at the charger's plug it is charge_limit_w / charge_frac.

    Raises: InputError outside the glossary ranges.
    Source: energy balance.
    """
    require(charge_input_w=charge_input_w, charger_w=charger_w, charge_limit_w=charge_limit_w)
    require(charge_frac=charge_frac)
    return min(charge_input_w, charger_w, charge_limit_w / charge_frac)


def charge_rate_limit_w(nominal_j: float, charge_per_h: float, allowed: bool = True) -> float:
    """Most power the store may take: the C rate x printed energy; 0 when charging is not `allowed`.

    Raises: InputError outside the glossary ranges.
    Source: definition of the C rate.
    """
    require(nominal_j=nominal_j, charge_per_h=charge_per_h)
    return nominal_j / _HOUR_S * charge_per_h if allowed else 0.0


def _require_state(stored_j: float, net_w: float, capacity_j: float) -> None:
    require(stored_j=stored_j, net_w=net_w, capacity_j=capacity_j)
    if stored_j > capacity_j * (1.0 + 1e-12):
        raise InputError(
            f"stored_j is {stored_j:g} J and must not be above capacity_j ({capacity_j:g} J).",
            code="battery_overfull",
        )

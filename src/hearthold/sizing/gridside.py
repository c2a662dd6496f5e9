"""The fed panel on grid power: its feeder, what protects it there, and what may run through it and the breakers.

It lies on the load side of the transfer equipment, so the grid feeds it as the set does, and without the set's
limits: no turns are taken, and the breaker of the inlet is not in the way. The feeder of an interlocked inlet is
another matter: its breaker is open while the main is closed, so grid power never passes it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.house.site import VoltageSystem
from hearthold.house.supply import HookupKind
from hearthold.house.wire import metal
from hearthold.reference import ampacity as nec
from hearthold.reference import metric
from hearthold.sizing.carrying import Carrying, Lay, next_size, run_carrying
from hearthold.sizing.loadcalc import essential_panel, whole_house

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import Run

_ON_LOAD_SIDE = (HookupKind.MANUAL_TRANSFER, HookupKind.BATTERY_INVERTER, HookupKind.AUTOMATIC_STANDBY)


@dataclass(frozen=True, slots=True)
class GridFeeder:
    """The feeder as grid power finds it."""

    carrying: Carrying
    largest_device_a: float  # the largest breaker ahead of it, by the wire
    most_a: float  # the same, where the rating of the transfer equipment is smaller
    breaker_a: float | None  # the one that is there; None where the house file does not give it
    main_a: float | None  # main breaker of the panel at its far end

    @property
    def breaker_over(self) -> bool:
        """True where the breaker that is there is larger than the wire may have."""
        return self.breaker_a is not None and self.breaker_a > self.largest_device_a

    @property
    def holds_a(self) -> float:
        """What may run through it: its ampacity, or the rating up to which it may carry a whole dwelling."""
        return max(self.carrying.allowed_a, self.largest_device_a if self._whole_dwelling else 0.0)

    @property
    def _whole_dwelling(self) -> bool:
        return self.largest_device_a > self.carrying.largest_device_a

    def thicker(self, load_a: float) -> str | None:
        """The smallest size of its kind that carries a load; None where the table ends."""
        return next_size(self.carrying, load_a)


def grid_feeder(house: House) -> GridFeeder | None:
    """The feeder on grid power; None where there is none, or where grid power never passes it.

    Raises: InputError for a conductor size of the other system; TableError beyond a table's edge.

    Source: NFPA 70 (NEC) 215.3, 240.4, 240.21, and 310.12 for the feeder of a whole dwelling; IEC 60364-4-43 433.1;
    all from memory.
    """
    hookup = house.hookup
    if hookup is None or hookup.feeder is None or hookup.kind not in _ON_LOAD_SIDE:
        return None
    lay = Lay(live_count=hookup.feeder.live_conductors, device_a=hookup.grid_breaker_a or 0.0)
    found = run_carrying(hookup.feeder, house.system, lay)
    whole = house.takes_over
    device_a = _largest_device_a(house.system, hookup.feeder, found, whole)
    most_a = min(device_a, hookup.transfer_a or device_a)
    return GridFeeder(found, device_a, most_a, hookup.grid_breaker_a, hookup.panel_main_a)


def grid_parts(house: House) -> tuple[tuple[str, float], ...]:
    """The parts whose rating is given that grid power passes on its way to the fed panel, with their amperes.

    None with an interlock: its panel is the service's own, which the hookup did not make.
    """
    hookup = house.hookup
    if hookup is None or hookup.kind not in _ON_LOAD_SIDE:
        return ()
    parts = (
        ("the breaker on the grid side", hookup.grid_breaker_a),
        ("the transfer equipment", hookup.transfer_a),
        ("the main of the panel", hookup.panel_main_a),
        ("the bus of the panel", hookup.panel_bus_a),
    )
    return tuple((name, rated_a) for name, rated_a in parts if rated_a is not None)


def grid_parts_below(house: House) -> tuple[tuple[str, float], ...]:
    """Those of them that are rated for less than the panel may draw. Raises: InputError as grid_load_a.

    Source: NFPA 70 (NEC) 215.3 (breaker of a feeder), 408.30 (panel), 702.4, in 2023 702.5 (transfer equipment);
    IEC 60364-4-43 433.1; all from memory.
    """
    parts = grid_parts(house)
    load_a = grid_load_a(house) if parts else 0.0
    return tuple((name, rated_a) for name, rated_a in parts if load_a > rated_a)


def grid_load_a(house: House) -> float:
    """Amperes that the fed panel may draw from the grid: its own list all at once, on the busier leg.

    Behind an automatic switch it is the dwelling method's current, which knows no legs. Raises: InputError where
    that method lacks the floor area.

    Source: NFPA 70 (NEC) 215.2(A)(1), 220.82, as in sizing.loadcalc.
    """
    found = whole_house(house) if house.takes_over else essential_panel(house)
    return found.worst_leg.current_a if found.worst_leg is not None else found.current_a


def even_grid_load_a(house: House) -> float | None:
    """The same were both legs of the panel even; None where the method knows no legs."""
    legs = () if house.takes_over else essential_panel(house).legs
    return sum(x.current_a for x in legs) / len(legs) if legs else None


def device_at_least_a(system: VoltageSystem, current_a: float) -> float:
    """The smallest standard breaker that holds a current, or the largest there is.

    Source: NFPA 70 (NEC) 240.6(A), IEC 60898-1, from memory.
    """
    american = system is VoltageSystem.SPLIT_120_240
    series = nec.standard_breakers_a() if american else metric.standard_breakers_a()
    return next((a for a in series if a >= current_a - 1e-9), series[-1])


def _largest_device_a(system: VoltageSystem, run: Run, found: Carrying, whole: bool) -> float:
    """The largest standard breaker the feeder may have ahead of it."""
    if system is not VoltageSystem.SPLIT_120_240:
        fit = [a for a in metric.standard_breakers_a() if a <= found.allowed_a]
        return max(fit, default=found.allowed_a)
    return max(found.largest_device_a, _dwelling_a(run, found) if whole else 0.0)


def _dwelling_a(run: Run, found: Carrying) -> float:
    """Rating up to which this size may carry a whole dwelling; 0 for a cable that ends in the 60 degC column.

    The table stands for 83 % of the rating at 75 degC, at which NM-B and UF-B may not be taken (334.80, 340.80).
    """
    if nec.cable_column(found.cable)[1]:
        return 0.0
    kind = metal(run.material)
    sizes = [f"{s} AWG" for s in nec.conductor_sizes(kind)]
    thick = sizes[: sizes.index(found.size) + 1]
    fit = [a for a in nec.dwelling_ratings_a() if f"{nec.dwelling_feeder_awg(a, kind)} AWG" in thick]
    return max(fit, default=0.0)

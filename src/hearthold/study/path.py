"""The way from machine to panel for a design: cord, inlet, breaker, feeder, transfer, by the current each passes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from hearthold.house.site import VoltageSystem
from hearthold.house.supply import Hookup, HookupKind, Run
from hearthold.house.wire import table_size
from hearthold.physics.conductors import voltage_drop_two_wire_v
from hearthold.reference import conductors, connectors
from hearthold.sizing.carrying import TABLE_AMBIENT_C, Lay, carrying, sizes_above
from hearthold.sizing.gridside import device_at_least_a, grid_load_a

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import Generator

Cable = Literal["NM-B", "PVC70", "cord"]
_CORD_M, _FEEDER_M = 7.62, 12.2  # 25 ft and 40 ft, where the house file gives no length (judgement)
_THINNEST = {True: ("14 AWG", "14 AWG"), False: ("1.5 mm2", "1.5 mm2")}
_POWER_FACTOR = 0.9  # of a house on a machine (judgement)
_DROP_FRAC = 0.03  # of the voltage, along cord or feeder: advice, not a rule (NEC informational notes)


def hookup_of(house: House, machine: Generator | None, kind: HookupKind, spaces: int) -> Hookup:
    """The hookup of a design, every part sized for the current that passes. Nothing of it is in place."""
    made = Hookup(
        kind=kind, installed=False, installed_by="electrician", permit="yes", switched_neutral=False
    )
    if kind is HookupKind.CORDS or machine is None:
        return made.model_copy(update={"installed_by": "household"} if kind is HookupKind.CORDS else {})
    parts: dict[str, object] = {"panel_spaces": spaces} if kind is HookupKind.MANUAL_TRANSFER else {}
    if machine.kind == "standby":
        current_a = max(r.running_w for r in machine.on) / house.system.full_voltage_v
        device_a = device_at_least_a(house.system, current_a)
        return _behind_transfer(house, made.model_copy(update={"transfer_a": max(100.0, device_a)}), device_a)
    plug = connectors.connector(machine.receptacle)
    device_a = min(device_at_least_a(house.system, plug.rating_a), plug.rating_a)
    parts |= {"inlet": machine.receptacle, "inlet_breaker_a": device_a, "cord": _cord(house, plug.rating_a)}
    if kind is HookupKind.MANUAL_TRANSFER:
        parts |= {"transfer_a": max(60.0, device_a), "panel_bus_a": 100.0, "panel_main_a": 60.0}
    made = made.model_copy(update=parts)
    if kind is HookupKind.INTERLOCK:  # while the grid is there, the breaker of the inlet is open
        return made.model_copy(update={"feeder": _feeder(house, device_a)})
    return _behind_transfer(house, made, device_a)


def _behind_transfer(house: House, made: Hookup, device_a: float) -> Hookup:
    """The hookup with a feeder behind its transfer equipment, where the grid passes too, every day."""
    grid_a = device_at_least_a(house.system, grid_load_a(replace(house, hookup=made)))
    at_least = {
        name: max(rating_a, grid_a)
        for name in ("transfer_a", "panel_bus_a", "panel_main_a")
        if (rating_a := getattr(made, name)) is not None
    }
    parts = {"feeder": _feeder(house, max(device_a, grid_a)), "grid_breaker_a": grid_a, **at_least}
    return made.model_copy(update=parts)


def _cord(house: House, current_a: float) -> Run:
    had = house.hookup.cord if house.hookup is not None else None
    return smallest_run(house, "cord", had.length_m if had is not None else _CORD_M, current_a)


def _feeder(house: House, current_a: float) -> Run:
    had = house.hookup.feeder if house.hookup is not None else None
    cable: Cable = "NM-B" if house.system is VoltageSystem.SPLIT_120_240 else "PVC70"
    return smallest_run(house, cable, had.length_m if had is not None else _FEEDER_M, current_a)


def smallest_run(house: House, cable: Cable, length_m: float, current_a: float) -> Run:
    """The thinnest copper run that carries a current and loses at most 3 % of the voltage over its length.

    Raises: InputError where no size of the tables carries it.
    Source: carrying capacity as in sizing.carrying; drop advice of the NEC's informational notes.
    """
    split = house.system is VoltageSystem.SPLIT_120_240
    first = _THINNEST[split][0]
    sizes = (first, *sizes_above(first, "copper", cable))
    good = [s for s in sizes if _carries(house, s, cable, current_a)]
    near = [s for s in good if _drop_frac(house, s, length_m, current_a) <= _DROP_FRAC]
    wire = (near or good[-1:] or sizes[-1:])[0]
    return Run.model_construct(
        wire=wire, material="copper", cable=cable, length_m=length_m, live_conductors=2
    )


def _carries(house: House, size: str, cable: str, current_a: float) -> bool:
    lay = Lay(TABLE_AMBIENT_C, 2, current_a)
    return carrying(size, "copper", cable, house.system, lay).allowed_a >= current_a


def _drop_frac(house: House, size: str, length_m: float, current_a: float) -> float:
    part = conductors.conductor(table_size(size))
    lost_v = voltage_drop_two_wire_v(
        current_a, part.resistance_ohm_per_m, part.reactance_ohm_per_m, length_m, _POWER_FACTOR
    )
    return float(lost_v) / house.system.full_voltage_v

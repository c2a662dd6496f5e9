"""Which machine a hookup gets: the one in hand where it serves, else the smallest size that does."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hearthold.house.supply import FuelKind, FuelRating, Generator
from hearthold.reference.hookups import MachineSize, machine_sizes
from hearthold.sizing.supply import supply
from hearthold.sizing.together import asked, draws, limits

if TYPE_CHECKING:
    from collections.abc import Callable

    from hearthold.house.house import House

Serves = "Callable[[House], bool]"


def in_hand(house: House, kinds: tuple[str, ...]) -> Generator | None:
    """The machine the household owns, where it is of one of these kinds."""
    machine = house.generator
    if machine is None or not machine.owned or machine.kind not in kinds:
        return None
    return machine


def machine_of_size(size: MachineSize, fuel: FuelKind, share_frac: float, volts: float) -> Generator:
    """A new machine of a generic size; `share_frac` is its power on this fuel over the one it is rated on."""
    wired_in = size.receptacle == "none"
    rating = FuelRating.model_construct(
        fuel=fuel,
        running_w=size.running_w * share_frac,
        start_w=size.start_w * share_frac,
        tank_m3=size.tank_m3 or None,
        cylinder_kg=None,
        cylinders_joined=1,
        gas_pipe=None,
        printed=(),
    )
    return Generator.model_construct(
        **{name: field.default for name, field in Generator.model_fields.items()}
        | {
            "name": f"{size.running_w / 1000:g} kW {size.kind} set",
            "kind": size.kind,
            "owned": False,
            "on": (rating,),
            "voltage_v": min(size.voltage_v, volts),
            "receptacle": "L14-30"
            if wired_in
            else size.receptacle,  # a set that is wired in is never asked for its own
            "electric_start": True,
            "distance_m": 6.1,
            "place": "open_ground",
        }
    )


def smallest(
    house: House,
    kinds: tuple[str, ...],
    fuel: FuelKind,
    share_frac: float,
    serves: Callable[[Generator], bool],
) -> tuple[Generator, bool]:
    """The smallest size that serves, and whether one did; the largest of all where none does."""
    volts = house.system.full_voltage_v
    sizes = machine_sizes(house.system.value, *kinds)
    made = [machine_of_size(size, fuel, share_frac, volts) for size in sizes]
    found = next((machine for machine in made if serves(machine)), None)
    return (found, True) if found is not None else (made[-1], False)


def carries(house: House, circuits: tuple[str, ...]) -> bool:
    """Whether the house's machine and chain carry these circuits all at one time, heaviest start on top."""
    found = draws(house, circuits)
    allowed = limits(house, supply(house))
    impossible = (any(d.needs_240 for d in found) and not allowed.passes_240) or (
        any(d.needs_neutral for d in found) and not allowed.passes_neutral
    )
    return not impossible and not any(x.over for x in asked(found, allowed) if x.what != "mean load")


def on_fuel(house: House, machine: Generator, fuel: FuelKind) -> House:
    """The house with a machine, set to one fuel."""
    kept = house.fuel
    if kept is None:
        from hearthold.house.supply import Fuel

        kept = Fuel(preferred=fuel)
    return replace(house, generator=machine, fuel=kept.model_copy(update={"preferred": fuel}))

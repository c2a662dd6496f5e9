"""What could be changed where limits break: each a changed house, to be planned and simulated like any other.

Sizes are round figures a household can act on (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf

from hearthold.engine.kernels import layout as c
from hearthold.house.house import House
from hearthold.house.stores import ColdStore
from hearthold.house.supply import Battery, FuelKind, Generator
from hearthold.physics.tankheater import WATER_J_PER_M3_K
from hearthold.plan.problem import Problem
from hearthold.rules.words import fuel_words
from hearthold.sizing.fuel import stock_m3

JUGS_KG = 15.0
FRIDGE_JUGS_M3 = 0.008
BATH_M3 = 0.15
BIGGER = 1.5
LONGER = 1.5
MORE_FUEL = (2.0, 4.0, 8.0)
WATER_KG_PER_M3 = 1000.0


@dataclass(frozen=True, slots=True)
class Change:
    """A changed house, or another amount of fuel."""

    what: str
    outlay: str
    house: House
    fuel_m3: float | None
    of: tuple[Change, ...] = ()  # the changes it joins
    key: str = ""
    kind: str | None = None  # of fuel to run on; None: as it is


MORE_FUELS = ("fuel", "fetch")  # of the fuel that it runs on
BEFOREHAND = ("water", "jugs")  # what can be done only before the grid fails, or at that moment


def changes_for(problem: Problem, kinds: set[str], *, begun: bool = False) -> list[Change]:
    """The changes that bear on the kinds of limit that break, on this house; those still possible once it has begun."""
    found = [x for x in _changes(problem.house, problem, kinds) if x is not None]
    return [x for x in found if not (begun and x.key in BEFOREHAND)]


def _changes(house: House, problem: Problem, kinds: set[str]) -> Iterator[Change | None]:
    yield from _other_fuels(house, problem)
    yield _fetch(house, problem)
    yield from _habits(house, problem)
    if kinds & {"water"}:
        yield _water(house, problem)
    if kinds & {"food"}:
        yield _jugs(house, problem)
    if kinds & {"pipes"} and house.heat is not None and not house.heat.pipes_drained:
        drained = replace(house, heat=replace(house.heat, pipes_drained=True))
        yield _change(
            problem,
            drained,
            "Shut off and drain the pipes at risk before they freeze",
            "nothing to buy",
            "drain",
        )
    yield from _fuel(house, problem)
    yield from _machines(house, problem)


def _change(problem: Problem, house: House, what: str, outlay: str, key: str) -> Change:
    start = problem.compiled.start_fuel_m3
    return Change(what, outlay, house, start, key=key)


def _habits(house: House, problem: Problem) -> Iterator[Change]:
    wishes = house.wishes
    if not wishes.run_at_night:
        night = replace(house, wishes=wishes.model_copy(update={"run_at_night": True}))
        yield _change(problem, night, "Allow running at night", "nothing to buy", "night")
    more = replace(house, wishes=wishes.model_copy(update={"spells_per_day": wishes.spells_per_day + 2}))
    yield _change(
        problem, more, f"Run up to {wishes.spells_per_day + 2} times a day", "nothing to buy", "spells"
    )
    longest_s = min(86400.0, LONGER * wishes.longest_spell_s)
    longer = replace(house, wishes=wishes.model_copy(update={"longest_spell_s": longest_s}))
    yield _change(
        problem, longer, f"Run up to {longest_s / 3600.0:.1f} h at a time", "nothing to buy", "longer"
    )


def _water(house: House, problem: Problem) -> Change | None:
    if house.water is None:
        return None
    stored = house.water.stored_m3 + BATH_M3
    filled = replace(house, water=replace(house.water, stored_m3=stored))
    what = f"Fill bath and jugs with {1000.0 * BATH_M3:.0f} L more as soon as the grid fails"
    return _change(problem, filled, what, "nothing to buy", "water")


def _jugs(house: House, problem: Problem) -> Change:
    cold = tuple(_with_jugs(store) for store in house.cold)
    fridge_l = 1000.0 * FRIDGE_JUGS_M3
    what = f"Keep {JUGS_KG:.0f} kg of water frozen in each freezer and {fridge_l:.0f} L in the fridge"
    return _change(problem, replace(house, cold=cold), what, "a little", "jugs")


def _with_jugs(store: ColdStore) -> ColdStore:
    """A freezer with more frozen contents (reckoned as food, which freezes over a range), a fridge with
    more mass.
    """
    if store.is_freezer:
        return replace(store, contents_kg=store.contents_kg + JUGS_KG)
    return replace(store, fresh_j_per_k=store.fresh_j_per_k + FRIDGE_JUGS_M3 * WATER_J_PER_M3_K)


def _other_fuels(house: House, problem: Problem) -> Iterator[Change]:
    """Running on what else the machine burns and is at home."""
    for kind in other_fuels(problem):
        name, held_m3 = fuel_words([kind], house.system), stock_m3(house, kind)
        amount = "by the main" if held_m3 >= inf else f"{_litres(held_m3)} at home"
        what = f"Run it on {name} ({amount}; ask with --fuel {kind.value})"
        yield Change(what, "nothing to buy", house, None, key=f"on_{kind.value}", kind=kind.value)


def other_fuels(problem: Problem) -> tuple[FuelKind, ...]:
    """What else the machine burns, where some is at home."""
    kinds = () if problem.house.generator is None else (r.fuel for r in problem.house.generator.on)
    found = dict.fromkeys(kind for kind in kinds if kind.value != problem.fuel)
    return tuple(kind for kind in found if stock_m3(problem.house, kind) > 0.0)


def _fetch(house: House, problem: Problem) -> Change | None:
    """A trip for more that the house file does not count on, as if a station had power."""
    fuel = house.fuel
    if fuel is None or problem.compiled.start_fuel_m3 >= inf:
        return None
    trip = fuel.trip
    if not trip.brings_m3 or trip.works_in_outage:
        return None
    works = fuel.model_copy(update={"trip": trip.model_copy(update={"works_in_outage": True})})
    what = f"Fetch fuel where a station has power ({trip.time_s / 60.0:.0f} minutes for {_litres(trip.brings_m3)})"
    return _change(problem, replace(house, fuel=works), what, "fuel", "fetch")


def _fuel(house: House, problem: Problem) -> Iterator[Change]:
    """More of the fuel it runs on: multiples of what there is; of a filling where there is none."""
    start, tank = problem.compiled.start_fuel_m3, float(problem.compiled.world.par[c.P_FUEL_TANK])
    base = start if start > 0.0 else tank
    if base >= min(inf, c.FAR / 2.0):
        return
    instead = f" instead of {_litres(start)}" if start > 0.0 else ""
    for ratio in MORE_FUEL:
        yield Change(
            f"Have {_litres(ratio * base)} of fuel{instead}", "fuel", house, ratio * base, key="fuel"
        )


def _litres(volume_m3: float) -> str:
    """Litres with the digits that a round number of gallons needs."""
    return f"{1000.0 * volume_m3:.4g} L"


def _machines(house: House, problem: Problem) -> Iterator[Change]:
    if house.battery is None:
        battery = Battery.model_validate({"capacity": "5 kWh", "charge": "3 kW", "discharge": "3 kW"})
        what = f"Add a house battery of {battery.capacity_j / 3.6e6:.0f} kWh"
        yield _change(problem, replace(house, battery=battery), what, "a purchase", "battery")
    if house.generator is not None:
        bigger = replace(house, generator=_bigger(house.generator))
        what = f"A machine {BIGGER:g} times as large"
        yield _change(problem, bigger, what, "a purchase", "machine")


def _bigger(machine: Generator) -> Generator:
    """The machine with ratings, tank and breaker scaled; its printed hours then mean more fuel at the same
    share.
    """
    ratings = tuple(
        r.model_copy(
            update={
                "running_w": BIGGER * r.running_w,
                "start_w": None if r.start_w is None else BIGGER * r.start_w,
                "tank_m3": None if r.tank_m3 is None else BIGGER * r.tank_m3,
            }
        )
        for r in machine.on
    )
    breaker = None if machine.breaker_a is None else BIGGER * machine.breaker_a
    leg = None if machine.leg_limit_w is None else BIGGER * machine.leg_limit_w
    return machine.model_copy(update={"on": ratings, "breaker_a": breaker, "leg_limit_w": leg})


def joined(changes: Sequence[Change]) -> Change:
    """Changes made together: fields that differ from the plain house are taken from the change that made
    them.
    """
    first = changes[0]
    house, kind = first.house, next((x.kind for x in changes if x.kind is not None), None)
    for change in changes[1:]:
        house = _merged(house, change)
    fuel = (
        None if kind is not None else max((x.fuel_m3 for x in changes if x.fuel_m3 is not None), default=None)
    )
    order = ("nothing to buy", "a little", "fuel", "a purchase")
    outlay = max((x.outlay for x in changes), key=order.index)
    parts = tuple(p for x in changes for p in (x.of or (x,)))
    what = ", and ".join([parts[0].what, *(p.what[0].lower() + p.what[1:] for p in parts[1:])])
    return Change(what, outlay, house, fuel, parts, "+".join(p.key for p in parts), kind)


def go_together(changes: Sequence[Change]) -> bool:
    """Whether changes can be made together: each once, and no more of a fuel that it no longer runs on."""
    keys = [x.key for x in changes]
    return len(set(keys)) == len(keys) and not (
        any(x.kind is not None for x in changes) and any(key in MORE_FUELS for key in keys)
    )


def _merged(house: House, change: Change) -> House:
    """`house` with what the change changed, by its key."""
    new, wishes = change.house, house.wishes
    if change.key in ("night", "spells", "longer"):
        field = {"night": "run_at_night", "spells": "spells_per_day", "longer": "longest_spell_s"}[change.key]
        wishes = wishes.model_copy(update={field: getattr(new.wishes, field)})
        return replace(house, wishes=wishes)
    part = {
        "water": "water",
        "jugs": "cold",
        "drain": "heat",
        "battery": "battery",
        "machine": "generator",
        "fetch": "fuel",
    }
    name = part.get(change.key)
    return house if name is None else replace(house, **{name: getattr(new, name)})

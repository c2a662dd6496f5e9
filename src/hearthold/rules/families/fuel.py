"""Fuel: how much, how old, where it is kept, how it is poured."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.house.supply import FuelKind, FuelStock
from hearthold.physics.willans import Plausibility
from hearthold.reference import fuels
from hearthold.reference.reader import table
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Severity, Value, Values
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow
from hearthold.rules.words import fuel_words, spoken
from hearthold.sizing.burn import TABLE_FUEL, burn
from hearthold.sizing.fuel import StockItem, need_m3, stock, stock_days, stock_m3, tank_runs
from hearthold.sizing.gas import gas_pipe, vapour

_DAY_S = 86400.0
_LIQUID = (FuelKind.GASOLINE, FuelKind.DIESEL)
_INDOORS = {"house": "in the house", "basement": "in the basement"}
_NO_PLACE_FOR_GAS = _INDOORS | {"attached_garage": "in the attached garage"}


@rule("stock-short-of-outage")
def stock_short(case: Case, row: RuleRow) -> Iterator[Hit]:
    """All fuel that the machine burns lasts less than the planned outage: by the routine, else at the least running.

    By both where the routine does not keep every limit: it may be one that saves what is at home.
    """
    if case.generator is None or case.house.fuel is None:
        return
    known = [found for found in _lasting(case) if found is not None]
    if known and min(known, key=lambda x: x[1])[1] < case.planned_s:
        run_s, lasts_s, basis = min(known, key=lambda x: x[1])
        times: Values = {"run_s": run_s, "lasts_s": lasts_s, "planned_s": case.planned_s}
        yield Hit("fuel at home", {**times, "basis": basis})


@rule("preferred-fuel-not-at-home")
def preferred_absent(case: Case, row: RuleRow) -> Iterator[Hit]:
    """No stock of the fuel that plans are made for, unless it comes by a main."""
    set_, rated, fuel = case.generator, case.rating, case.house.fuel
    if set_ is None or rated is None or fuel is None or stock_m3(case.house, rated.fuel) > 0.0:
        return
    others = [r.fuel for r in set_.on if stock_m3(case.house, r.fuel) > 0.0]
    told = (
        f", while it has {fuel_words(others, case.house.system)}, on which the set runs too" if others else ""
    )
    yield Hit("fuel at home", {"machine": set_.name, "fuel": _words(case, rated.fuel), "others": told})


def _lasting(case: Case) -> Iterator[tuple[float, float, str] | None]:
    """How long the fuel lasts, each with what it rests on."""
    yield _by_routine(case)
    if case.played is None or not (case.played.keeps_all or case.is_automatic):
        yield _by_least_running(case)


def _by_routine(case: Case) -> tuple[float, float, str] | None:
    """The same as `_by_least_running`, where the routine is known."""
    if case.played is None:
        return None
    basis = "until the grid is back" if case.is_automatic else "as the routine has it"
    return case.played.run_day_s, case.played.fuel_s, basis


def _by_least_running(case: Case) -> tuple[float, float, str] | None:
    """Running a day, how long the fuel lasts, and what that rests on."""
    spell = _least_day(case)
    if spell is None or case.generator is None:
        return None
    lines = [burn(case.house, r.fuel) for r in case.generator.on]
    lasts_s = sum(stock_days(case.house, line, need_m3(line, [spell])) for line in lines) * _DAY_S
    return spell[1], lasts_s, "the least that carries what the loads that matter use"


@rule("heater-on-the-same-propane")
def heater_on_same_propane(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A heater that burns the propane which the plan counts for the machine."""
    set_, heat = case.generator, case.house.heat
    at_home_m3 = stock_m3(case.house, FuelKind.PROPANE)
    if set_ is None or heat is None or heat.heater_fuel != FuelKind.PROPANE or not at_home_m3:
        return
    if FuelKind.PROPANE not in {r.fuel for r in set_.on}:
        return
    air_c = case.conditions.outdoor_mean_c
    lost_w = heat.ua_w_per_k * (heat.set_c - air_c) - heat.gains_w
    heat_w = min(heat.heater_output_w, lost_w)
    if heat_w > 0.0:
        burned_j = heat_w * _DAY_S / row.number("efficiency_frac")
        day_m3 = burned_j / fuels.higher_heat_j_per_m3(TABLE_FUEL[FuelKind.PROPANE])
        house: Values = {"machine": set_.name, "set_c": heat.set_c, "air_c": air_c, "heat_w": heat_w}
        yield Hit(
            "stock of propane",
            {**house, "day_m3": day_m3, "amount_m3": at_home_m3, "lasts_s": at_home_m3 / day_m3 * _DAY_S},
        )


@rule("refuel-in-the-night")
def refuel_at_night(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A filling shorter than the quiet time, where the machine has to run through it."""
    source, need_w = case.supply, case.needed_average_w
    if source is None or not need_w or not _runs_at_night(case):
        return
    runs = tank_runs(case.house, burn(case.house), (min(1.0, need_w / source.rated_w),))
    if runs and runs[0].run_s < case.quiet_s:
        yield Hit(source.name, {"machine": source.name, "tank_s": runs[0].run_s, "quiet_s": case.quiet_s})


@rule("propane-too-cold")
def propane_cold(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Half-empty cylinders or a low tank that give less gas than half load burns."""
    set_ = case.generator
    if set_ is None or FuelKind.PROPANE not in {r.fuel for r in set_.on}:
        return
    air_c = case.conditions.outdoor_low_c
    gas = vapour(case.house, burn(case.house, FuelKind.PROPANE), air_c)
    if gas is None or gas.half_limit_w >= gas.asked_w:
        return
    spare = case.rating is not None and case.rating.fuel is not FuelKind.PROPANE
    enough = spare or (gas.spell_s is not None and gas.spell_s >= case.house.wishes.shortest_spell_s)
    values: Values = {
        "air_c": air_c,
        "held": gas.held_in,
        "gives_w": gas.half_limit_w,
        "needs_w": gas.asked_w,
    }
    words: Values = {
        "spell_words": _spell_words(case, gas.spell_s),
        "joined_words": _joined_words(gas.cylinders_for_half),
    }
    yield Hit(set_.name, {"machine": set_.name, **values, **words}, Severity.CONSIDER if enough else None)


@rule("gas-pipe-too-small")
def gas_pipe_small(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A gas pipe that carries less than the machine burns at its rating."""
    set_ = case.generator
    for rating in () if set_ is None else set_.on:
        pipe = gas_pipe(case.house, burn(case.house, rating.fuel))
        if set_ is not None and pipe is not None and pipe.carries_w < pipe.asked_w:
            next_size = f"{pipe.next_size} in" if pipe.next_size else "a size beyond this table"
            values: Values = {"size": f"{pipe.size} in", "run_m": pipe.run_m, "next_size": next_size}
            yield Hit(
                "gas pipe",
                {"machine": set_.name, **values, "carries_w": pipe.carries_w, "asked_w": pipe.asked_w},
            )


@rule("printed-run-implausible")
def printed_implausible(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A printed run time beyond what such an engine can do."""
    for rating in () if case.generator is None else case.generator.on:
        for run in burn(case.house, rating.fuel).printed:
            if run.verdict is Plausibility.BEYOND:
                values: Values = {"hours_s": run.run_s, "load_frac": run.load_frac, "words": run.words}
                yield Hit(f"run time printed for {_words(case, rating.fuel)}", values)


@rule("stock-too-old")
def too_old(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Liquid fuel that should have been used by now."""
    for lot, item in _dated_lots(case):
        if lot.bought is not None and item.stale and item.keeps_until is not None:
            dates: Values = {"bought": lot.bought.isoformat(), "until": item.keeps_until.isoformat()}
            late_s = case.days_since(item.keeps_until) * _DAY_S
            yield _about(case, lot, **dates, late_s=late_s, treatment=item.note)


@rule("stock-not-stabilised")
def not_stabilised(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Petrol without stabiliser."""
    for lot in _liquids(case):
        if lot.fuel is FuelKind.GASOLINE and not lot.stabilised:
            yield _about(case, lot)


@rule("stock-age-unknown")
def age_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Liquid fuel without a date."""
    for lot in _liquids(case):
        if lot.bought is None:
            yield _about(case, lot)


@rule("fuel-in-the-house")
def fuel_in_house(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Petrol or diesel in the house or basement."""
    for lot in _liquids(case):
        if lot.place in _INDOORS:
            yield _about(case, lot, place=_INDOORS[lot.place])


@rule("propane-indoors")
def propane_indoors(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Propane anywhere under the roof of the house."""
    for lot in _stocks(case):
        if lot.fuel is FuelKind.PROPANE and lot.place in _NO_PLACE_FOR_GAS:
            yield _about(case, lot, place=_NO_PLACE_FOR_GAS[lot.place])


@rule("fuel-in-attached-garage")
def fuel_in_garage(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Petrol or diesel in the attached garage."""
    for lot in _liquids(case):
        if lot.place == "attached_garage":
            yield _about(case, lot)


@rule("fuel-over-usual-limit", "petrol-over-free-limit")
def over_limit(case: Case, row: RuleRow) -> Iterator[Hit]:
    """More petrol in all than a dwelling usually may keep; a row may hold for one country alone."""
    petrol_m3 = _petrol_m3(case)
    if petrol_m3 > row.number("limit_m3") and row.limits.get("country") in (None, case.house.site.country):
        yield Hit(f"{_words(case, FuelKind.GASOLINE)} at home", {"amount_m3": petrol_m3})


@rule("petrol-limit-unknown")
def limit_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Petrol at home in a country whose limit no table holds."""
    petrol_m3, country = _petrol_m3(case), case.house.site.country
    if petrol_m3 > 0.0 and country not in table("fuel_storage_limits").names():
        yield Hit("petrol at home", {"amount_m3": petrol_m3, "country": country})


@rule("can-too-heavy")
def can_too_heavy(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A full container that is heavier than people here lift."""
    lift_kg = case.house.people.can_lift_kg
    for lot in _liquids(case):
        if lot.container_m3 is None or lot.place == "tank":
            continue
        can_kg = lot.container_m3 * fuels.density_kg_per_m3(TABLE_FUEL[lot.fuel])
        if can_kg > lift_kg:
            yield _about(case, lot, container_m3=lot.container_m3, can_kg=can_kg, lift_kg=lift_kg)


@rule("refuelling-too-hot")
def refuelling_hot(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A cooling pause shorter than advised, for a machine that is filled by hand."""
    cool_s = case.house.wishes.cool_down_s
    by_hand = case.rating is not None and case.rating.fuel in _LIQUID
    if by_hand and cool_s < row.number("wait_s"):
        yield Hit("wishes.cool_down", {"cool_s": cool_s})


@rule("one-fuel-only")
def one_fuel(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A machine rated on a single fuel."""
    set_ = case.generator
    if set_ is not None and len({r.fuel for r in set_.on}) == 1:
        yield Hit(set_.name, {"machine": set_.name, "fuel": _words(case, set_.on[0].fuel)})


@rule("station-needs-power")
def station(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A trip for more that counts on a station nobody asked."""
    fuel = case.house.fuel
    if (
        case.generator is None
        or fuel is None
        or fuel.trip.brings_m3 is None
        or fuel.trip.works_in_outage is True
    ):
        return
    state = "does not say" if fuel.trip.works_in_outage is None else "denies"
    yield Hit("fuel.trip", {"fuel": _words(case, fuel.preferred), "trip_s": fuel.trip.time_s, "state": state})


def _stocks(case: Case) -> tuple[FuelStock, ...]:
    return () if case.house.fuel is None else case.house.fuel.stock


def _liquids(case: Case) -> list[FuelStock]:
    """Petrol and diesel in cans or tanks; a stock without an amount is not there."""
    return [s for s in _stocks(case) if s.fuel in _LIQUID and s.amount_m3]


def _petrol_m3(case: Case) -> float:
    return sum(s.amount_m3 or 0.0 for s in _liquids(case) if s.fuel is FuelKind.GASOLINE)


def _dated_lots(case: Case) -> list[tuple[FuelStock, StockItem]]:
    """Each lot that is not a main, with how long it keeps."""
    lots = [lot for lot in _stocks(case) if not lot.mains]
    return list(zip(lots, stock(case.house, case.today, case.conditions), strict=True))


def _least_day(case: Case) -> tuple[float, float] | None:
    """Mean load and length of the least running in a day that carries what the needed loads use."""
    source, need_w = case.supply, case.needed_average_w
    if source is None or need_w == 0.0:
        return None
    wishes, day_j = case.house.wishes, need_w * _DAY_S
    run_s = min(_DAY_S, max(day_j / source.held_w, wishes.spells_per_day * wishes.shortest_spell_s))
    return min(day_j / run_s, source.running_w), run_s


def _runs_at_night(case: Case) -> bool:
    """True where the household allows it, or a medical load has nothing of its own for the night."""
    bare = any(need.own_battery_s <= 0.0 for need in case.house.medical)
    return case.house.wishes.run_at_night or (bare and case.house.battery is None)


def _spell_words(case: Case, spell_s: float | None) -> str:
    if spell_s is None:
        return ""
    return f"From full, one spell at half load lasts about {spoken('spell_s', spell_s, case.house.system)}."


def _joined_words(needed: int | None) -> str:
    return "" if needed is None else f" ({needed} for half load without end)"


def _words(case: Case, fuel: FuelKind) -> str:
    return fuel_words([fuel], case.house.system)


def _about(case: Case, lot: FuelStock, **more: Value) -> Hit:
    amount: Values = {} if lot.amount_m3 is None else {"amount_m3": lot.amount_m3}
    return Hit(f"stock of {_words(case, lot.fuel)}", {"fuel": _words(case, lot.fuel), **amount, **more})

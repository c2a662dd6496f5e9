"""What the machine burns at a load: the line to plan on, and how far printed run times can be believed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.house.supply import FuelKind
from hearthold.physics import willans
from hearthold.physics.willans import Plausibility, WillansLine
from hearthold.quantities.source import Source
from hearthold.reference import fuels
from hearthold.reference.generator import efficiency_bounds
from hearthold.sizing.supply import machine_of, preferred_fuel, rating_on

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import FuelRating, Generator
    from hearthold.reference.fuels import FuelLine

TABLE_FUEL = {
    FuelKind.GASOLINE: "gasoline_e10",  # what pumps sell; E0 has 3 % more
    FuelKind.PROPANE: "propane",
    FuelKind.NATURAL_GAS: "natural_gas",
    FuelKind.DIESEL: "diesel",
}
# A fitted no-load share may lie this far under the usual one of the kind, as the table's range does.
LEAST_NO_LOAD_RATIO = 0.75


@dataclass(frozen=True, slots=True)
class PrintedRun:
    """One run time as the maker prints it, and what it implies."""

    load_frac: float
    output_w: float
    run_s: float
    use_m3_per_s: float
    efficiency_frac: float
    verdict: Plausibility
    words: str


@dataclass(frozen=True, slots=True)
class Burn:
    """Fuel use on one fuel: volumes are of liquid, and of gas where the fuel is natural gas."""

    fuel: FuelKind
    rated_w: float
    lhv_j_per_m3: float
    density_kg_per_m3: float | None
    line: WillansLine  # to plan on: never less than printed, never better than plausible
    printed_line: WillansLine | None  # as the maker's figures have it
    printed: tuple[PrintedRun, ...]
    notes: tuple[str, ...]
    sources: tuple[Source, ...]

    def m3_per_s(self, output_w: float) -> float:
        """Fuel burned at a load, to plan on."""
        return float(willans.fuel_m3_per_s(self.line, output_w, self.lhv_j_per_m3))

    def efficiency_frac(self, output_w: float) -> float:
        """Electrical output over lower heating value at a load, to plan on."""
        return float(willans.line_efficiency_frac(self.line, output_w))

    def run_s(self, output_w: float, fuel_m3: float) -> float:
        """Time an amount of fuel lasts at a steady load."""
        return willans.run_s(self.line, output_w, fuel_m3, self.lhv_j_per_m3)


def burn(house: House, fuel: FuelKind | None = None) -> Burn:
    """Fuel use of the house's machine on a fuel (the preferred one if none is named).

    Two or more printed loads give a line of their own; one gives a line with the usual no-load share of its
    kind; none gives the usual line. The planning line then never burns less than that, and is never more
    efficient than the plausible bounds. Raises InputError where there is no machine or it has no such fuel.

    Source: Willans line; typical lines and bounds from the reference tables (from memory).
    """
    machine, kind = machine_of(house), fuel or preferred_fuel(house)
    rating, _ = rating_on(machine, kind)
    if rating.fuel != kind:
        rating = rating.model_copy(update={"tank_m3": None, "cylinder_kg": None, "printed": ()})
    typical = _typical_line(machine, kind, rating.running_w)
    name = TABLE_FUEL[kind]
    lhv = fuels.lower_heat_j_per_m3(name)
    printed = _printed(machine, rating, typical, lhv)
    line = _line(printed, rating, typical, lhv)
    half, full = _highest(machine, kind)
    least = LEAST_NO_LOAD_RATIO * typical.no_load_frac
    return Burn(
        kind,
        rating.running_w,
        lhv,
        fuels.fuel(name).density_kg_per_m3,
        willans.planning_line(line, rating.running_w, half, full, least),
        line if printed else None,
        printed,
        _notes(rating, printed, typical),
        (fuels.heat_source(name), typical.source),
    )


def container_m3(rating: FuelRating) -> float | None:
    """Fuel in the machine's own tank, or in one propane cylinder, as liquid; None where neither is given."""
    if rating.tank_m3 is not None:
        return float(rating.tank_m3)
    if rating.cylinder_kg is not None:
        return float(rating.cylinder_kg) / fuels.density_kg_per_m3("propane")
    return None


def _printed(machine: Generator, rating: FuelRating, typical: FuelLine, lhv: float) -> tuple[PrintedRun, ...]:
    held_m3 = container_m3(rating)
    if held_m3 is None:
        return ()
    return tuple(
        _judged(machine, rating, typical, lhv, held_m3, run.load, run.hours_s)
        for run in sorted(rating.printed, key=lambda r: r.load)
    )


def _judged(
    machine: Generator,
    rating: FuelRating,
    typical: FuelLine,
    lhv: float,
    held_m3: float,
    load_frac: float,
    run_s: float,
) -> PrintedRun:
    if run_s <= 0.0 or load_frac <= 0.0:
        raise InputError(
            f"a printed run of {run_s:g} s at {load_frac:g} of rated load says nothing; give both above 0.",
            code="bad_printed_run",
        )
    output_w = rating.running_w * load_frac
    said = willans.claim(held_m3, run_s, output_w, lhv)
    poor, edge, beyond = _bounds(machine, rating.fuel, typical, load_frac)
    verdict = willans.judge(said.efficiency_frac, min(poor, edge), edge, beyond)
    return PrintedRun(
        load_frac,
        output_w,
        run_s,
        said.use_m3_per_s,
        said.efficiency_frac,
        verdict,
        _words(said.efficiency_frac, load_frac, verdict, beyond),
    )


def _bounds(
    machine: Generator, fuel: FuelKind, typical: FuelLine, load_frac: float
) -> tuple[float, float, float]:
    """Poor below, at the edge from, beyond above: for this kind of machine at this share of load."""
    if fuel == FuelKind.DIESEL:
        full = efficiency_bounds("full_load_diesel")
        return _scaled(full.low_frac, typical, load_frac), full.high_frac, full.high_frac
    spark, full = efficiency_bounds("any_load_spark"), efficiency_bounds("full_load_spark")
    carburetted = efficiency_bounds("half_load_carburetted")
    edge = carburetted.high_frac if load_frac <= 0.6 and machine.kind != "inverter" else full.high_frac
    return _scaled(full.low_frac, typical, load_frac), edge, spark.high_frac


def _scaled(full_load_frac: float, typical: FuelLine, load_frac: float) -> float:
    """A full-load efficiency carried down to part load along the usual line of the kind."""
    share = typical.no_load_frac + (1.0 - typical.no_load_frac) * load_frac
    return full_load_frac * load_frac / share


def _highest(machine: Generator, fuel: FuelKind) -> tuple[float, float]:
    """Best efficiency at half and at full load that a plan may count on."""
    if fuel == FuelKind.DIESEL:
        best = efficiency_bounds("full_load_diesel").high_frac
        return best, best
    half = "half_load_any_spark" if machine.kind == "inverter" else "half_load_carburetted"
    return efficiency_bounds(half).high_frac, efficiency_bounds("full_load_spark").high_frac


def _line(printed: tuple[PrintedRun, ...], rating: FuelRating, typical: FuelLine, lhv: float) -> WillansLine:
    fuel_w = [p.use_m3_per_s * lhv for p in printed]
    loads_w = [p.output_w for p in printed]
    if len(set(loads_w)) >= 2:
        return willans.line_from_points(loads_w, fuel_w)
    if printed:
        return willans.line_from_point(loads_w[0], fuel_w[0], rating.running_w, typical.no_load_frac)
    return willans.line_from_efficiency(rating.running_w, typical.full_load_frac, typical.no_load_frac)


def _typical_line(machine: Generator, fuel: FuelKind, rated_w: float) -> FuelLine:
    """The table's line for this kind of machine nearest in size."""
    prefix = "portable_"
    if fuel == FuelKind.DIESEL:
        prefix = "diesel_"
    elif machine.kind in ("inverter", "standby"):
        prefix = f"{machine.kind}_"
    lines = [fuels.fuel_line(name) for name in fuels.fuel_lines() if name.startswith(prefix)]
    return min(lines, key=lambda x: abs(x.rated_w - rated_w))


def _words(efficiency_frac: float, load_frac: float, verdict: Plausibility, beyond: float) -> str:
    said = f"printed run time: {efficiency_frac:.0%} of the fuel becomes electricity at {load_frac:.0%} load"
    tail = {
        Plausibility.BEYOND: f"more than such a machine can ({beyond:.0%}); do not plan on it",
        Plausibility.EDGE: "as much as such a machine can at its best; a plan should count on less",
        Plausibility.TYPICAL: "usual for such a machine",
        Plausibility.POOR: "poor for such a machine; is the load or the tank misread?",
    }
    return f"{said}, {tail[verdict]}"


def _notes(rating: FuelRating, printed: tuple[PrintedRun, ...], typical: FuelLine) -> tuple[str, ...]:
    if rating.printed and not printed:
        return ("printed run times left aside: neither tank nor cylinder is given",)
    if not printed:
        return ("no run time given; what it burns is taken from sets of its kind and size (from memory)",)
    if len({p.output_w for p in printed}) == 1:
        return (
            "run time printed at one load only; the burn without load is that of sets of its kind (from memory)",
        )
    return ()

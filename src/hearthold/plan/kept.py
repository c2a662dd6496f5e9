"""How far every limit is kept in a replay: lowest and highest of each store, time beyond its limit, and when
first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, isfinite

from hearthold.engine.outcomes import Outcomes
from hearthold.engine.trace import Trace
from hearthold.house.house import House
from hearthold.plan.objective import KEPT_K, KEPT_M3, KEPT_S, VITAL_KEPT_S


@dataclass(frozen=True, slots=True)
class StoreKept:
    """One store against its limit. Values are degC or m3, as `unit` says; nan where a store has no such
    value.
    """

    store: str
    name: str
    kind: str  # "food" | "house" | "pipes" | "pit" | "water" | "vital" | "hot_water" | "battery"
    unit: str  # "degC" | "m3" | "s" | "J"
    low: float
    high: float
    limit: float
    beyond_s: float  # time beyond the limit; for pit and water 0 where nothing was missed
    first_s: float  # when it was first left, since the grid failed; inf if never
    missed: float  # m3 that ran over, or did not come beyond what stands in jugs; s unpowered of a vital load; else 0
    hard: bool  # a limit that is never traded for comfort; pipes that freeze with the heating on as well are none
    kept: bool

    @property
    def margin(self) -> float:
        """Distance of the worst value from the limit, in the unit; negative beyond it."""
        return self.limit - self.high if self.kind in ("food", "pit") else self.low - self.limit


def stores_kept(house: House, trace: Trace) -> tuple[StoreKept, ...]:
    """Every store of the house in one replay, the first to fail first."""
    found = [*_food(house, trace), *_warmth(house, trace), *_pits(house, trace), *_water(house, trace)]
    found += [*_people(house, trace.outcomes), *_comforts(house, trace)]
    return tuple(sorted(found, key=lambda x: (x.kept or not x.hard, x.first_s, x.store)))


def first_broken(stores: tuple[StoreKept, ...], but: str = "") -> StoreKept | None:
    """The hard limit that breaks first, if any does, stores of the kind `but` aside."""
    broken = [s for s in stores if s.hard and not s.kept and s.kind != but]
    return min(broken, key=lambda s: s.first_s) if broken else None


def _food(house: House, trace: Trace) -> Iterator[StoreKept]:
    out = trace.outcomes
    for k, store in enumerate(house.cold):
        over_s = float(out.cold_over_s[0, k])
        yield StoreKept(
            store.id, store.name, "food", "degC", float(trace.cold_c[:, k].min()), float(out.cold_max_c[0,
            k]), store.limit_c, over_s, float(out.cold_first_s[0, k]), 0.0, True, over_s <= KEPT_S,
        )  # fmt: skip


def _warmth(house: House, trace: Trace) -> Iterator[StoreKept]:
    out, heat = trace.outcomes, house.heat
    if heat is None:
        return
    low = float(out.air_min_c[0])
    yield StoreKept(
        "house", "house", "house", "degC", low, float(trace.air_c.max()), heat.lowest_c,
        float(out.air_below_s[0]), float(out.air_first_s[0]), 0.0, True, low >= heat.lowest_c - KEPT_K,
    )  # fmt: skip
    if not heat.pipes_drained:
        below_s = float(out.pipe_below_s[0])
        hard = not house.pipe_freezes_heated(
            float(trace.outdoor_c.min())
        )  # else it is no matter of the running
        yield StoreKept(
            "pipes", "coldest pipe", "pipes", "degC", float(out.pipe_min_c[0]), float(trace.pipe_c.max()),
            0.0, below_s, float(out.pipe_first_s[0]), 0.0, hard, below_s <= KEPT_S,
        )  # fmt: skip


def _pits(house: House, trace: Trace) -> Iterator[StoreKept]:
    for i, pit in enumerate(house.pits):
        over, first = float(trace.outcomes.pit_over_m3[0, i]), float(trace.outcomes.pit_first_s[0, i])
        level = trace.pit_m3[:, i]
        yield StoreKept(
            pit.id, pit.name, "pit", "m3", float(level.min()), float(level.max()), pit.cycle_m3 +
            pit.headroom_m3, 0.0, first, over, True, over <= KEPT_M3,
        )  # fmt: skip


def _water(house: House, trace: Trace) -> Iterator[StoreKept]:
    if house.water is None:
        return
    out, level = trace.outcomes, trace.water_m3
    missed = float(out.unmet_water_m3[0])
    kept = missed <= KEPT_M3
    yield StoreKept(
        "water", "running water", "water", "m3", float(level.min()), float(level.max()), 0.0, 0.0,
        inf if kept else min(float(out.tap_first_s[0]), trace.length_s), 0.0 if kept else missed, True, kept,
    )  # fmt: skip


def _people(house: House, out: Outcomes) -> Iterator[StoreKept]:
    for i, load in enumerate(out.house.medical_ids):
        short_s = float(out.medical_unpowered_s[0, i])
        yield StoreKept(
            load, house.load_by_id[load].name, "vital", "s", float("nan"), float("nan"), 0.0, short_s,
            float(out.medical_first_s[0, i]), short_s, True, short_s <= VITAL_KEPT_S,
        )  # fmt: skip


def _comforts(house: House, trace: Trace) -> Iterator[StoreKept]:
    out = trace.outcomes
    if house.hot_water is not None:
        low_s = float(out.tank_below_s[0])
        yield StoreKept(
            "hot_water", "hot water", "hot_water", "degC", float(out.tank_min_c[0]),
            float(trace.tank_c.max()), house.hot_water.lowest_c, low_s, float(out.tank_first_s[0]),
            float(out.unmet_hot_m3[0]), False, low_s <= KEPT_S,
        )  # fmt: skip
    if house.battery is not None:
        level = trace.battery_j
        yield StoreKept(
            "battery", "house battery", "battery", "J", float(level.min()), float(level.max()), 0.0,
            float(out.battery_empty_s[0]), float(out.battery_first_s[0]), 0.0, False,
            not isfinite(out.battery_first_s[0]),
        )  # fmt: skip

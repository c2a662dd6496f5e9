"""Fridges and freezers as both hold models need them, from kind, size, energy label and table."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache, lru_cache

from hearthold.house.loads import Assumption, Load
from hearthold.house.place import placed
from hearthold.house.stores import ColdEntry, ColdStore
from hearthold.house.supply import Prices
from hearthold.physics import cold
from hearthold.physics.food import EnthalpyCurve, enthalpy_segments
from hearthold.quantities.source import Source, Standing
from hearthold.reference.costs import cost
from hearthold.reference.reader import table
from hearthold.reference.shape import Row

_FREEZERS = ("chest_freezer", "upright_freezer")
_MEMORY = Source("common practice, no source", Standing.MEMORY)
_JUDGED = Source("judgement, no source", Standing.ASSUMED)
_LABEL = Source("energy by the 90 degF label test (10 CFR 430 subpart B), COP 1.35", Standing.COMPUTED)


@dataclass(frozen=True, slots=True)
class _Box:
    """Figures of one cabinet before the planning calibration."""

    volume_m3: float
    full_kg: float
    ua_w_per_k: float
    cabinet_j_per_k: float
    cooling_w: float


def fill_cold(
    entries: tuple[ColdEntry, ...],
    loads: dict[str, Load],
    prices: Prices,
    readings_c: dict[str, float],
    energy_given: frozenset[str] = frozenset(),
) -> tuple[tuple[ColdStore, ...], tuple[Assumption, ...]]:
    """Every cold store with every figure, and what had to be assumed; a reading replaces the start.

    `energy_given` holds the ids of loads whose energy the household states.
    """
    stores, assumed = [], []
    for i, entry in enumerate(entries):
        maker = _freezer if entry.kind in _FREEZERS else _fridge
        known = entry.label_w is not None or entry.load in energy_given
        with placed("cold", i):
            store, notes = maker(entry, loads[entry.load], readings_c.get(entry.id, entry.reading_c), known)
            low, middle, high = (
                prices.of_usd(usd) for usd in _worth_usd(store.is_freezer, store.contents_kg)
            )
        notes += _habit_notes(entry, store)
        if entry.contents_value is None:
            store = replace(store, contents_value=middle)
            source = cost("freezer_contents_lb" if store.is_freezer else "fridge_contents").source
            notes.append(_assumption(entry, "contents_value", middle, prices.currency, low, high, source))
        stores.append(store)
        assumed.extend(notes)
    return tuple(stores), tuple(assumed)


@cache
def mixed_load_curve() -> EnthalpyCurve:
    """Temperature on enthalpy of a mixed freezer load, in straight segments."""
    row = table("foods").row("mixed_freezer_load")
    return enthalpy_segments(row.number("water_frac"), row.number("protein_frac"), row.number("freezing_c"))


def _freezer(
    entry: ColdEntry, load: Load, reading_c: float | None, label_known: bool
) -> tuple[ColdStore, list[Assumption]]:
    box, assumed = _cabinet(entry, load, _set_row(entry), label_known)
    shell_frac, coupling = _calibrated(box.ua_w_per_k, box.full_kg, box.cabinet_j_per_k)
    return _store(entry, load, box, shell_frac, coupling, 0.0, reading_c), assumed


@lru_cache(maxsize=256)
def _calibrated(ua_w_per_k: float, full_kg: float, cabinet_j_per_k: float) -> tuple[float, float]:
    """Exposed share and coupling (W/K per kg) of the planning model; kept, since a search finds it."""
    full = cold.cold_box(ua_w_per_k, full_kg, cabinet_j_per_k, mixed_load_curve())
    planning = cold.planning_box(full)
    return planning.shell_frac, planning.coupling_w_per_k_kg


def _fridge(
    entry: ColdEntry, load: Load, reading_c: float | None, label_known: bool
) -> tuple[ColdStore, list[Assumption]]:
    row = table("cold_appliances").row("fresh_food_18_ft3")
    box, assumed = _cabinet(entry, load, row, label_known)
    full_j_per_k = cold.fridge_planning_j_per_k(box.ua_w_per_k)
    fresh = box.cabinet_j_per_k + max(0.0, full_j_per_k - box.cabinet_j_per_k) * entry.fill
    return _store(entry, load, box, 1.0, 0.0, fresh, reading_c), assumed


def _store(
    entry: ColdEntry,
    load: Load,
    box: _Box,
    shell_frac: float,
    coupling: float,
    fresh_j_per_k: float,
    reading_c: float | None,
) -> ColdStore:
    freezer = entry.kind in _FREEZERS
    usual_c = cold.FREEZER_START_C if freezer else cold.FRIDGE_START_C
    set_c = entry.set_c if entry.set_c is not None else usual_c
    contents_kg = box.full_kg * entry.fill
    return ColdStore(
        id=entry.id, name=entry.name or load.name, kind=entry.kind, load=entry.load, is_freezer=freezer,
        volume_m3=box.volume_m3, fill_frac=entry.fill, contents_kg=contents_kg, ua_w_per_k=box.ua_w_per_k,
        cabinet_j_per_k=box.cabinet_j_per_k, shell_frac=shell_frac, coupling_w_per_k_kg=coupling,
        cooling_w=box.cooling_w, set_c=set_c, start_c=reading_c if reading_c is not None else set_c,
        limit_c=cold.DANGER_C, room=entry.room, contents_value=entry.contents_value or 0.0, fresh_j_per_k=fresh_j_per_k,
    )  # fmt: skip


def _worth_usd(freezer: bool, contents_kg: float) -> tuple[float, float, float]:
    """Low, middle and high price of what is inside, US dollars."""
    if not freezer:
        row = cost("fridge_contents")
        return row.low_usd, row.typical_usd, row.high_usd
    row = cost("freezer_contents_lb")
    per_kg = (row.low_usd_per_si, row.typical_usd_per_si, row.high_usd_per_si)
    low, middle, high = (contents_kg * usd for usd in per_kg)
    return low, middle, high


def _habit_notes(entry: ColdEntry, store: ColdStore) -> list[Assumption]:
    """What the household did not say about the filling and the setting."""
    notes: list[Assumption] = []
    if "fill" not in entry.model_fields_set:
        usual = _usual("cold_fill")
        low, high = usual.number("low_frac"), usual.number("high_frac")
        notes.append(_assumption(entry, "fill", entry.fill, "of 1", low, high, _JUDGED))
    if entry.set_c is None:
        usual = _usual("cold_set")
        low, high = (store.set_c + usual.number(key) for key in ("low_c", "high_c"))
        notes.append(_assumption(entry, "set", store.set_c, "C", low, high, _MEMORY))
    return notes


def _cabinet(entry: ColdEntry, load: Load, row: Row, label_known: bool) -> tuple[_Box, list[Assumption]]:
    """Volume, walls and cooling of the cabinet, with the assumptions that went in."""
    assumed: list[Assumption] = []
    volume_m3 = entry.volume_m3
    if volume_m3 is None:
        volume_m3 = _kind(entry).si("volume_ft3")
        low, high = _spread("cold_volume", volume_m3)
        assumed.append(_assumption(entry, "volume_m3", volume_m3, "m3", low, high, _MEMORY))
    ua = _label_ua(entry, entry.label_w if entry.label_w is not None else load.energy_day_j / 86400.0)
    ua *= 1.0 if label_known else _age_ratio(entry.built)
    spread, source = ("cold_walls_of_label", _LABEL) if label_known else ("cold_walls_of_kind", _MEMORY)
    assumed.append(_assumption(entry, "ua_w_per_k", ua, "W/K", *_spread(spread, ua), source))
    density = table("freezer_fill").row("mixed_packages").si("density_lb_per_ft3")
    cooling_w = _cooling_ratio() * _fresh_share(entry) * load.running_w
    low, high = _spread("cold_cooling", cooling_w)
    assumed.append(_assumption(entry, "cooling_w", cooling_w, "W", low, high, row.source("cooling_w")))
    cabinet = row.si("cabinet_kj_per_k") * volume_m3 / row.si("volume_ft3")
    return _Box(volume_m3, density * volume_m3, ua, cabinet, cooling_w), assumed


def _label_ua(entry: ColdEntry, label_w: float) -> float:
    """Conductance of the walls from the mean power of the label (or of the load's day)."""
    kind = _kind(entry)
    aux_w = min(kind.si("aux_w"), _usual("cold_fans").number("high_frac") * label_w)
    heat_w = cold.label_heat_w(label_w, kind.si("usage_frac"), aux_w)
    if entry.kind in _FREEZERS:
        return cold.label_ua_w_per_k(heat_w, cold.FREEZER_START_C)
    return cold.label_ua_w_per_k(heat_w * _fresh_share(entry), cold.FRIDGE_START_C)


def _kind(entry: ColdEntry) -> Row:
    return table("cold_kinds").row(entry.kind)


def _age_ratio(built_year: int | None) -> float:
    """How much more heat a cabinet of this year lets in than a later one."""
    older = (r for r in table("cold_ages") if built_year is not None and built_year < r.number("before_year"))
    return next((r.number("typical_ratio") for r in older), 1.0)


def _fresh_share(entry: ColdEntry) -> float:
    """Share of the heat (and of the cooling) that belongs to the fresh-food space."""
    if entry.kind != "fridge_freezer":
        return 1.0
    sets = table("cold_appliances")
    fresh = sets.row("fresh_food_18_ft3").si("ua_w_per_k") * (cold.LABEL_ROOM_C - cold.FRIDGE_START_C)
    frozen = sets.row("top_mount_freezer_4_5_ft3").si("ua_w_per_k") * (
        cold.LABEL_ROOM_C - cold.FREEZER_START_C
    )
    return fresh / (fresh + frozen)


def _cooling_ratio() -> float:
    """Heat removed over electricity drawn while a compressor runs, from the table's chest freezer."""
    row = table("cold_appliances").row("chest_15_ft3")
    return row.si("cooling_w") / row.si("running_w")


def _set_row(entry: ColdEntry) -> Row:
    sets = table("cold_appliances")
    if entry.kind == "upright_freezer":
        return sets.row("upright_17_ft3")
    small = entry.volume_m3 is not None and entry.volume_m3 < _usual("cold_large_chest").si("low_ft3")
    return sets.row("chest_7_ft3" if small else "chest_15_ft3")


def _usual(name: str) -> Row:
    return table("house_defaults").row(name)


def _spread(name: str, value: float) -> tuple[float, float]:
    """The range about a value, by a row of ratios."""
    row = _usual(name)
    return row.number("low_ratio") * value, row.number("high_ratio") * value


def _assumption(
    entry: ColdEntry, figure: str, value: float, unit: str, low: float, high: float, source: Source
) -> Assumption:
    return Assumption(f"cold {entry.id}: {figure}", value, unit, low, high, source)

"""House warmth, water, hot water and pits with every figure filled in, each assumption listed."""

from __future__ import annotations

from math import inf

from hearthold.errors import InputError
from hearthold.house.document import HouseDocument
from hearthold.house.fields import DAY_S
from hearthold.house.loads import Assumption, Load
from hearthold.house.site import Climate
from hearthold.house.stores import (
    HeatEntry,
    HotWater,
    HotWaterEntry,
    HouseHeat,
    Pit,
    PitEntry,
    WaterEntry,
    WaterFill,
    WaterSystem,
)
from hearthold.physics import heat as heat_physics
from hearthold.physics import pressuretank, pump
from hearthold.physics.heating import AIR_J_PER_M3_K
from hearthold.physics.pipes import freezing_share_frac
from hearthold.physics.tankheater import hot_share_frac
from hearthold.quantities.source import Source, Standing
from hearthold.reference.reader import table
from hearthold.reference.shape import Row
from hearthold.reference.water import tap_m3_per_s

Notes = list[Assumption]

_DEFAULT_CLASS = "partly_insulated"
_PRACTICE = Source("common practice, no source", Standing.PRACTICE)
_JUDGED = Source("judgement, no source", Standing.ASSUMED)


def fill_heat(
    document: HouseDocument, climate: Climate, reading_c: float | None = None
) -> tuple[HouseHeat | None, Notes]:
    """The house as two nodes with its heaters; None where the file has no [heat]. `climate` with its normals."""
    entry = document.heat
    if entry is None:
        return None, []
    row = table("house_classes").row(entry.house_class or _DEFAULT_CLASS)
    notes: Notes = []
    ua = _ua(entry, notes)
    capacity = _capacity(entry, row, notes)
    air_m3 = _usual("room_height").si("typical_m") * entry.floor_area_m2
    leak = row.si("air_changes_per_h") * air_m3 * AIR_J_PER_M3_K
    share = min(0.8, leak / ua + _usual("window_loss").si("typical_frac"))
    nodes = heat_physics.house_nodes(ua, entry.floor_area_m2, capacity, share)
    gains_w = entry.gains_w
    if gains_w is None:
        gains_w = _gains(document, notes)
    heater, stove = entry.heater, entry.stove
    return HouseHeat(
        floor_area_m2=entry.floor_area_m2, ua_w_per_k=ua, air_j_per_k=nodes.air_j_per_k,
        mass_j_per_k=nodes.mass_j_per_k, air_mass_w_per_k=nodes.air_mass_w_per_k,
        air_outdoor_w_per_k=nodes.air_ua_w_per_k, mass_outdoor_w_per_k=nodes.mass_ua_w_per_k,
        gains_w=gains_w, set_c=entry.set_c, lowest_c=entry.lowest_c,
        comfort_c=document.wishes.indoor_comfort_c,
        pipe_ratio=_pipe_ratio(entry, climate, notes), pipes_drained=entry.pipes_drained,
        heater_load=heater.load if heater else None, heater_output_w=heater.output_w if heater else 0.0,
        heater_fuel=heater.fuel if heater else None, stove_output_w=stove.output_w if stove else 0.0,
        stove_hours_per_day=stove.hours_per_day if stove else 0.0,
        stove_blower_load=stove.blower_load if stove else None,
        stove_without_blower_frac=stove.without_blower if stove and stove.blower_load else 1.0,
        stove_wood_s=stove.wood_days * DAY_S if stove and stove.wood_days is not None else None,
        start_c=reading_c,
    ), notes  # fmt: skip


def _capacity(entry: HeatEntry, row: Row, notes: Notes) -> float:
    """Heat capacity by floor area, J/(m2 K): as given, else the class's."""
    if entry.capacity_j_per_k is not None:
        return entry.capacity_j_per_k / entry.floor_area_m2
    capacity = row.si("capacity_kj_per_m2_k")
    total = capacity * entry.floor_area_m2 / 1e6
    notes.append(Assumption("heat: capacity", total, "MJ/K", 0.6 * total, 1.6 * total, row.source()))
    return capacity


def _ua(entry: HeatEntry, notes: Notes) -> float:
    """Heat loss per kelvin: as given, else the class's, in proportion to the floor."""
    if entry.ua_w_per_k is not None:
        return entry.ua_w_per_k
    row = table("house_classes").row(entry.house_class or _DEFAULT_CLASS)
    scale = entry.floor_area_m2 / row.si("floor_ft2")
    ua, low, high = (row.si(f"{c}_btu_per_h_f") * scale for c in ("loss", "low", "high"))
    notes.append(Assumption("heat: ua_w_per_k", ua, "W/K", low, high, row.source()))
    return ua


def _pipe_ratio(entry: HeatEntry, climate: Climate, notes: Notes) -> float:
    """How far the coldest pipe lies from outdoors towards indoors.

    Where it is not given, a place is taken in which it would not freeze at the coldest hour with the house at the
    lowest thermostat setting that is advised: a house that has stood some winters has no colder one.
    """
    if entry.pipe_ratio is not None:
        return entry.pipe_ratio
    row = _usual("pipe_ratio")
    low, usual, high = (row.si(f"{end}_frac") for end in ("low", "typical", "high"))
    advised_c = table("pipe_rules").row("lowest_thermostat").si("temperature_f")
    coldest_c = climate.coldest_hour_c
    usual = min(high, max(usual, freezing_share_frac(coldest_c, advised_c)))
    low = min(usual, max(low, freezing_share_frac(coldest_c, entry.set_c)))
    if not entry.pipes_drained:
        notes.append(Assumption("heat: pipe_ratio", usual, "of 1", low, high, row.source()))
    return usual


def _gains(document: HouseDocument, notes: Notes) -> float:
    gains = table("indoor_gains")
    people_w = document.people.count * gains.row("person_sensible").si("low_w")
    house = gains.row("house_in_outage")
    low_w, high_w = house.si("low_w"), house.si("high_w")
    value = min(max(people_w, low_w), high_w)
    notes.append(Assumption("heat: gains", value, "W", low_w, high_w, house.source()))
    return value


def fill_water(document: HouseDocument, loads: dict[str, Load]) -> tuple[WaterSystem | None, Notes]:
    """The well, its pump and pressure tank; None where the file has no [water]."""
    entry = document.water
    if entry is None:
        return None, []
    notes: Notes = []
    tank_m3 = entry.tank_m3
    if tank_m3 is None:
        row = _usual("pressure_tank")
        tank_m3, low, high = (row.si(f"{end}_gal") for end in ("typical", "low", "high"))
        notes.append(Assumption("water: tank", tank_m3 * 1e3, "L", low * 1e3, high * 1e3, row.source()))
    precharge_pa = entry.precharge_pa
    if precharge_pa is None:
        precharge_pa = pressuretank.usual_precharge_pa(entry.cut_in_pa)
        kpa = precharge_pa / 1e3
        notes.append(Assumption("water: precharge", kpa, "kPa", 0.5 * kpa, entry.cut_in_pa / 1e3, _PRACTICE))
    flow, use = _pump_flow(entry, loads[entry.pump_load], notes), _use(document, entry, notes)
    return WaterSystem(
        pump_load=entry.pump_load,
        pump_m3_per_s=flow,
        drawdown_m3=pressuretank.drawdown_m3(tank_m3, entry.cut_in_pa, entry.cut_out_pa, precharge_pa),
        below_cut_in_m3=pressuretank.water_above_m3(tank_m3, precharge_pa, entry.cut_in_pa),
        use_day_m3=use,
        stored_m3=entry.stored_m3,
        fills=_fills(document, entry, flow, use),
    ), notes


def _fills(
    document: HouseDocument, entry: WaterEntry, pump_m3_per_s: float, use_day_m3: float
) -> tuple[WaterFill, ...]:
    """What is filled each day. Raises InputError for two of one name, or more than the day's water."""
    names = [fill.name for fill in entry.fill]
    if len(set(names)) < len(names):
        raise InputError(f"two fillings have one name: {', '.join(names)}. Give each its own.")
    total_m3 = sum(fill.amount_m3 for fill in entry.fill)
    if total_m3 > use_day_m3 * (1.0 + 1e-9):
        raise InputError(
            f"the fillings take {total_m3 * 1e3:.4g} L a day, more than the {use_day_m3 * 1e3:.4g} L of people and "
            "livestock. Raise livestock_day or per_person_day, or fill less."
        )
    hose_m3_per_s = min(tap_m3_per_s("hose_half_inch"), pump_m3_per_s)
    return tuple(
        WaterFill(
            fill.name,
            fill.amount_m3,
            fill.flow_m3_per_s or hose_m3_per_s,
            document.people.awake_from_s if fill.from_s is None else fill.from_s,
        )
        for fill in entry.fill
    )


def _pump_flow(entry: WaterEntry, load: Load, notes: Notes) -> float:
    """Pump flow as given, else what its watts lift against depth and pressure at a usual efficiency."""
    if entry.flow_m3_per_s is not None:
        return entry.flow_m3_per_s
    row = table("pump_efficiency").row("submersible")
    low, high = row.number("low_frac"), row.number("high_frac")
    lift_m = entry.lift_m
    if lift_m is None:
        usual = _usual("well_lift")
        lift_m, shallow, deep = (usual.si(f"{end}_m") for end in ("typical", "low", "high"))
        notes.append(Assumption("water: lift", lift_m, "m", shallow, deep, usual.source()))
    head_m = pump.total_dynamic_head_m(lift_m, entry.cut_out_pa)
    per_frac = load.running_w / pump.hydraulic_power_w(1e-3, head_m) * 1e-3
    flow = 0.5 * (low + high) * per_frac
    notes.append(
        Assumption(
            "water: flow", flow * 6e4, "L/min", low * per_frac * 6e4, high * per_frac * 6e4, row.source()
        )
    )
    return flow


def _use(document: HouseDocument, entry: WaterEntry, notes: Notes) -> float:
    each_m3 = entry.per_person_day_m3
    if each_m3 is None:
        row = table("water_use").row("outage_modest")
        low, high = (row.si(f"{c}_gal_per_day") * 86400.0 for c in ("low", "high"))
        each_m3 = 0.5 * (low + high)
        notes.append(
            Assumption("water: per_person_day", each_m3 * 1e3, "L", low * 1e3, high * 1e3, row.source())
        )
    return each_m3 * document.people.count + entry.livestock_day_m3


def fill_hot_water(
    document: HouseDocument, loads: dict[str, Load], reading_c: float | None = None
) -> tuple[HotWater | None, Notes]:
    """The tank water heater; None where the file has no [hot_water]."""
    entry = document.hot_water
    if entry is None:
        return None, []
    notes: Notes = []
    ua = entry.standby_w_per_k
    if ua is None:
        row = table("water_heater_loss").row(0.9)
        ua = row.si("ua_w_per_k")
        notes.append(Assumption("hot_water: standby", ua, "W/K", 0.5, 2.5, row.source()))
    showers = entry.showers_per_day
    if showers is None:
        showers = 0.5 * document.people.count
        notes.append(
            Assumption(
                "hot_water: showers_per_day", showers, "a day", 0.0, 1.0 * document.people.count, _JUDGED
            )
        )
    shower_m3 = table("water_fixtures").row("shower").si("low_gal") * _hot_share(entry)
    return HotWater(
        load=entry.load, heated_by=entry.heated_by, volume_m3=entry.volume_m3,
        heat_w=_tank_heat_w(document, entry, loads, notes),
        ua_w_per_k=ua, set_c=entry.set_c, lowest_c=entry.lowest_c, inlet_c=entry.inlet_c,
        draw_day_m3=showers * shower_m3 + _usual("hot_washing").si("typical_gal") * document.people.count,
        start_c=reading_c,
    ), notes  # fmt: skip


def _tank_heat_w(
    document: HouseDocument, entry: HotWaterEntry, loads: dict[str, Load], notes: Notes
) -> float:
    """Heat into the water while it is heated. The watts of boiler or burner are of its pump and controls."""
    draws_w = loads[entry.load].running_w if entry.load else 0.0
    if entry.heated_by == "electric":
        return draws_w if entry.element_w is None else entry.element_w
    heater = document.heat.heater if document.heat is not None else None
    most_w = heater.output_w if heater is not None and entry.heated_by == "boiler" else inf
    if entry.output_w is not None:
        return min(entry.output_w, most_w)
    if entry.heated_by == "heat_pump":
        row = _usual("tank_heat_pump")
        low, usual, high = (row.si(f"{end}_ratio") * draws_w for end in ("low", "typical", "high"))
    else:
        row = _usual("tank_coil" if entry.heated_by == "boiler" else "tank_burner")
        low, usual, high = (min(row.si(f"{end}_kw"), most_w) for end in ("low", "typical", "high"))
    if usual > 0.0:
        notes.append(Assumption("hot_water: output", usual / 1e3, "kW", low / 1e3, high / 1e3, row.source()))
    return usual


def _hot_share(entry: HotWaterEntry) -> float:
    """Share of a shower's water that the tank gives; all of it where the inlet is as warm as the shower."""
    head_c = _usual("shower_head").si("typical_c")
    return hot_share_frac(entry.set_c, min(entry.inlet_c, head_c - 1.0), head_c)


def _usual(name: str) -> Row:
    """What is taken where the house file is silent."""
    return table("house_defaults").row(name)


def fill_pits(entries: tuple[PitEntry, ...]) -> tuple[Pit, ...]:
    """Sump and effluent pits with the inflow of an outage."""
    return tuple(
        Pit(
            id=p.id, name=p.name, kind=p.kind, load=p.load, headroom_m3=p.headroom_m3, cycle_m3=p.cycle_m3,
            inflow_m3_per_s=p.inflow_m3_per_s * p.outage_inflow, pump_m3_per_s=p.pump_m3_per_s,
        )
        for p in entries
    )  # fmt: skip

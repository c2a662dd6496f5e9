"""Warmth and pipes: how far the house cools, and what heats it without the grid."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.house.loads import Load
from hearthold.physics.pipes import pipe_c
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Severity, Values
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow
from hearthold.rules.words import likely_words


@rule("house-falls-below-limit")
def house_falls(case: Case, row: RuleRow) -> Iterator[Hit]:
    """The house passes its lowest bearable temperature within the planned outage."""
    heat = case.house.heat
    return _falls(case, "house_lowest", {} if heat is None else {"limit_c": heat.lowest_c})


@rule("pipes-at-risk")
def pipes_at_risk(case: Case, row: RuleRow) -> Iterator[Hit]:
    """The coldest pipe freezes within the planned outage."""
    return _falls(case, "pipes", {})


@rule("pipes-freeze-while-heated")
def pipes_freeze_while_heated(case: Case, row: RuleRow) -> Iterator[Hit]:
    """The coldest pipe below freezing at the coldest hour with the heating on, grid or no grid."""
    heat, rooms_c, air_c = case.house.heat, case.house.coolest_heated_c, case.conditions.outdoor_low_c
    if heat is not None and rooms_c is not None and case.house.pipe_freezes_heated(air_c):
        at_c = pipe_c(air_c, rooms_c, heat.pipe_ratio)
        yield Hit("the coldest pipe", {"set_c": rooms_c, "air_c": air_c, "pipe_c": at_c})


@rule("cold-snap-on-pipes")
def cold_snap(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Planned cold at or below the published alert, in a house whose pipes hold water."""
    low_c, heat = case.conditions.outdoor_low_c, case.house.heat
    drained = heat is not None and heat.pipes_drained
    if low_c <= row.number("alert_c") and not drained:
        yield Hit("pipes in cold places", {"outdoor_low_c": low_c})


@rule("heater-not-fed")
def heater_not_fed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A heater whose load power does not reach, where there is a machine."""
    load = _heater(case)
    if case.generator is not None and load is not None and not case.reaches(load):
        circuit = case.house.circuit_by_id[load.circuit].name
        yield Hit(load.name, {"load": load.name, "circuit": circuit, "panel": case.fed_panel_words})


@rule("no-other-heat")
def no_other_heat(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A heater that needs power, and no stove."""
    load, heat = _heater(case), case.house.heat
    if load is not None and heat is not None and heat.stove_output_w <= 0.0:
        yield Hit(load.name, {"load": load.name})


@rule("no-heat-known")
def no_heat_known(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A heated house in a cold place, and nothing that heats it."""
    heat, means_c = case.house.heat, case.house.climate.mean_c
    if heat is None or heat.heater_load is not None or heat.stove_output_w > 0.0 or not means_c:
        return
    if min(means_c) < row.number("heating_c"):
        yield Hit("[heat]", {"coldest_c": min(means_c)})


@rule("stove-blower-unfed")
def blower_unfed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A stove with a blower that power does not reach."""
    heat = case.house.heat
    if heat is None or heat.stove_blower_load is None or heat.stove_output_w <= 0.0:
        return
    load = case.house.load_by_id[heat.stove_blower_load]
    if not case.reaches(load):
        share, full_w = heat.stove_without_blower_frac, heat.stove_output_w
        yield Hit(
            load.name, {"load": load.name, "share_frac": share, "full_w": full_w, "left_w": share * full_w}
        )


@rule("wood-short-of-outage")
def wood_short(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Wood that is said to last less than the planned outage."""
    heat = case.house.heat
    if heat is None or heat.stove_wood_s is None or heat.stove_output_w <= 0.0:
        return
    if heat.stove_wood_s < case.planned_s and case.conditions.heating_season:
        hours = f"{heat.stove_hours_per_day:g}"
        yield Hit("the stove", {"wood_s": heat.stove_wood_s, "hours": hours, "planned_s": case.planned_s})


@rule("stove-and-alarm")
def stove_and_alarm(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A stove, and no alarm as far as anybody knows."""
    heat, alarms = case.house.heat, case.house.safety.co_alarms
    if heat is not None and heat.stove_output_w > 0.0 and not alarms:
        yield Hit("the room of the stove", {"state": "no" if alarms == 0 else "no word of a"})


def _falls(case: Case, store: str, more: Values) -> Iterator[Hit]:
    """A hold of the house that ends before the planned outage does."""
    hold = case.hold_of.get(store)
    if hold is None or hold.strictest_s >= case.planned_s:
        return
    words: Values = {"likely_words": likely_words(hold.likely_s, case.house.system)}
    times: Values = {"hold_s": hold.strictest_s, "planned_s": case.planned_s}
    values = {"outdoor_c": case.conditions.outdoor_mean_c, **times, **words, **more}
    yield Hit(hold.name, values, Severity.CONSIDER if _has_heat(case) else None)


def _has_heat(case: Case) -> bool:
    """Whether something heats while the grid is down: a stove, or the heater on the machine's power."""
    heat, heater = case.house.heat, _heater(case)
    stove = heat is not None and heat.stove_output_w > 0.0
    return stove or (case.generator is not None and heater is not None and case.reaches(heater))


def _heater(case: Case) -> Load | None:
    """The load of the heater, if it has one."""
    heat = case.house.heat
    return None if heat is None or heat.heater_load is None else case.house.load_by_id[heat.heater_load]

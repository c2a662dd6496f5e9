"""Water in and water out: the well pump, what is stored, and the pits."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.house.stores import Pit
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Severity, Value, Values
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow

_DAY_S = 86400.0
_SEWAGE = ("effluent", "sewage")


@rule("well-pump-not-fed")
def pump_not_fed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A well pump that power does not reach."""
    water = case.house.water
    if water is None:
        return
    load = case.house.load_by_id[water.pump_load]
    if not case.reaches(load):
        circuit = case.house.circuit_by_id[load.circuit].name
        yield Hit(load.name, {"load": load.name, "circuit": circuit, "panel": case.fed_panel_words})


@rule("no-stored-water")
def no_stored_water(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A pump, and not a litre stored."""
    water = case.house.water
    if water is not None and water.stored_m3 <= 0.0:
        yield Hit("drinking water", {"tank_m3": water.drawdown_m3})


@rule("stored-water-short")
def stored_short(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A pump that power does not reach, and less stored than people drink in the planned outage."""
    water, people = case.house.water, case.house.people.count
    if water is None or water.stored_m3 <= 0.0 or case.reaches(case.house.load_by_id[water.pump_load]):
        return
    wanted_m3 = row.number("least_m3") * people * case.planned_s / _DAY_S
    if water.stored_m3 < wanted_m3:
        values = {"stored_m3": water.stored_m3, "wanted_m3": wanted_m3, "planned_s": case.planned_s}
        yield Hit("drinking water", {"people": people, **values})


@rule("pit-pump-not-fed")
def pit_not_fed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A pit whose pump power does not reach."""
    for pit in case.house.pits:
        load = case.house.load_by_id[pit.load]
        if not case.reaches(load) and pit.inflow_m3_per_s > 0.0:
            full_s = pit.headroom_m3 / pit.inflow_m3_per_s
            yield _about(pit, load=load.name, full_s=full_s, panel=case.fed_panel_words)


@rule("pit-overflows-between-spells")
def pit_overflows(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A pit that fills in the longest gap of the day."""
    for pit in case.house.pits:
        if pit.inflow_m3_per_s <= 0.0 or not case.reaches(case.house.load_by_id[pit.load]):
            continue
        full_s = pit.headroom_m3 / pit.inflow_m3_per_s
        if case.generator is not None and full_s < case.gap_s:
            yield _about(pit, full_s=full_s, gap_s=case.gap_s, gap_words=case.gap_words)


@rule("sewage-stop-using-water")
def stop_using_water(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Any pit that takes what the house drains; graver where its pump stands still for good."""
    for pit in case.house.pits:
        if pit.kind in _SEWAGE:
            fed = case.reaches(case.house.load_by_id[pit.load])
            values: Values = {"pit": pit.name, "room_m3": pit.headroom_m3}
            yield Hit(pit.name, values, None if fed else Severity.ACT)


@rule("well-pump-needs-the-machine")
def water_in_spells(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fed pump whose tank holds less than half a day."""
    water = case.house.water
    if water is None or water.use_day_m3 <= 0.0 or not case.reaches(case.house.load_by_id[water.pump_load]):
        return
    share = water.drawdown_m3 / water.use_day_m3
    if share < row.number("below_frac"):
        yield Hit("water", {"tank_m3": water.drawdown_m3, "share_frac": share, "use_m3": water.use_day_m3})


def _about(pit: Pit, **more: Value) -> Hit:
    return Hit(pit.name, {"pit": pit.name, **more})

"""Medical and vital loads: power that reaches them, batteries of their own, and who should know."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.house.site import Medical
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Value
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow
from hearthold.rules.words import listed


@rule("vital-not-fed")
def vital_not_fed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A vital load that neither the hookup nor a cord reaches."""
    for load in case.house.vital_loads:
        if not case.reaches(load):
            circuit = case.house.circuit_by_id[load.circuit].name
            yield Hit(load.name, {"load": load.name, "circuit": circuit})


@rule("medical-no-battery")
def no_own_battery(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A medical need without a minute of its own."""
    for need in case.house.medical:
        if need.own_battery_s <= 0.0:
            yield _about(case, need)


@rule("medical-battery-short")
def battery_short(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A battery that runs out while the machine must stay still."""
    if case.house.wishes.run_at_night or case.house.battery is not None or case.is_automatic:
        return
    for need in case.house.medical:
        gap_s = min(case.quiet_s, need.hours_per_day * 3600.0)
        if 0.0 < need.own_battery_s < gap_s:
            yield _about(case, need, battery_s=need.own_battery_s, gap_s=case.quiet_s)


@rule("oxygen")
def oxygen(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Oxygen concentrators, by kind or name."""
    word = str(row.limits["word"])
    for load in case.house.loads:
        if word in f"{load.kind or ''} {load.name}".lower():
            yield Hit(load.name, {"load": load.name})


@rule("register-medical")
def register(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Any medical need."""
    names = list(dict.fromkeys(_load_name(case, need) for need in case.house.medical))
    if names:
        yield Hit(listed(names), {"loads": listed(names), "them": "it" if len(names) == 1 else "them"})


@rule("vital-on-rough-power")
def on_rough_power(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Medical equipment straight on a set without an inverter."""
    set_ = case.rough_set
    if set_ is None or case.house.battery is not None:
        return
    for need in case.house.medical:
        yield Hit(_load_name(case, need), {"load": _load_name(case, need), "machine": set_.name})


def _about(case: Case, need: Medical, **more: Value) -> Hit:
    name = _load_name(case, need)
    hours = f"{need.hours_per_day:g}"
    return Hit(name, {"load": name, "person": need.person, "hours": hours, **more})


def _load_name(case: Case, need: Medical) -> str:
    return case.house.load_by_id[need.load].name

"""The machine and what runs: ratings, legs, air, voltage, frequency, and how clean the power is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hearthold.house.loads import Load
from hearthold.physics.legs import imbalance_frac
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Severity, Values
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow
from hearthold.rules.words import fuel_words, listed
from hearthold.sizing.demand import SELF_STARTING, LegDemand, figures, running_currents
from hearthold.sizing.inverter import Inverter, by_itself
from hearthold.sizing.placement import fed_leg_va

_POLES = (2, 4)  # small sets turn fast with two poles or slowly with four


@rule("nothing-carries-the-house")
def nothing_carries(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Neither a machine nor a battery."""
    if case.generator is None and case.house.battery is None:
        vital = case.house.vital_loads or case.house.loads
        first = listed(x.name for x in sorted(vital, key=lambda x: x.priority.rank)[:4])
        yield Hit("the whole house", {"planned_s": case.planned_s, "loads": first})


@rule("running-over-rated")
def running_over_rated(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Vital and essential loads draw more than is available."""
    if case.supply is not None and case.needed.total_w > case.supply.running_w:
        yield _needed_hit(case)


@rule("load-beyond-machine")
def load_beyond_machine(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fed load that alone draws more than the machine gives here; graver where it is needed."""
    source = case.supply
    if source is None:
        return
    for load in case.fed_loads:
        if load.running_w > source.running_w:
            words: Values = {"load": load.name, "machine": source.name}
            yield Hit(
                load.name,
                {**words, "running_w": load.running_w, "available_w": source.running_w},
                Severity.ACT if load in case.needed_loads else None,
            )


@rule("leg-over-limit")
def leg_over_limit(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Vital and essential loads put more on one leg than it gives."""
    if case.supply is None:
        return
    for leg, leg_va in (("A", case.needed.leg_a_va), ("B", case.needed.leg_b_va)):
        if leg_va > case.supply.leg_limit_w:
            words: Values = {"leg": leg, "machine": case.supply.name, "panel": case.fed_panel}
            yield Hit(f"leg {leg}", {**words, "leg_va": leg_va, "limit_w": case.supply.leg_limit_w})


@rule("legs-unbalanced")
def legs_unbalanced(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Everything on lies unevenly on legs that the house file gives; where it leaves one out nobody knows."""
    a_va, b_va = fed_leg_va(case.house, case.seats)
    apart = float(imbalance_frac(a_va, b_va))
    unknown = any(c.id in case.fed_ids for c in case.seats.assumed)
    if case.supply is None or case.panel_hookup is None or unknown or apart <= row.number("limit_frac"):
        return
    yield Hit(case.fed_panel, {"leg_a_va": a_va, "leg_b_va": b_va, "difference_frac": apart})


@rule("steady-above-held-share")
def steady_above_share(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Vital and essential loads fit, but above the share that should be held."""
    if case.supply is None:
        return
    share = case.needed.total_w / case.supply.running_w if case.supply.running_w else 0.0
    if row.number("limit_frac") < share <= 1.0:
        yield _needed_hit(case, share_frac=share)


@rule("air-eats-the-margin")
def air_eats_margin(case: Case, row: RuleRow) -> Iterator[Hit]:
    """The loads fit the printed rating and not the one in this air."""
    source = case.supply
    if source is None or not source.running_w < case.needed.total_w <= source.rated_w * source.fuel_frac:
        return
    place = {"altitude_m": case.house.site.altitude_m, "air_c": case.conditions.outdoor_high_c}
    yield _needed_hit(case, **place)


@rule("runs-nearly-idle")
def nearly_idle(case: Case, row: RuleRow) -> Iterator[Hit]:
    """The average demand is a small share of the machine."""
    average_w = case.demand.average.total_w
    if case.supply is None or average_w == 0.0:
        return
    share = average_w / case.supply.running_w
    if share < row.number("light_frac"):
        yield Hit(
            case.supply.name, {"machine": case.supply.name, "average_w": average_w, "share_frac": share}
        )


@rule("fuel-not-rated")
def fuel_not_rated(case: Case, row: RuleRow) -> Iterator[Hit]:
    """The preferred fuel is none of those on the plate."""
    set_, fuel = case.generator, case.house.fuel
    if set_ is not None and fuel is not None and fuel.preferred not in {r.fuel for r in set_.on}:
        words: Values = {"fuel": fuel_words([fuel.preferred], case.house.system), "machine": set_.name}
        yield Hit(
            "fuel.preferred", words | {"rated_on": fuel_words([r.fuel for r in set_.on], case.house.system)}
        )


@rule("stock-not-burnt")
def stock_not_burnt(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Fuel at home that the machine cannot use."""
    set_, fuel = case.generator, case.house.fuel
    if set_ is None or fuel is None:
        return
    rated = [r.fuel for r in set_.on]
    for kind in dict.fromkeys(s.fuel for s in fuel.stock):
        if kind not in rated:
            words: Values = {
                "fuel": fuel_words([kind], case.house.system),
                "machine": set_.name,
                "rated_on": fuel_words(rated, case.house.system),
            }
            yield Hit(f"stock of {fuel_words([kind], case.house.system)}", words)


@rule("voltage-mismatch")
def voltage_mismatch(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A machine whose voltage is neither the house's full voltage nor, with split phase, one leg's."""
    set_, system = case.generator, case.house.system
    if set_ is None or set_.voltage_v is None:
        return
    fits = (system.full_voltage_v, system.leg_voltage_v)
    if all(abs(set_.voltage_v / fit - 1.0) > row.number("tolerance_frac") for fit in fits):
        house_v = "120/240 V" if len(system.legs) == 2 else "230 V"
        yield Hit(set_.name, {"machine": set_.name, "machine_v": set_.voltage_v, "house_v": house_v})


@rule("no-240-volts")
def no_240_volts(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A 120 V machine and vital or essential loads of 240 V on fed circuits."""
    set_, leg_v = case.generator, case.house.system.leg_voltage_v
    if set_ is None or set_.voltage_v is None or set_.voltage_v > 1.1 * leg_v:
        return
    high = [x.name for x in case.needed_loads if x.voltage_v > 1.5 * leg_v]
    if high:
        yield Hit(listed(high), {"machine": set_.name, "loads": listed(high)})


@rule("wrong-frequency")
def wrong_frequency(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fixed-speed machine whose revolutions do not make the house's frequency with two or four poles."""
    set_, wanted_hz = case.generator, case.house.system.frequency_hz
    if set_ is None or set_.speed_rpm is None or set_.kind == "inverter":
        return
    found = {poles: poles * set_.speed_rpm / 120.0 for poles in _POLES}
    poles, found_hz = min(found.items(), key=lambda item: abs(item[1] - wanted_hz))
    if abs(found_hz / wanted_hz - 1.0) > row.number("tolerance_frac"):
        speed = f"{set_.speed_rpm}"
        values: Values = {"rpm": speed, "poles": poles, "found_hz": found_hz, "wanted_hz": wanted_hz}
        yield Hit(set_.name, {"machine": set_.name, **values})


@rule("rough-power-for-electronics")
def rough_power(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Loads with electronics inside on a set without an inverter."""
    kinds = str(row.limits["start_kinds"]).split(", ")
    vital = {x.id for x in case.house.vital_loads}  # these have a finding of their own
    delicate = [x.name for x in case.fed_loads if x.start_kind in kinds and x.id not in vital]
    if case.rough_set is not None and delicate:
        share = case.house.system.frequency_hz / row.number("of_hz")
        runs: Values = {"from_hz": share * row.number("low_hz"), "to_hz": share * row.number("high_hz")}
        yield Hit(listed(delicate), {"loads": listed(delicate), "machine": case.rough_set.name, **runs})


@rule("load-beyond-inverter")
def load_beyond_inverter(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fed load that alone is more than the inverter holds, in all or on its leg."""
    source = case.inverter
    for load in case.fed_loads if source is not None else ():
        asked = figures(running_currents(case.house, case.seats, [load]))
        if source is not None and source.running_frac(asked) > 1.0:
            words: Values = {"load": load.name, "asked_va": load.running_va}
            yield Hit(load.name, words | _inverter(source, asked))


@rule("inverter-below-load")
def inverter_below_load(case: Case, row: RuleRow) -> Iterator[Hit]:
    """What switches itself on may ask more of the inverter at one time than it holds."""
    source = case.inverter
    if source is None:
        return
    asked = by_itself(case.house, case.seats)
    calling = [x for x in case.fed_loads if x.pattern in SELF_STARTING]
    if source.running_frac(asked) > 1.0:
        most = largest(calling)
        figures_of: Values = {"asked_va": asked.total_va, "biggest": most.name, "biggest_w": most.running_w}
        yield Hit("the inverter", figures_of | _inverter(source, asked))


def _inverter(source: Inverter, asked: LegDemand) -> Values:
    """What the inverter holds, and what its busier leg is asked."""
    leg_va = max(asked.leg_a_va, asked.leg_b_va)
    return {"limit_w": source.running_w, "leg_va": leg_va, "leg_limit_w": source.leg_limit_w}


def largest(loads: Sequence[Load]) -> Load:
    """The load that draws most while it runs."""
    return max(loads, key=lambda x: x.running_w)


def _needed_hit(case: Case, **more: float) -> Hit:
    """What the vital and essential loads draw against what the machine gives."""
    source, most = case.supply, largest(case.needed_loads)
    if source is None:
        raise ValueError("asked about a machine that is not there")
    return Hit(
        source.name,
        {
            "machine": source.name,
            "fuel": fuel_words([source.fuel], case.house.system),
            "running_w": case.needed.total_w,
            "available_w": source.running_w,
            "rated_w": source.rated_w,
            "biggest": most.name,
            "biggest_w": most.running_w,
            **more,
        },
    )

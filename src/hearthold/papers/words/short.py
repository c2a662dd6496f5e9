"""In short: the few lines that a tired householder acts on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Protocol

from hearthold.house.site import VoltageSystem
from hearthold.papers.words.fuel import outlasted
from hearthold.papers.words.heater import in_the_cold, with_heater
from hearthold.papers.words.kept import broken, drain_words, given_up_words, harm, short
from hearthold.papers.words.onbattery import lasts_sentence, reserve_words, starts_words, sun_sentence
from hearthold.papers.words.say import Say, after, counted, duration, names
from hearthold.rules.words import fuel_words
from hearthold.sizing.chain import EACH_CORD

if TYPE_CHECKING:
    from hearthold.plan.kept import StoreKept
    from hearthold.plan.panel import PanelPlan
    from hearthold.plan.result import FuelPlan, Plan
    from hearthold.sizing.hold import Hold

STRETCH = "To make fuel last longer, keep it OFF at its own control, and in AUTO only at these times."
_TOLD = 3  # things to mend that are named; the rest are counted


class Teller(Protocol):
    """Who tells it: the reader's units and the house's names."""

    @property
    def say(self) -> Say:
        """Units."""

    def circuit(self, ident: str) -> str:
        """A circuit's name."""


def in_short(teller: Teller, plan: Plan) -> Iterator[str]:
    """Five to eight sentences: what is lost first and what must be mended, then what to do."""
    yield from _vital_lost(plan)
    yield from _mend_first(plan)
    yield from _verdict(plan)
    yield from _when(teller, plan)
    yield from _order(teller, plan)
    yield from _what_stays_on(teller, plan)
    yield from _how_long(teller, plan)
    yield from _fails_first(plan)


def _vital_lost(plan: Plan) -> Iterator[str]:
    """Vital loads that the plan leaves without power, before anything else."""
    told = lost(plan)
    if told:
        yield (
            f"VITAL, NOT CARRIED: {'; '.join(told)}. Have another way, or another place to go, before you rely on "
            "this."
        )


def lost(plan: Plan) -> tuple[str, ...]:
    """Every vital loss of a plan: when, and for how long; and what cannot be carried at one time."""
    found = plan.routine or plan.on_battery
    stores = found.stores if found is not None else ()
    told = [
        f"{s.name} {after(s.first_s)}, for {duration(s.beyond_s)} in all"
        for s in broken(stores)
        if s.kind == "vital"
    ]
    return (*told, *(plan.choice.vital_conflict if plan.choice is not None else ()))


def _mend_first(plan: Plan) -> Iterator[str]:
    urgent = [f for f in plan.findings if f.needs_action]
    grave = [f for f in urgent if f.severity == "danger"]
    if grave:
        others = len(urgent) - len(grave)
        more = f"; and {counted(others, 'other thing')} to mend" if others else ""
        yield f"DANGER, mend it first: {'; '.join(_lower(f.title) for f in grave)}{more} (see Findings)."
    elif urgent:
        told = [_lower(f.title) for f in urgent[:_TOLD]]
        more = f"; and {len(urgent) - _TOLD} more" if len(urgent) > _TOLD else ""
        yield f"Mend before you rely on this: {'; '.join(told)}{more} (see Findings)."


def _verdict(plan: Plan) -> Iterator[str]:
    """Whether the outage that is planned for can be lived through, and what is not kept."""
    found = plan.routine or plan.on_battery
    if found is None:
        return
    lasts = duration(found.tested_s)
    hard = broken(found.stores)
    missed = [s for s in hard if s.kind != "vital"]
    missing = [s.name for s in short(found.stores)]
    comfort = f" Comfort goes short: {names(missing)}." if missing else ""
    given_up = given_up_words(found.stores)
    comfort += f" {given_up}" if given_up else ""
    if not missed:
        every = "every other limit" if hard or given_up else "every limit"
        yield f"For {lasts} without the grid this plan keeps {every}.{comfort}"
        return
    told = [f"{s.name} ({harm(s)}, {after(s.first_s)}{_for_so_long(s)})" for s in missed]
    told_all = "; ".join(told)
    drain = drain_words(found.stores)
    yield (
        f"For {lasts} without the grid this plan does not keep everything. Not kept: {told_all}.{comfort} {drain}"
    ).rstrip()


def _for_so_long(store: StoreKept) -> str:
    return f", for {duration(store.beyond_s)} in all" if store.beyond_s > 0.0 else ""


def _what_stays_on(teller: Teller, plan: Plan) -> Iterator[str]:
    if plan.on_battery is not None:
        yield from _on_battery(teller.say, plan.on_battery)
        return
    if plan.choice is None:
        yield "No machine with a hookup is in the house file, so nothing can stay on yet."
        return
    if plan.chain is not None and plan.chain.end == EACH_CORD:
        plugged = plan.routine.switching if plan.routine is not None else "No routine is worked out."
        yield f"Cords feed single appliances: nothing of the house's wiring is on. {plugged}"
        return
    found = plan.choice
    turned = [c.name for c in found.circuits if c.turns and c.circuit not in found.together]
    never = [teller.circuit(c) for c in found.never]
    parts = [f"On together: {names([teller.circuit(c) for c in found.together], 6)}."]
    if _automatic(plan):
        held = [*turned, *never]
        parts += (
            [f"It cannot carry all at one time: a load manager must hold back {names(held, 5)}."]
            if held
            else []
        )
        yield " ".join(parts)
        return
    parts += [f"Instead of some of these, in turn: {names(turned, 5)}."] if turned else []
    parts += [f"Stay off: {names(never, 5)}."] if never else []
    yield " ".join(parts)


def _on_battery(say: Say, found: PanelPlan) -> Iterator[str]:
    """A battery and no machine: what to switch, how long that lasts, and what the sun brings."""
    yield found.sentence
    if found.feeds_nothing:
        return
    yield lasts_sentence(found)
    if found.starts_kept < found.starts_tried:
        yield starts_words(found)
    if found.unreserved:
        yield reserve_words(found)
    if found.months:
        yield sun_sentence(found, say)


def _order(teller: Teller, plan: Plan) -> Iterator[str]:
    steps = plan.switch_on.steps
    if plan.supplies and len(steps) > 1 and not _automatic(plan):
        first = names([step.name for step in steps[:3]])
        yield f"Switch on one at a time, {duration(steps[0].wait_s)} apart, beginning with {first}."


def _when(teller: Teller, plan: Plan) -> Iterator[str]:
    outside = "The machine runs outdoors only, far from the house, exhaust pointed away; never in a garage."
    routine = plan.routine.sentence if plan.routine is not None else ""
    alone = by_itself(teller.say, plan)
    if alone:
        yield f"{alone} {outside}"
        if plan.fuel is not None and plan.fuel.by_itself_days != float("inf") and routine:
            yield f"{STRETCH} {routine}"
    elif plan.supplies:
        yield f"{routine} {outside}".strip()


def _automatic(plan: Plan) -> bool:
    return plan.fuel is not None and plan.fuel.by_itself_day_m3 is not None


def by_itself(say: Say, plan: Plan) -> str:
    """What an automatic set does unless somebody follows the routine; empty for others."""
    fuel = plan.fuel
    if fuel is None or fuel.by_itself_day_m3 is None or fuel.by_itself_days is None:
        return ""
    told = f"The set starts by itself and runs until the grid is back, on {say.volume(fuel.by_itself_day_m3)} a day"
    if fuel.by_itself_days == float("inf"):
        return f"{told} from the main."
    return f"{told}: what is at home then lasts {duration(fuel.by_itself_days * 86400.0)}."


def _how_long(teller: Teller, plan: Plan) -> Iterator[str]:
    fuel = plan.fuel
    if fuel is None:
        return
    if fuel.stock_days is None:
        yield from _other_lots(plan, fuel)
        return
    need = f"{teller.say.volume(fuel.day_need_m3)} a day" if fuel.day_need_m3 else ""
    name = fuel_words([fuel.burn.fuel], VoltageSystem(plan.house.system))
    lasts = (
        "comes by the main"
        if fuel.stock_days == float("inf")
        else f"lasts {duration(fuel.stock_days * 86400.0)}"
    )
    shared = with_heater(plan, fuel.burn.fuel, fuel.stock_days)
    told = (
        f"The {name} at home {lasts}" + (f" at {need}" if need else "") + (f", {shared}." if shared else ".")
    )
    if fuel.stock_days <= 0.0:
        told = f"There is no {name} at home.{_rests_on_trips(plan)}"
    elif plan.routine is not None and plan.routine.outlasts_its_fuel:
        told = f"{told} {outlasted(plan.routine)}"
    else:
        yield told
        return
    yield " ".join([told, *_other_fuels(plan, fuel)])


def _rests_on_trips(plan: Plan) -> str:
    trips = len(plan.routine.trips) if plan.routine is not None else 0
    return (
        f" This plan rests on {counted(trips, 'trip')} for it, the first as soon as the grid fails."
        if trips
        else ""
    )


def _other_lots(plan: Plan, fuel: FuelPlan) -> Iterator[str]:
    """What else is at home to burn, where there is nothing of the plan's own fuel to run a routine on."""
    burned = {source.fuel for source in plan.supplies}
    kinds = dict.fromkeys(lot.fuel for lot in fuel.stock if lot.amount_m3 > 0.0 and lot.fuel in burned)
    if kinds and fuel.burn.fuel not in kinds:
        names_ = fuel_words(kinds, VoltageSystem(plan.house.system)).capitalize()
        ways = " or ".join(f"--fuel {kind.value}" for kind in kinds)
        yield f"{names_} at home: ask for the plan on it ({ways})."


def _other_fuels(plan: Plan, fuel: FuelPlan) -> Iterator[str]:
    """What else is at home to burn, where the fuel of the plan does not last."""
    for kind, days in fuel.other_fuels_days:
        if days > 0.0:
            name = fuel_words([kind], VoltageSystem(plan.house.system)).capitalize()
            lasts = (
                "comes by the main" if days == float("inf") else f"at home lasts {duration(days * 86400.0)}"
            )
            but = [w for w in (with_heater(plan, kind, days), in_the_cold(plan, kind)) if w]
            lasts = ", ".join([lasts, *but])
            yield f"{name} {lasts}: ask for the plan on it (--fuel {kind.value})."


def _fails_first(plan: Plan) -> Iterator[str]:
    stores = [h for h in plan.holds if h.kind != "fuel"]  # fuel lasts by hours of running
    if not stores:
        return
    first = stores[0]
    vital = [h for h in stores if h.kind == "medical" and h is not first]
    told = "".join(f"; {h.name} lasts {duration(h.strictest_s)}" for h in vital)
    yield f"With nothing running, the first to fail is {first.name}, {after(first.strictest_s)}{told}."


def stove_words(holds: Iterable[Hold]) -> Iterator[str]:
    """What a fed stove would make of the house's hold, which counts with no heat at all."""
    lowest = next((h for h in holds if h.store == "house_lowest"), None)
    if lowest is not None:
        yield from (f"The house's time is without any heat: {note}." for note in lowest.notes)


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:].rstrip(".")

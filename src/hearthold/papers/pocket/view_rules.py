"""The section "Rules": carbon monoxide, food, fuel, and the cautions of work that is not everyday work."""

from __future__ import annotations

from collections.abc import Iterable
from xml.etree.ElementTree import Element

from hearthold.papers.pocket.facts import Facts, food_limit, food_rules, fuel_lines
from hearthold.papers.pocket.markup import el
from hearthold.papers.pocket.view import bullets, field, section, warnings
from hearthold.papers.words.phrases import sentence
from hearthold.reference import food

_CO = ("never_indoors", "co_distance", "co_symptoms", "co_alarm", "unvented_heat")
_HOOKUP = ("no_backfeed", "open_panel", "ground_fault_protection")
_FUEL = ("cool_before_refuel", "store_fuel")


def rules_section(facts: Facts) -> Element:
    """What kills first, first."""
    return section(
        "rules",
        "Rules",
        el("div", el("h3", "Carbon monoxide"), warnings(facts.cautions(*_CO), headed=False), class_="panel"),
        _food(facts),
        _fuel(facts),
        el("div", el("h3", "Hookup"), warnings(facts.cautions(*_hookup(facts))), class_="panel"),
    )


def _hookup(facts: Facts) -> tuple[str, ...]:
    """The cord to an inlet has other wires than one to an appliance, which a house with an inlet may use too."""
    hookup = facts.house.hookup
    to_inlet = ("set_cord",) if hookup is not None and hookup.inlet is not None else ()
    return (*_HOOKUP, *to_inlet, "cords", "electrician")


def _food(facts: Facts) -> Element:
    return el(
        "div",
        el("h3", "Food"),
        el("p", "Public-health guidance. A thermometer beats every clock.", class_="quiet"),
        warnings(facts.cautions("food_doubt"), headed=False),
        bullets(food_rules(facts.say)),
        el(
            "div",
            field("food-find", "Find a food", el("input", type="search", autocomplete="off")),
            class_="live-only",
        ),
        el("p", id="food-none", aria_live="polite", class_="live-only quiet"),
        _fridge(facts),
        _freezer(facts),
        class_="panel",
    )


def _fridge(facts: Facts) -> Element:
    limit = facts.say.temperature(food.food_rule_c("danger_temperature"))
    items = food.fridge_items()
    clocked = (i for i in items if i.verdict == "discard_past_limit")
    return el(
        "div",
        el("h4", f"Fridge food, above {limit} for more than 2 h"),
        _verdict("Throw out", "out", (i.food for i in items if i.verdict == "discard")),
        _verdict("By the clock", "out", (_clocked(facts, i) for i in clocked)),
        _verdict("Keep", "keep", (i.food for i in items if i.verdict == "keep")),
    )


def _freezer(facts: Facts) -> Element:
    limit = facts.say.temperature(food.food_rule_c("danger_temperature"))
    items = food.freezer_items()
    never = "; ".join(i.food for i in items if i.cold_verdict == "discard")
    clocked = (i for i in items if i.warm_verdict == "discard_past_limit")
    return el(
        "div",
        el("h4", f"Frozen food: with ice crystals, or at {limit} or colder"),
        el("p", f"May be frozen again, all but: {never}."),
        el("h4", f"Frozen food, thawed and above {limit} for more than 2 h"),
        _verdict("Throw out", "out", (i.food for i in items if i.warm_verdict == "discard")),
        _verdict("By the clock", "out", (_clocked(facts, i) for i in clocked)),
        _verdict("May be frozen again", "keep", (i.food for i in items if i.warm_verdict == "refreeze")),
    )


def _clocked(facts: Facts, item: food.FridgeItem | food.FreezerItem) -> str:
    return f"{item.food}: {food_limit(facts.say, item.limit_s, item.limit_c)}"


def _verdict(word: str, kind: str, foods: Iterable[str]) -> Element:
    return el("div", el("h5", word), bullets((sentence(f) for f in foods), "foods"), class_=f"verdict {kind}")


def _fuel(facts: Facts) -> Element:
    lines = list(fuel_lines(facts))
    vapour = ("propane_upright", "gas_leak") if _burns_gas(facts) else ()
    return el(
        "div",
        el("h3", "Fuel"),
        warnings(facts.cautions(*_FUEL, *vapour)),
        bullets(lines) if lines else None,
        class_="panel",
    )


def _burns_gas(facts: Facts) -> bool:
    machine = facts.house.generator
    return machine is not None and any(r.fuel.value in ("propane", "natural_gas") for r in machine.on)

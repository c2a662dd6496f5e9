"""Faults that only show when two parts of the file are held together: names, references, impossible pairs."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Iterator
from datetime import date

from hearthold.errors import Fault
from hearthold.house import locate
from hearthold.house.document import HouseDocument
from hearthold.house.faults import as_written, dotted
from hearthold.house.nameplate import nameplate_gap
from hearthold.house.near import did_you_mean
from hearthold.house.pairing_power import (
    Problem,
    Where,
    machine_problems,
    voltage_problems,
    wire_problems,
)
from hearthold.house.pastoutages import doubts
from hearthold.house.supply import HookupKind
from hearthold.reference import loads, motors
from hearthold.reference.costs import currencies
from hearthold.reference.outages import outage_regions
from hearthold.reference.reader import table


def pairing_faults(
    document: HouseDocument, path: str, text: str, today: date | None = None
) -> tuple[Fault, ...]:
    """Every fault of the document as a whole, located in the text, in file order; with a day, also what it tells."""
    dated = (*_record(document, today), *_still_to_come(document, today))
    problems = [*(x for check in _CHECKS for x in check(document)), *dated]
    if not problems:  # as a rule; then the text need not be read again
        return ()
    index, raw = locate.line_index(text), tomllib.loads(text)
    found = [
        Fault(
            path,
            locate.line_of(index, where),
            dotted(where),
            as_written(_written(raw, where)),
            problem,
            remedy,
        )
        for where, problem, remedy in problems
    ]
    return tuple(sorted(found, key=lambda f: (f.line or 0, f.key)))


def _written(raw: object, where: Where) -> object:
    """The value as it stands in the file; None where the file leaves the key out."""
    for part in where:
        if isinstance(raw, dict):
            raw = raw.get(part)
        elif isinstance(raw, list) and isinstance(part, int) and part < len(raw):
            raw = raw[part]
        else:
            return None
    return raw


def _duplicates(document: HouseDocument) -> Iterator[Problem]:
    """Ids and names that stand twice: a report could not tell the two apart."""
    sections: dict[str, Iterable[object]] = {
        "load": document.load,
        "circuit": document.circuit,
        "cold": document.cold,
        "pit": document.pit,
    }
    for section, entries in sections.items():
        for key in ("id", "name"):
            yield from _twice(section, key, [getattr(entry, key, None) for entry in entries])


def _twice(section: str, key: str, words: list[str | None]) -> Iterator[Problem]:
    first: dict[str, int] = {}
    for i, word in enumerate(words):
        if word is None:
            continue
        if word in first:
            other = dotted((section, first[word]))
            yield (
                (section, i, key),
                f"is already the {key} of {other}.",
                f"Give each its own {key}.",
            )
        first.setdefault(word, i)


def _references(document: HouseDocument) -> Iterator[Problem]:
    """Ids that point at loads and circuits which are not there."""
    circuit_ids = [c.id for c in document.circuit]
    load_ids = [x.id for x in document.load]
    for i, load in enumerate(document.load):
        yield from _absent(("load", i, "circuit"), load.circuit, circuit_ids, "circuit")
    for i, circuit in enumerate(document.circuit):
        yield from _absent(("circuit", i, "multiwire_with"), circuit.multiwire_with, circuit_ids, "circuit")
    for where, load_id in _load_references(document):
        yield from _absent(where, load_id, load_ids, "load")
    stores = [x.id for x in document.cold] + ["house", "hot_water"]
    for i, reading in enumerate(document.reading):
        yield from _absent(("reading", i, "store"), reading.store, stores, "store")


def _readings(document: HouseDocument) -> Iterator[Problem]:
    """Readings too old to start from: a store has moved on since."""
    oldest_s = table("house_defaults").row("reading_age").si("high_h")
    for i, reading in enumerate(document.reading):
        if reading.age_s > oldest_s:
            yield (
                ("reading", i, "age"),
                f"is too old to start from: at most {oldest_s / 3600.0:g} h.",
                "Read the thermometer again, or take the entry out.",
            )


def _record(document: HouseDocument, today: date | None) -> Iterator[Problem]:
    """Past outages that overlap, last too long or, by the day, are still to come."""
    for doubt in doubts(document.past_outage, document.site.zone, today):
        yield ("past_outage", doubt.row, doubt.key), doubt.problem, doubt.remedy


def _still_to_come(document: HouseDocument, today: date | None) -> Iterator[Problem]:
    """Days on which something was done or bought that lie after today."""
    for where, day in _days(document):
        if today is not None and day is not None and day > today:
            yield where, f"lies after today, {today}.", "Correct the date, or take it out."


def _days(document: HouseDocument) -> Iterator[tuple[Where, date | None]]:
    set_ = document.generator
    if set_ is not None:
        yield ("generator", "start_battery_bought"), set_.start_battery_bought
        yield ("generator", "last_exercised"), set_.last_exercised
        yield ("generator", "last_oil"), set_.last_oil
    for i, lot in enumerate(document.fuel.stock if document.fuel is not None else ()):
        yield ("fuel", "stock", i, "bought"), lot.bought


def _load_references(document: HouseDocument) -> Iterator[tuple[Where, str | None]]:
    for i, need in enumerate(document.medical):
        yield ("medical", i, "load"), need.load
    for i, cold in enumerate(document.cold):
        yield ("cold", i, "load"), cold.load
    for i, pit in enumerate(document.pit):
        yield ("pit", i, "load"), pit.load
    if document.heat is not None:
        if document.heat.heater is not None:
            yield ("heat", "heater", "load"), document.heat.heater.load
        if document.heat.stove is not None:
            yield ("heat", "stove", "blower_load"), document.heat.stove.blower_load
    if document.water is not None:
        yield ("water", "pump_load"), document.water.pump_load
    if document.hot_water is not None:
        yield ("hot_water", "load"), document.hot_water.load


def _absent(where: Where, name: str | None, known: list[str], what: str) -> Iterator[Problem]:
    if name is not None and name not in known:
        hint = did_you_mean(name, known) or f"Known: {', '.join(known) or 'none'}."
        yield where, f"names no {what} of this file.", hint


def _catalogue(document: HouseDocument) -> Iterator[Problem]:
    """Words that must stand in a reference table, and loads that say too little to be computed."""
    kinds = loads.load_ids()
    for i, load in enumerate(document.load):
        if load.kind is not None and load.kind not in kinds:
            hint = f"{did_you_mean(load.kind, kinds)} Search with: hearthold loads WORD".lstrip()
            yield ("load", i, "kind"), "is not a kind of the load catalogue.", hint
        elif load.kind is not None and document.site.system.value not in loads.load(load.kind).systems:
            system = document.site.system.value
            yield (
                ("load", i, "kind"),
                f"is not made for {system}.",
                "Choose a kind for this supply.",
            )
        elif (gap := nameplate_gap(load, document.site.system)) is not None:
            yield (
                ("load", i),
                gap,
                "Give a kind of the catalogue, or running watts, amps, horsepower or a label.",
            )
    yield from _table_words(document)


def _table_words(document: HouseDocument) -> Iterator[Problem]:
    if document.generator is not None:
        yield from _connector(("generator", "receptacle"), document.generator.receptacle)
    if document.hookup is not None:
        yield from _connector(("hookup", "inlet"), document.hookup.inlet)
    yield from _word(("outages", "region"), document.outages.region, outage_regions(), "region")
    for i, load in enumerate(document.load):
        yield from _word(("load", i, "start_kind"), load.start_kind, motors.start_kinds(), "way to start")
    if document.heat is not None:
        yield from _word(
            ("heat", "house_class"), document.heat.house_class, _names("house_classes"), "house class"
        )


def _connector(where: Where, word: str | None) -> Iterator[Problem]:
    """Nothing near is offered: a connector whose name differs by one sign may be of another current or voltage."""
    known = _names("connectors")
    if word is not None and word not in known:
        hint = f"Known, with their trade names: {', '.join(known)}."
        yield where, "is not a connector of the reference table.", hint


def _names(table_name: str) -> list[str]:
    return [str(n) for n in table(table_name).names()]


def _word(where: Where, word: str | None, known: Iterable[str], what: str) -> Iterator[Problem]:
    words = list(known)
    if word is not None and word not in words:
        hint = did_you_mean(word, words) or f"Known: {', '.join(words)}."
        yield where, f"is not a {what} of the reference table.", hint


def _fuel(document: HouseDocument) -> Iterator[Problem]:
    """The fuel kept at home against the machine that is to burn it."""
    machine, fuel = document.generator, document.fuel
    if machine is not None and fuel is None:
        wanted = "A generator needs a [fuel] section with preferred = ... and the stock at home."
        yield ("fuel",), "is missing.", wanted
    if fuel is None:
        return
    burned = {rating.fuel for rating in machine.on} if machine is not None else {fuel.preferred}
    if fuel.preferred not in burned:
        told = "is not a fuel of this generator."
        yield (
            ("fuel", "preferred"),
            told,
            f"It burns: {', '.join(sorted(burned))}.",
        )
    for i, stock in enumerate(fuel.stock):
        if stock.amount_m3 is None and stock.mass_kg is None and not stock.mains:
            remedy = 'Give amount = "15 gal", mass = "40 lb", or mains = true.'
            yield ("fuel", "stock", i), "says no amount.", remedy


def _hookup(document: HouseDocument) -> Iterator[Problem]:
    """A battery where the hookup needs one, and the panel spaces that the essential circuits take."""
    hookup = document.hookup
    if hookup is not None and hookup.kind is HookupKind.BATTERY_INVERTER and document.battery is None:
        remedy = "Add a [battery] section with capacity, charge, discharge, or choose another kind of hookup."
        yield ("hookup", "kind"), "needs a battery, and the file has none.", remedy
    if hookup is None or hookup.panel_spaces is None or hookup.kind is not HookupKind.MANUAL_TRANSFER:
        return
    used = sum(c.poles for c in document.circuit if c.panel == "essential")
    if used > hookup.panel_spaces:
        yield (
            ("hookup", "panel_spaces"),
            f"are fewer than the {used} that the essential circuits take.",
            "Move circuits to the main panel, or give the panel's true number of spaces.",
        )


def _ranges(document: HouseDocument) -> Iterator[Problem]:
    """Pairs of values that must stand in order."""
    pairs: list[tuple[Where, float | None, float | None, str]] = []
    if document.water is not None:
        pairs.append((("water", "cut_in"), document.water.cut_in_pa, document.water.cut_out_pa, "cut_out"))
    if document.heat is not None:
        pairs.append((("heat", "lowest"), document.heat.lowest_c, document.heat.set_c, "set"))
    if document.hot_water is not None:
        pairs.append((("hot_water", "lowest"), document.hot_water.lowest_c, document.hot_water.set_c, "set"))
        pairs.append(
            (("hot_water", "inlet"), document.hot_water.inlet_c, document.hot_water.lowest_c, "lowest")
        )
    pairs.append(
        (
            ("wishes", "shortest_spell"),
            document.wishes.shortest_spell_s,
            document.wishes.longest_spell_s + 1e-9,
            "longest_spell",
        )
    )
    for where, low, high, upper in pairs:
        if low is not None and high is not None and low >= high:
            yield where, f"must be below {upper}.", "Are the two swapped?"


def _hot_water(document: HouseDocument) -> Iterator[Problem]:
    """What is said to heat the tank against what the file has."""
    tank = document.hot_water
    if tank is None:
        return
    heater = document.heat.heater if document.heat is not None else None
    if tank.heated_by == "boiler" and heater is None:
        wanted = "A boiler heats the hot water: heater = { load = ..., output = ... }, or correct heated_by."
        yield ("heat", "heater"), "is missing.", wanted
    if tank.heated_by == "electric" and tank.output_w is not None:
        told = "is of a boiler, a flame or a heat pump, and an element heats this tank."
        yield (
            ("hot_water", "output"),
            told,
            "Say element in its place, or give heated_by: without it an element is taken.",
        )
    if tank.heated_by in ("boiler", "gas_pilot") and tank.element_w is not None and tank.load is None:
        wanted = "An electric element has a load; the heat of boiler or flame is output, or is left out."
        yield ("hot_water", "load"), "is missing.", wanted


def _currency(document: HouseDocument) -> Iterator[Problem]:
    """A currency whose rate is neither given nor in the table: the dollar prices could not be turned into it."""
    prices = document.prices
    if prices.for_a_dollar is None and prices.currency not in currencies():
        yield (
            ("prices", "currency"),
            "has no rate in the table, so the dollar prices of the cost table cannot be turned into it.",
            f"Add for_a_dollar = how many {prices.currency} one US dollar is.",
        )


_CHECKS: tuple[Callable[[HouseDocument], Iterator[Problem]], ...] = (
    _duplicates,
    _references,
    _readings,
    _catalogue,
    voltage_problems,
    wire_problems,
    machine_problems,
    _fuel,
    _hookup,
    _ranges,
    _hot_water,
    _currency,
)

"""Faults that only show when two parts of the file are held together: names, references, impossible pairs."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from hearthold.errors import Fault
from hearthold.house import locate, wire
from hearthold.house.document import HouseDocument
from hearthold.house.faults import dotted
from hearthold.house.loads import Circuit, LoadEntry
from hearthold.house.motorcircuit import motor_device
from hearthold.house.nameplate import full_load_a, kind_of, known_voltage, nameplate_gap, running_power
from hearthold.house.near import did_you_mean
from hearthold.house.site import VoltageSystem
from hearthold.house.supply import HookupKind
from hearthold.reference import loads, motors
from hearthold.reference.outages import outage_regions
from hearthold.reference.reader import table

Where = tuple[str | int, ...]
Problem = tuple[Where, str, str, str]  # place, value shown, problem, remedy


def pairing_faults(document: HouseDocument, path: str, text: str) -> tuple[Fault, ...]:
    """Every fault of the document as a whole, located in the text, in file order."""
    index = locate.line_index(text)
    found = [
        Fault(path, locate.line_of(index, where), dotted(where), value, problem, remedy)
        for check in _CHECKS
        for where, value, problem, remedy in check(document)
    ]
    return tuple(sorted(found, key=lambda f: (f.line or 0, f.key)))


def _duplicates(document: HouseDocument) -> Iterator[Problem]:
    groups: dict[str, Iterable[str]] = {
        "load": [x.id for x in document.load],
        "circuit": [x.id for x in document.circuit],
        "cold": [x.id for x in document.cold],
        "pit": [x.id for x in document.pit],
    }
    for section, ids in groups.items():
        first: dict[str, int] = {}
        for i, name in enumerate(ids):
            if name in first:
                other = dotted((section, first[name]))
                yield (
                    (section, i, "id"),
                    repr(name),
                    f"is already the id of {other}.",
                    "Give each its own id.",
                )
            first.setdefault(name, i)


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
                f"{reading.age_s / 3600.0:.3g} h",
                f"is too old to start from: at most {oldest_s / 3600.0:g} h.",
                "Read the thermometer again, or take the entry out.",
            )


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
        yield where, repr(name), f"names no {what} of this file.", did_you_mean(name, known)


def _catalogue(document: HouseDocument) -> Iterator[Problem]:
    """Words that must stand in a reference table, and loads that say too little to be computed."""
    kinds = loads.load_ids()
    for i, load in enumerate(document.load):
        if load.kind is not None and load.kind not in kinds:
            hint = did_you_mean(load.kind, kinds) + " Search with: hearthold loads WORD"
            yield ("load", i, "kind"), repr(load.kind), "is not a kind of the load catalogue.", hint
        elif load.kind is not None and document.site.system.value not in loads.load(load.kind).systems:
            system = document.site.system.value
            yield (
                ("load", i, "kind"),
                repr(load.kind),
                f"is not made for {system}.",
                "Choose a kind for this supply.",
            )
        elif (gap := nameplate_gap(load, document.site.system)) is not None:
            yield (
                ("load", i),
                "",
                gap,
                "Give a kind of the catalogue, or running watts, amps, horsepower or a label.",
            )
    yield from _table_words(document)


def _table_words(document: HouseDocument) -> Iterator[Problem]:
    if document.generator is not None:
        yield from _word(
            ("generator", "receptacle"), document.generator.receptacle, _names("connectors"), "connector"
        )
    if document.hookup is not None:
        yield from _word(("hookup", "inlet"), document.hookup.inlet, _names("connectors"), "connector")
    yield from _word(("outages", "region"), document.outages.region, outage_regions(), "region")
    for i, load in enumerate(document.load):
        yield from _word(("load", i, "start_kind"), load.start_kind, motors.start_kinds(), "way to start")
    if document.heat is not None:
        yield from _word(
            ("heat", "house_class"), document.heat.house_class, _names("house_classes"), "house class"
        )


def _names(table_name: str) -> list[str]:
    return [str(n) for n in table(table_name).names()]


def _word(where: Where, word: str | None, known: Iterable[str], what: str) -> Iterator[Problem]:
    words = list(known)
    if word is not None and word not in words:
        hint = did_you_mean(word, words) or f"Known: {', '.join(words)}."
        yield where, repr(word), f"is not a {what} of the reference table.", hint


def _voltages(document: HouseDocument) -> Iterator[Problem]:
    """Loads, circuits and the machine against the supply's voltages."""
    system = document.site.system
    circuits = {c.id: c for c in document.circuit}
    volts = [f"{v:g}" for v in sorted({system.leg_voltage_v, system.full_voltage_v})]
    for i, load in enumerate(document.load):
        circuit = circuits.get(load.circuit)
        voltage = known_voltage(load, document.site.system)
        if circuit is None or voltage is None:
            continue
        if not 0.8 * system.leg_voltage_v <= voltage <= 1.2 * system.full_voltage_v:
            yield (
                ("load", i, "volts"),
                f"{voltage:g} V",
                f"is not a voltage of {system.value}.",
                f"Use {' or '.join(volts)}.",
            )
        elif voltage > 1.2 * system.leg_voltage_v and circuit.poles == 1:
            yield (
                ("load", i, "volts" if load.volts_v is not None else "circuit"),
                f"{voltage:g} V",
                f'cannot hang on circuit "{circuit.id}", which has one pole ({system.leg_voltage_v:g} V).',
                "Give the circuit poles = 2, or correct the load's voltage.",
            )
    for i, circuit in enumerate(document.circuit):
        yield from _poles_and_legs(i, circuit, system)


def _poles_and_legs(i: int, circuit: Circuit, system: VoltageSystem) -> Iterator[Problem]:
    if system is VoltageSystem.SINGLE_230 and circuit.poles == 2:
        yield (
            ("circuit", i, "poles"),
            "2",
            "means 240 V across two legs, which this supply does not have.",
            "Use poles = 1.",
        )
    if circuit.poles == 1 and circuit.leg == "AB":
        yield ("circuit", i, "leg"), "'AB'", "needs two poles.", 'Use leg = "A" or "B", or poles = 2.'
    if circuit.poles == 2 and circuit.leg in ("A", "B"):
        yield (
            ("circuit", i, "leg"),
            repr(circuit.leg),
            "is one leg, and the circuit has two poles.",
            'Use leg = "AB".',
        )
    if system is VoltageSystem.SINGLE_230 and circuit.leg == "B":
        yield (
            ("circuit", i, "leg"),
            "'B'",
            "does not exist on a single-phase supply.",
            'Leave leg out, or use "A".',
        )


def _wires(document: HouseDocument) -> Iterator[Problem]:
    """Conductors too thin for their breaker; motor circuits may have a larger one: see the rules."""
    for i, circuit in enumerate(document.circuit):
        if not wire.known(circuit.wire, circuit.material):
            yield (
                ("circuit", i, "wire"),
                repr(circuit.wire),
                f"is not among the {circuit.material} sizes of the tables.",
                wire.sizes_hint(),
            )
            continue
        if wire.is_metric(circuit.wire) != (document.site.system is VoltageSystem.SINGLE_230):
            yield (
                ("circuit", i, "wire"),
                repr(circuit.wire),
                f"is not how sizes are told on {document.site.system.value}.",
                wire.sizes_hint(),
            )
            continue
        limit_a = wire.largest_breaker_a(circuit)
        motors_a = _motors_alone_a(document, circuit.id)
        if circuit.breaker_a > limit_a and motors_a:
            yield from _motor_breaker(i, circuit, motor_device(motors_a).most_a)
        elif circuit.breaker_a > limit_a:
            yield (
                ("circuit", i, "breaker"),
                f"{circuit.breaker_a:g} A",
                (
                    f"is too large for {circuit.wire} {circuit.material}: at most {limit_a:g} A "
                    f"({wire.limit_source(circuit)})."
                ),
                "If the house is really wired so, switch the circuit off and call an electrician.",
            )
    yield from _supply_wires(document)


def _supply_wires(document: HouseDocument) -> Iterator[Problem]:
    if document.hookup is None:
        return
    for part in ("cord", "feeder"):
        run = getattr(document.hookup, part)
        if run is not None and not wire.known(run.wire, run.material):
            yield (
                ("hookup", part, "wire"),
                repr(run.wire),
                f"is not among the {run.material} sizes of the tables.",
                wire.sizes_hint(),
            )


def _motor_breaker(i: int, circuit: Circuit, most_a: float) -> Iterator[Problem]:
    """A breaker beyond what any motor's start is a reason for."""
    if circuit.breaker_a > most_a:
        yield (
            ("circuit", i, "breaker"),
            f"{circuit.breaker_a:g} A",
            (
                f"is more than the motors on it ever need: at most {most_a:.3g} A, about four times what they draw "
                f"({wire.motor_source(circuit)})."
            ),
            "If the house is really wired so, switch the circuit off and call an electrician.",
        )


def _motors_alone_a(document: HouseDocument, circuit_id: str) -> list[float]:
    """Full-load currents of the motors of a circuit that has motors alone; else none."""
    on = [x for x in document.load if x.circuit == circuit_id]
    plugged = {store.load for store in document.cold}
    if not all(_is_motor(x) and x.id not in plugged for x in on):
        return []
    currents_a = [full_load_a(x, document.site.system) for x in on]
    return [a for a in currents_a if a is not None]


def _is_motor(load: LoadEntry) -> bool:
    """True for a load whose start draws clearly more than its running; not for what only plugs in."""
    kind = kind_of(load)
    if kind is not None and kind.group == "cold":
        return False
    return bool(load.horsepower or load.lra_a) or (kind is not None and kind.start_va > 2.0 * kind.running_va)


def _machine(document: HouseDocument) -> Iterator[Problem]:
    """A load on a fed circuit that alone needs more than the machine gives on any fuel."""
    if document.generator is None:
        return
    best_w = max(rating.running_w for rating in document.generator.on)
    for i, rating in enumerate(document.generator.on):
        if rating.start_w is not None and rating.start_w < rating.running_w:
            yield (
                ("generator", "on", i, "start"),
                f"{rating.start_w:g} W",
                f"is below running = {rating.running_w:g} W.",
                "The starting (surge) figure is the larger one.",
            )
    circuits = {c.id: c for c in document.circuit if c.panel == "essential"}
    for i, load in enumerate(document.load):
        running_w = running_power(load, document.site.system)
        if load.circuit in circuits and running_w is not None and running_w > best_w:
            yield _too_big(i, load, running_w, best_w)


def _too_big(i: int, load: LoadEntry, running_w: float, best_w: float) -> Problem:
    key = next(
        (
            k
            for k, v in (("running", load.running_w), ("horsepower", load.horsepower), ("amps", load.amps_a))
            if v is not None
        ),
        "kind",
    )
    return (
        ("load", i, key),
        f"{running_w:.0f} W",
        f'is more than the machine gives running ({best_w:.0f} W), so "{load.id}" can never run on it.',
        'Move its circuit to panel = "main", or correct the figure.',
    )


def _fuel(document: HouseDocument) -> Iterator[Problem]:
    """The fuel kept at home against the machine that is to burn it."""
    machine, fuel = document.generator, document.fuel
    if machine is not None and fuel is None:
        wanted = "A generator needs a [fuel] section with preferred = ... and the stock at home."
        yield ("fuel",), "", "is missing.", wanted
    if fuel is None:
        return
    burned = {rating.fuel for rating in machine.on} if machine is not None else {fuel.preferred}
    if fuel.preferred not in burned:
        told = "is not a fuel of this generator."
        yield (
            ("fuel", "preferred"),
            repr(fuel.preferred.value),
            told,
            f"It burns: {', '.join(sorted(burned))}.",
        )
    for i, stock in enumerate(fuel.stock):
        if stock.amount_m3 is None and stock.mass_kg is None and not stock.mains:
            remedy = 'Give amount = "15 gal", mass = "40 lb", or mains = true.'
            yield ("fuel", "stock", i), "", "says no amount.", remedy


def _hookup(document: HouseDocument) -> Iterator[Problem]:
    """A battery where the hookup needs one, and the panel spaces that the essential circuits take."""
    hookup = document.hookup
    if hookup is not None and hookup.kind is HookupKind.BATTERY_INVERTER and document.battery is None:
        remedy = "Add a [battery] section with capacity, charge, discharge, or choose another kind of hookup."
        yield ("hookup", "kind"), repr(hookup.kind.value), "needs a battery, and the file has none.", remedy
    if hookup is None or hookup.panel_spaces is None or hookup.kind is not HookupKind.MANUAL_TRANSFER:
        return
    used = sum(c.poles for c in document.circuit if c.panel == "essential")
    if used > hookup.panel_spaces:
        yield (
            ("hookup", "panel_spaces"),
            str(hookup.panel_spaces),
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
            yield where, "", f"must be below {upper}.", "Are the two swapped?"


_CHECKS: tuple[Callable[[HouseDocument], Iterator[Problem]], ...] = (
    _duplicates,
    _references,
    _readings,
    _catalogue,
    _voltages,
    _wires,
    _machine,
    _fuel,
    _hookup,
    _ranges,
)

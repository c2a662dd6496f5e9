"""The limit chain: from the machine through breaker, cord, inlet, transfer and feeder to the panel's legs.

What arrives is what the weakest link passes: a 10 kW machine on a 30 A, 240 V cord delivers 7.2 kW, and
5.76 kW where the 80 % rule for three hours and more applies. Breakers and cords pass a motor's start of a
second or two; the machine is what limits it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.house.site import VoltageSystem
from hearthold.house.supply import HookupKind
from hearthold.reference import ampacity as nec
from hearthold.reference import connectors as plugs
from hearthold.reference import metric
from hearthold.reference.plugs import extension_cords
from hearthold.sizing.carrying import TABLE_AMBIENT_C, Lay, carrying, next_size
from hearthold.sizing.inverter import Inverter, inverter

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import Hookup, Run
    from hearthold.reference.connectors import Connector
    from hearthold.sizing.supply import Supply


PANEL, EACH_CORD = "the panel", "the end of each cord"  # where the power of a chain arrives


@dataclass(frozen=True, slots=True)
class Link:
    """One part that all the power passes through."""

    kind: str
    name: str
    rated_a: float  # up to three hours
    continuous_a: float  # three hours or more
    voltage_v: float
    next_a: float | None  # what the next size of this part passes; None where there is no next size
    next_name: str
    notes: tuple[str, ...] = ()

    @property
    def rated_w(self) -> float:
        """Watts it passes at unity power factor."""
        return self.rated_a * self.voltage_v

    @property
    def continuous_w(self) -> float:
        """Watts it passes for three hours or more."""
        return self.continuous_a * self.voltage_v


@dataclass(frozen=True, slots=True)
class Chain:
    """Every link in order, the weakest, and what would arrive if it were one size larger."""

    links: tuple[Link, ...]
    weakest: tuple[Link, ...]  # all that share the lowest rating
    weakest_continuous: Link
    delivered_w: float
    continuous_w: float
    start_w: float
    start_va: float
    leg_a: float  # the most on one leg, for up to three hours
    leg_continuous_a: float
    leg_voltage_v: float
    passes_240: bool
    passes_neutral: bool
    with_next_w: float  # delivered if every weakest link were its next size
    unknown: tuple[str, ...]  # parts whose rating the house file does not give
    notes: tuple[str, ...]
    end: str = PANEL

    def at_split_w(self, heavier_leg_frac: float) -> float:
        """Watts that arrive when one leg carries this share of the load (0.5 is an even split)."""
        if self.delivered_w == 0.0 or heavier_leg_frac <= 0.0:
            return self.delivered_w
        return min(self.delivered_w, self.leg_a * self.leg_voltage_v / heavier_leg_frac)


def chain(house: House, source: Supply, ambient_c: float = TABLE_AMBIENT_C) -> Chain:
    """The chain of a house's hookup behind a machine, at unity power factor.

    Raises: InputError where there is no hookup; TableError for a connector the table lacks.

    Source: NFPA 70 (NEC) 210.20(A), 215.3 (continuous loads), 400.5, 310.16; connectors ANSI/NEMA WD 6 and
    IEC 60309-2; the least of the links is arithmetic.
    """
    if house.hookup is None:
        raise InputError("the house file has no [hookup]; describe how power is to enter.", code="no_hookup")
    maker = _Maker(house, house.hookup, ambient_c, plugs_of(house), chain_voltage_v(house))
    return _chain(tuple(maker.from_machine(source)), maker, source, tuple(maker.unknown()))


def battery_chain(house: House) -> Chain | None:
    """The chain from the battery's inverter to the panel; None without a battery or a panel that it feeds.

    While the set runs its power passes the inverter's transfer switch; the inverter itself carries the panel only
    while the set rests. Source: as `chain`.
    """
    source, hookup = inverter(house), house.hookup
    if source is None or hookup is None or hookup.kind is HookupKind.CORDS:
        return None
    maker = _Maker(house, hookup, TABLE_AMBIENT_C, (), house.system.full_voltage_v)
    return _chain(tuple(maker.from_battery(source)), maker, source, ())


def cord_chain(house: House, source: Supply) -> Chain:
    """The way of one extension cord, from one leg of the machine to the appliance's own plug: there is no panel.

    Several cords share the machine's whole rating. Raises: InputError where there is no hookup.

    Source: as `chain`; plugs of appliances by reference.plugs.
    """
    if house.hookup is None:
        raise InputError("the house file has no [hookup]; describe how power is to enter.", code="no_hookup")
    maker = _Maker(house, house.hookup, TABLE_AMBIENT_C, (), house.system.leg_voltage_v)
    unknown = ("cord",) if house.hookup.cord is None else ()
    return replace(_chain(tuple(maker.on_a_cord(source)), maker, source, unknown), end=EACH_CORD)


def _chain(
    links: tuple[Link, ...], maker: _Maker, source: Supply | Inverter, unknown: tuple[str, ...]
) -> Chain:
    """What the links together let through from a source."""
    lowest_w = min(x.rated_w for x in links)
    weakest = tuple(x for x in links if x.rated_w <= lowest_w * 1.005)
    continuous = min(links, key=lambda x: x.continuous_w)
    leg_v = maker.house.system.leg_voltage_v
    # the machine's first link is its whole rating; on one leg its windings count
    legs_a = [x.rated_a for x in links[1:]] + [source.leg_limit_w / leg_v]
    legs_continuous_a = [x.continuous_a for x in links[1:]] + [source.leg_limit_w / leg_v]
    return Chain(
        links,
        weakest,
        continuous,
        lowest_w,
        continuous.continuous_w,
        source.start_w,
        source.start_va,
        min(legs_a),
        min(legs_continuous_a),
        leg_v,
        maker.volts > 200.0,
        all(plug.has_neutral for plug in maker.plugs),
        _with_next_w(links, weakest),
        unknown,
        maker.notes(),
    )


def plugs_of(house: House) -> tuple[Connector, ...]:
    """The plugs that all the power passes; a standby machine is wired in and has none of its own."""
    machine, hookup = house.generator, house.hookup
    names = [machine.receptacle] if machine is not None and machine.kind != "standby" else []
    names += [hookup.inlet] if hookup is not None and hookup.inlet is not None else []
    return tuple(plugs.connector(n) for n in names)


def chain_voltage_v(house: House) -> float:
    """Voltage at which the power arrives: the lowest of machine and plugs."""
    machine_v = house.generator.voltage_v if house.generator is not None else None
    return min([machine_v or house.system.full_voltage_v] + [plug.working_v for plug in plugs_of(house)])


class _Maker:
    """Builds the links of one hookup; holds what they share."""

    def __init__(
        self, house: House, hookup: Hookup, ambient_c: float, through: tuple[Connector, ...], volts: float
    ) -> None:
        self.house, self.hookup, self.ambient_c = house, hookup, ambient_c
        self.nec = house.system is VoltageSystem.SPLIT_120_240
        self.factor = nec.continuous_factor() if self.nec else 1.0
        self.plugs, self.volts = through, volts

    def from_machine(self, source: Supply) -> Iterator[Link]:
        """Links from the machine on, in the order in which the power passes."""
        hookup, machine = self.hookup, self.house.generator
        machine_a = source.running_w / self.volts
        yield Link("generator", source.name, machine_a, machine_a, self.volts, None, "a larger machine")
        if machine is not None:
            yield from self._device("generator breaker", machine.breaker_a)
            if machine.kind != "standby":
                yield self._connector("receptacle", machine.receptacle)
        yield from self._conductor("cord", hookup.cord, hookup.inlet_breaker_a)
        if hookup.inlet is not None:
            yield self._connector("inlet", hookup.inlet)
        yield from self._device("inlet breaker", hookup.inlet_breaker_a)
        yield from self._to_panel()

    def from_battery(self, source: Inverter) -> Iterator[Link]:
        """Links from the battery's inverter on."""
        rated_a, name = source.running_w / self.volts, f"{source.running_w:,.0f} W"
        yield Link("inverter", name, rated_a, rated_a, self.volts, None, "a larger inverter")
        yield from self._to_panel()

    def on_a_cord(self, source: Supply) -> Iterator[Link]:
        """Links of one cord: one leg of the machine, the cord, the plug of what hangs on it."""
        leg_a = source.leg_limit_w / self.volts
        yield Link("generator", f"{source.name}, one leg", leg_a, leg_a, self.volts, None, "a larger machine")
        plug_a = extension_cords(self.house.system.value).plug_a
        yield from self._conductor("cord", self.hookup.cord, plug_a)
        yield Link("plug", f"{plug_a:g} A", plug_a, plug_a / self.factor, self.volts, None, "")

    def _to_panel(self) -> Iterator[Link]:
        """What both ways have in common."""
        hookup = self.hookup
        yield from self._device("transfer device", hookup.transfer_a)
        yield from self._conductor("feeder", hookup.feeder, hookup.inlet_breaker_a)
        if hookup.kind is not HookupKind.INTERLOCK:  # there it is open while the set runs
            yield from self._device("panel main", hookup.panel_main_a)
        yield from self._device("panel bus", hookup.panel_bus_a)

    def unknown(self) -> Iterator[str]:
        """Parts of the chain whose rating nobody gave."""
        hookup, machine = self.hookup, self.house.generator
        if machine is not None and machine.breaker_a is None:
            yield "generator breaker"
        if hookup.cord is None and hookup.inlet is not None:
            yield "cord"
        if hookup.inlet is not None and hookup.inlet_breaker_a is None:
            yield "inlet breaker"
        if hookup.kind.value in ("manual_transfer", "automatic_standby"):
            for name, value in (("transfer device", hookup.transfer_a), ("feeder", hookup.feeder)):
                if value is None:
                    yield name

    def notes(self) -> tuple[str, ...]:
        """What follows from the connectors as a whole."""
        notes = []
        if self.nec and self.volts < 200.0:
            notes.append("this chain is 120 V only: no 240 V load can run on it")
        if not all(plug.has_neutral for plug in self.plugs):
            notes.append("this chain has no neutral: no 120 V load can run on it")
        return tuple(notes)

    def _device(self, kind: str, rating_a: float | None) -> Iterator[Link]:
        if rating_a is not None:
            larger_a = self._next_device_a(rating_a)
            name = f"{larger_a:g} A" if larger_a else ""
            yield Link(kind, f"{rating_a:g} A", rating_a, rating_a / self.factor, self.volts, larger_a, name)

    def _connector(self, kind: str, ident: str) -> Link:
        plug = plugs.connector(ident)
        best = _next_connector(plug)
        next_a, next_name = (best.rating_a, best.id) if best else (None, "")
        return Link(
            kind, ident, plug.rating_a, plug.rating_a * plug.continuous_frac, self.volts, next_a, next_name
        )

    def _conductor(self, kind: str, run: Run | None, device_a: float | None) -> Iterator[Link]:
        if run is None:
            return
        ambient_c = max(self.ambient_c, TABLE_AMBIENT_C) if kind == "cord" else TABLE_AMBIENT_C
        lay = Lay(ambient_c, run.live_conductors, device_a or 0.0)
        cable = run.cable or ("cord" if kind == "cord" else None)
        found = carrying(run.wire, run.material, cable, self.house.system, lay)
        larger = next_size(found, found.allowed_a * 1.001)
        next_a = carrying(larger, run.material, cable, self.house.system, lay).allowed_a if larger else None
        name = f"{run.wire} {found.cable}"
        yield Link(
            kind, name, found.allowed_a, found.continuous_a, self.volts, next_a, larger or "", found.notes
        )

    def _next_device_a(self, rating_a: float) -> float | None:
        series = nec.standard_breakers_a() if self.nec else metric.standard_breakers_a()
        return next((a for a in series if a > rating_a), None)


def _next_connector(plug: Connector) -> Connector | None:
    """The next larger connector of the same voltage, with a neutral where this one has it."""
    alike = [
        c
        for c in plugs.connectors()
        if c.rating_a > plug.rating_a and c.working_v == plug.working_v and c.has_neutral is plug.has_neutral
    ]
    return min(alike, key=lambda c: c.rating_a, default=None)


def _with_next_w(links: tuple[Link, ...], weakest: tuple[Link, ...]) -> float:
    """Delivered watts with each weakest link at its next size; a machine has no next size and stays."""
    grown = [replace(x, rated_a=x.next_a) if x in weakest and x.next_a else x for x in links]
    return min(x.rated_w for x in grown)

"""`Case`: one house on one day under one set of conditions, with everything the rules ask worked out once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from hearthold.house.house import House
from hearthold.house.loads import Load, Priority
from hearthold.house.supply import FuelRating, Generator, Hookup, HookupKind
from hearthold.reference.local_words import in_local_words
from hearthold.sizing.chain import Chain, chain
from hearthold.sizing.conditions import Conditions
from hearthold.sizing.demand import Demand, LegDemand, demand, figures, running_currents
from hearthold.sizing.gridside import GridFeeder, grid_feeder
from hearthold.sizing.hold import Hold
from hearthold.sizing.holds import holds
from hearthold.sizing.inverter import Inverter, inverter
from hearthold.sizing.order import SwitchOn, switch_on_order
from hearthold.sizing.placement import Placement, placement
from hearthold.sizing.supply import MotorStart, Supply, motor_starts, supply
from hearthold.sizing.wiring import Wiring, wiring

_DAY_S = 86400.0
_WAYS = {
    HookupKind.CORDS: "set of extension cords",
    HookupKind.INTERLOCK: "breaker interlock",
    HookupKind.MANUAL_TRANSFER: "manual transfer equipment",
    HookupKind.AUTOMATIC_STANDBY: "automatic transfer switch",
    HookupKind.BATTERY_INVERTER: "transfer equipment of the inverter",
}


@dataclass(frozen=True, slots=True)
class Played:
    """What the routine of a plan was found to do when it was played through."""

    fails_at_s: float  # time of day at which the grid failed in it
    gap_s: float  # longest between two spells
    run_day_s: float
    fuel_s: float  # how long all fuel at home lasts
    kept: frozenset[str]  # stores within their limit throughout, by id
    keeps_all: bool = True  # else it may be short of fuel, and says nothing of what the outage needs


@dataclass(frozen=True)
class Case:
    """What is checked: the house, the conditions, and the day, which is given and never read from a clock.

    `played`: what is known of the routine where the check is part of a plan; without it the wishes stand for it.
    """

    house: House
    conditions: Conditions
    today: date
    played: Played | None = None

    # ------------------------------------------------------------ the machine and the hookup

    @property
    def generator(self) -> Generator | None:
        """The machine, whatever its kind."""
        return self.house.generator

    @property
    def portable(self) -> Generator | None:
        """The machine if people carry or tow it to its place."""
        set_ = self.house.generator
        return set_ if set_ is not None and set_.kind != "standby" else None

    @property
    def owned(self) -> Generator | None:
        """The machine if the household has it already."""
        set_ = self.house.generator
        return set_ if set_ is not None and set_.owned else None

    @property
    def rough_set(self) -> Generator | None:
        """The machine if no inverter makes its output, so that voltage and frequency swing with the load."""
        set_ = self.house.generator
        return set_ if set_ is not None and set_.kind in ("portable", "pto") else None

    @property
    def hookup(self) -> Hookup | None:
        """How power enters the house, whatever the way."""
        return self.house.hookup

    @property
    def fed_panel(self) -> str:
        """What the panel of the fed circuits is called here."""
        which = "main" if self.house.main_panel_fed else "essential"
        return in_local_words(f"the {which} panel", self.house.system)

    @property
    def way(self) -> str:
        """What the hookup is called here; empty where there is none."""
        hookup = self.house.hookup
        return "" if hookup is None else in_local_words(_WAYS[hookup.kind], self.house.system)

    @cached_property
    def panel_hookup(self) -> Hookup | None:
        """The hookup if it feeds circuits through transfer equipment; None for cords or nothing."""
        hookup = self.house.hookup
        return None if self.house.on_cords else hookup

    @property
    def is_automatic(self) -> bool:
        """True where a set starts and takes the house over by itself."""
        return self.generator is not None and self.house.takes_over

    @cached_property
    def rating(self) -> FuelRating | None:
        """What the machine gives on the fuel it will burn: the preferred one, or its first."""
        set_, fuel = self.house.generator, self.house.fuel
        if set_ is None:
            return None
        wanted = [r for r in set_.on if fuel is not None and r.fuel is fuel.preferred]
        return (wanted or list(set_.on))[0]

    # ------------------------------------------------------------ what power reaches

    @cached_property
    def fed_ids(self) -> frozenset[str]:
        """Ids of the circuits that get power through transfer equipment."""
        return (
            frozenset(c.id for c in self.house.fed_circuits) if self.panel_hookup is not None else frozenset()
        )

    @cached_property
    def fed_loads(self) -> tuple[Load, ...]:
        """Loads that power can reach while the grid is down, in file order."""
        return tuple(x for x in self.house.loads if self.reaches(x))

    @cached_property
    def needed_loads(self) -> tuple[Load, ...]:
        """Vital and essential loads that power can reach."""
        return tuple(x for x in self.fed_loads if x.priority.rank <= Priority.ESSENTIAL.rank)

    def reaches(self, load: Load) -> bool:
        """True where the hookup feeds the load's circuit, or one of the cords laid the load itself."""
        return load in self.house.reach.on_cords if self.house.on_cords else load.circuit in self.fed_ids

    # ------------------------------------------------------------ sizing, worked out when first asked

    @cached_property
    def supply(self) -> Supply | None:
        """What the machine gives here; None without one. Raises InputError for a fuel it has no rating on."""
        return None if self.generator is None else supply(self.house, self.conditions)

    @cached_property
    def seats(self) -> Placement:
        """The leg of every circuit."""
        return placement(self.house)

    @cached_property
    def chain(self) -> Chain | None:
        """The limit chain of a hookup behind the machine; None where either is missing."""
        source = self.supply
        return None if source is None or self.panel_hookup is None else chain(self.house, source)

    @cached_property
    def demand(self) -> Demand:
        """What the fed circuits can ask for."""
        return demand(self.house, self.fed_ids, self.seats)

    @cached_property
    def needed(self) -> LegDemand:
        """Demand of the vital and essential loads together, all of them running."""
        return figures(running_currents(self.house, self.seats, self.needed_loads))

    @cached_property
    def needed_average_w(self) -> float:
        """Mean power over the day of the vital and essential loads."""
        return sum(x.running_w * x.duty_frac for x in self.needed_loads)

    @cached_property
    def starts(self) -> tuple[MotorStart, ...]:
        """Motor starts on top of what runs by itself, deepest dip first."""
        return () if self.supply is None else motor_starts(self.house, self.supply, self.fed_ids, self.seats)

    @cached_property
    def lone_starts(self) -> tuple[MotorStart, ...]:
        """Motor starts with nothing else on."""
        source = self.supply
        return () if source is None else motor_starts(self.house, source, self.fed_ids, self.seats, idle=True)

    @cached_property
    def wiring(self) -> Wiring:
        """Circuits, cord and feeder: carrying capacity and voltage drop."""
        return wiring(self.house, self.seats)

    @cached_property
    def grid_feeder(self) -> GridFeeder | None:
        """The feeder on grid power; None where there is none, or where grid power never passes it."""
        return grid_feeder(self.house)

    @cached_property
    def inverter(self) -> Inverter | None:
        """The inverter of the house's battery, where it feeds circuits; None without one."""
        return inverter(self.house) if self.panel_hookup is not None else None

    @cached_property
    def hold_of(self) -> Mapping[str, Hold]:
        """How long each store lasts from now without power, by its id."""
        return {hold.store: hold for hold in holds(self.house, self.conditions)}

    @cached_property
    def order(self) -> SwitchOn:
        """The switch-on order of least peak for the fed circuits."""
        return switch_on_order(self.house, self.fed_ids, self.seats)

    # ------------------------------------------------------------ times

    @property
    def planned_s(self) -> float:
        """The outage the household wants to get through."""
        return self.house.outages.plan_for_s

    @property
    def quiet_s(self) -> float:
        """Length of the quiet time, which may wrap past midnight."""
        people = self.house.people
        return (people.quiet_to_s - people.quiet_from_s) % _DAY_S

    @property
    def gap_s(self) -> float:
        """Longest gap between two spells of an ordinary day of the outage; none with an automatic set.

        The routine's own where it is known. Else with running at night the spells are spread over the day; without,
        the night is one gap, or the waking day divided by its spells where that is longer.
        """
        if self.is_automatic:
            return 0.0
        if self.played is not None:
            return self.played.gap_s
        spells = self.house.wishes.spells_per_day
        if self.house.wishes.run_at_night or self.quiet_s == 0.0:
            return _DAY_S / spells
        return max(self.quiet_s, (_DAY_S - self.quiet_s) / spells)

    @property
    def fed_panel_words(self) -> str:
        """What a circuit can be put on to get power; on cords there is no such panel yet."""
        fed = self.hookup is not None and not self.house.on_cords
        words = "the essential panel" if fed else "transfer equipment, which has yet to be put in"
        return in_local_words(words, self.house.system)

    @property
    def gap_words(self) -> str:
        """Where the gap is from; empty where it is the routine's own."""
        if self.played is not None:
            return ""
        return (
            "That gap is spread from the wishes of the house file; a plan works out the routine, whose gap may be "
            "another, plays it through and says what it keeps."
        )

    def is_kept(self, store: str) -> bool:
        """True where the routine, played through, keeps a store within its limit; False where nothing is known."""
        return self.played is not None and store in self.played.kept

    def days_since(self, then: date) -> int:
        """Whole days from a date to the day of the check."""
        return (self.today - then).days

"""One job of paper making: the plan, the house, the day, the sheet of paper, and the reader's units."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.house.cords import on_a_cord
from hearthold.house.site import VoltageSystem
from hearthold.papers.words.local import writes_on_letter
from hearthold.papers.words.phrases import sentence
from hearthold.papers.words.say import Say
from hearthold.plan.turns import off_cords
from hearthold.reference import cautions
from hearthold.reference.local_words import in_local_words
from hearthold.rules.words import fuel_words
from hearthold.sizing.order import switch_on_order

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.loads import Load
    from hearthold.plan.result import Plan
    from hearthold.plan.turns import Turns
    from hearthold.reference.cautions import Caution
    from hearthold.sizing.hold import Hold
    from hearthold.sizing.order import SwitchOn
    from hearthold.sizing.supply import Supply
    from hearthold.study.comparison import Comparison
    from hearthold.study.result import Risk

LETTER, A4 = "letter", "a4"
_TYPST = {LETTER: "us-letter", A4: "a4"}


@dataclass(frozen=True, slots=True)
class Outlook:
    """What many random outages say of a house, for its report; `habit` is what the household is taken to do."""

    risk: Risk
    habit: tuple[str, ...]
    comparison: Comparison


@dataclass(frozen=True)
class Job:
    """What every paper of one set shares."""

    plan: Plan
    house: House
    today: date
    paper: str
    say: Say
    version: str
    url: str = ""  # of the pocket page, when it is served
    outlook: Outlook | None = None

    @property
    def nec(self) -> bool:
        """True on the North American system."""
        return self.house.system is VoltageSystem.SPLIT_120_240

    @property
    def typst_paper(self) -> str:
        """The sheet's name for the typesetter."""
        return _TYPST[self.paper]

    @property
    def stamp(self) -> str:
        """Date and version."""
        return f"{self.today.isoformat()} · Hearthold {self.version}"

    @cached_property
    def source(self) -> Supply | None:
        """The machine on the fuel that the plan is for; None without one."""
        if not self.plan.supplies:
            return None
        fuel = self.plan.fuel.burn.fuel if self.plan.fuel is not None else self.plan.supplies[0].fuel
        return next(s for s in self.plan.supplies if s.fuel is fuel)

    @cached_property
    def assumed(self) -> frozenset[str]:
        """Places whose value the household did not give."""
        return frozenset(a.item for a in self.plan.assumptions)

    @property
    def fuel_word(self) -> str:
        """The fuel in the words of the country; empty without a machine."""
        return "" if self.source is None else self.fuel(self.source.fuel)

    def fuel(self, *kinds: str) -> str:
        """Fuels as people call them here, listed."""
        return fuel_words(kinds, self.house.system)

    def told(self, text: str) -> str:
        """Words of the layers below in the reader's units and the words of the place."""
        return self.say.retold(in_local_words(text, self.house.system.value))

    def source_words(self, source: object) -> str:
        """Where a value is from; what the source says of itself is not said twice."""
        text = self.told(str(source))
        for said, mark in (("from memory", "memory"), ("no source", "practice")):
            text = text.replace(f" ({mark})", "") if said in text else text
        return text

    def hold_name(self, hold: Hold) -> str:
        """The name of a store: the household's own, or of its fuel as it is called here."""
        return self.told(hold.name) if hold.kind == "fuel" else hold.name

    @property
    def emergency(self) -> str:
        """Whom to call when life is in danger."""
        return cautions.emergency_number(self.house.site.country)

    @cached_property
    def turns(self) -> tuple[tuple[str, ...], ...]:
        """Sets of circuits that are on at one time, as the routine was replayed; all that are fed where no
        choice was made. What can never be carried is in none, behind an automatic switch either.

        On cords each is a circuit. Empty where nothing is fed at all, for want of a machine or of a way into the house.
        """
        if self.house.hookup is None:
            return ()
        choice, routine = self.plan.choice, self.plan.routine
        if self.house.on_cords:
            return () if routine is None else _sets(routine.turns)
        if choice is not None and choice.turns:
            turns = (_sets(routine.turns) if routine is not None else ()) or choice.turns
            return tuple(tuple(c for c in turn if c not in choice.never) for turn in turns)
        fed = tuple(c.id for c in self.house.fed_circuits)
        return (fed,) if fed and self.plan.supplies else ()

    @cached_property
    def orders(self) -> tuple[SwitchOn, ...]:
        """The switch-on order of each turn."""
        return tuple(switch_on_order(self.running, turn) for turn in self.turns)

    @property
    def running(self) -> House:
        """The house as the routine plays it: the same, or where cords are the way with the cords laid."""
        return self.house.running

    @cached_property
    def on_cords(self) -> tuple[Load, ...]:
        """Appliances that extension cords feed, where that is the hookup, in the order of plugging in."""
        in_order = (
            [step.circuit for order in self.orders for step in order.steps] if self.house.on_cords else []
        )
        return tuple(x for cord in dict.fromkeys(in_order) for x in self.running.loads_on(cord))

    @property
    def off_cords(self) -> tuple[str, ...]:
        """Sentences on what cords leave out, where that is the hookup and a machine feeds them."""
        return tuple(off_cords(self.house, self.turns)) if self.on_cords else ()

    def on_a_cord(self, load: Load) -> str:
        """What is plugged in: the appliance, or a lamp with a plug where the load's own lights are wired in."""
        return on_a_cord(self.house, load)

    def circuit(self, ident: str) -> str:
        """A circuit's or a cord's name; its id where the house has none of that id."""
        found = self.running.circuit_by_id.get(ident)
        return found.name if found else ident

    def load(self, ident: str) -> str:
        """A load's name; its id where the house has none of that id."""
        found = self.house.load_by_id.get(ident)
        return found.name if found else ident

    def caution(self, ident: str) -> str:
        """A caution in the words of this house's system and country; empty where it belongs to the other system.

        Raises: TableError with near names.
        """
        found = self.caution_row(ident)
        return sentence(found.text) if found is not None else ""

    def caution_row(self, ident: str) -> Caution | None:
        """The caution as it is said here; None where it belongs to the other system."""
        found = cautions.local_caution(ident, self.house.system.value, self.house.site.country)
        return found if self.house.system.value in found.systems else None


def _sets(turns: Turns) -> tuple[tuple[str, ...], ...]:
    """What is on in each turn; the last of several is the first again."""
    timed = turns.turns[: -1 if turns.changes else None]
    return tuple(turn.circuits for turn in timed if turn.circuits)


def sheet_for(house: House, asked: str | None) -> str:
    """The sheet of paper asked for, or the one usual where the house stands. Raises InputError."""
    if asked is None:
        return LETTER if writes_on_letter(house.site.country) else A4
    if asked not in _TYPST:
        raise InputError(
            f"paper is {asked!r}; allowed: {', '.join(_TYPST)}.", code="no_such_paper", paper=asked
        )
    return asked


def say_of(house: House, us: bool | None = None) -> Say:
    """The reader's units: as asked, or those usual where the house stands."""
    at_home = house.system is VoltageSystem.SPLIT_120_240 and house.site.country == "US"
    return Say(us=at_home if us is None else us, currency=house.prices.currency, degree="°")

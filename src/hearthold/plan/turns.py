"""Which circuits are on when within a spell: the set carried together first, then those that go in turns.

    turns = usual_turns(house)          # from the exact choice of circuits
    turns.steps                         # what the engine switches, in the order of least peak
    turns.sentence(house)

What cannot be carried beside the first set gets its turn a while after the start of every spell that lasts so
long; then the first set is back until the spell ends. A circuit that two turns in a row share stays on.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import inf
from typing import TYPE_CHECKING

from hearthold.engine.compile_machine import fuel_kind
from hearthold.engine.control import Step
from hearthold.house.cords import on_a_cord
from hearthold.house.loads import Priority
from hearthold.plan.choice import Choice, choose
from hearthold.plan.words import listed
from hearthold.sizing.order import Step as Switch
from hearthold.sizing.order import switch_on_order
from hearthold.sizing.supply import supply

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.loads import Load

MINUTE_S = 60.0
# Minutes of the first set before the others' turns, of each turn that brings what is vital or essential, and of
# those that bring comfort alone: what the routine chooses among (common practice, no source). The first is taken
# where nothing is tried.
TIMES_MIN = ((15, 15, 10), (15, 10, 10), (30, 10, 10), (30, 15, 10), (30, 30, 10), (15, 30, 10), (30, 30, 30))


@dataclass(frozen=True, slots=True)
class Turn:
    """A set of circuits that is on from and until a time after the start of a spell."""

    circuits: tuple[str, ...]
    from_s: float
    until_s: float


@dataclass(frozen=True, slots=True)
class Turns:
    """What is switched within a spell. `order`: circuits of the first turn in the order of least peak."""

    order: tuple[str, ...]
    turns: tuple[Turn, ...]
    steps: tuple[Step, ...]

    @property
    def changes(self) -> int:
        """How often somebody goes to the panel after everything of the first turn is on."""
        return len(self.turns) - 1

    def sentence(self, house: House) -> str:
        """What to do during a spell: at the panel, empty where one set serves; on cords, what to plug in too."""
        told, first = [], self._plugged(house)
        if self.changes < 1:
            return first
        for turn in self.turns[1:-1]:
            own = [house.circuit_by_id[c].name for c in turn.circuits]
            told.append(f"{turn.from_s / MINUTE_S:.0f} minutes after the start have on only {listed(own)}")
        back = f"from minute {self.turns[-1].from_s / MINUTE_S:.0f} the first set again"
        return f"{first} In each spell, if it lasts so long: {'; '.join([*told, back])}.".lstrip()

    def _plugged(self, house: House) -> str:
        """The cords in the order of plugging in; empty for a house that is not on cords."""
        if not house.on_cords or not self.order:
            return ""
        cords = "; ".join(house.circuit_by_id[c].name for c in self.order)
        told = f"Plug in one at a time, in this order: {cords}."
        return " ".join([told, *off_cords(house, (turn.circuits for turn in self.turns))])


def off_cords(house: House, turns: Iterable[tuple[str, ...]]) -> Iterator[str]:
    """What the cords of a house leave out in all turns, in sentences: what has a plug and no cord, what asks too
    much, here and now or by the machine's plate, then what no cord can be plugged into.
    """
    left, played = house.reach, {circuit for turn in turns for circuit in turn}
    never_on = tuple(x for x in left.on_cords if house.running.load_by_id[x.id].circuit not in played)
    if left.no_cord:
        yield f"With a plug, but no cord left: {_that_matter(house, left.no_cord)}."
    if too_much := (*never_on, *left.too_large):
        yield f"With a plug, but too much for the machine or one cord: {_that_matter(house, too_much)}."
    if left.no_plug:
        yield f"Without a plug that a cord takes: {_that_matter(house, left.no_plug)}."


def _that_matter(house: House, loads: tuple[Load, ...]) -> str:
    """Vital and essential loads by name, the others counted; by name too where there are no more than these."""
    matter = [x for x in loads if x.priority.rank <= Priority.ESSENTIAL.rank or x in house.vital_loads]
    named = [on_a_cord(house, x) for x in matter or loads]
    more = len(loads) - len(named)
    return "; ".join([*named, *([f"and {more} more that can be done without"] if more else [])])


def one_turn(house: House, circuits: Iterable[str] | None = None) -> Turns:
    """Some circuits (all that are fed if none are named), on throughout. Raises KeyError for an unknown one."""
    steps = _ordered(house, None if circuits is None else tuple(circuits))
    order = tuple(step.circuit for step in steps)
    switched = tuple(Step(step.circuit, step.at_s) for step in steps)
    return Turns(order, (Turn(order, 0.0, inf),), switched or _nothing(house))


def in_turns(
    house: House, chosen: Choice, first_min: float = 15.0, needed_min: float = 15.0, comfort_min: float = 10.0
) -> Turns:
    """The circuits of a choice: the set carried together, then each other turn, then the first set again.

    Turns that add no circuit to what had its turn before are left out.
    """
    base = one_turn(house, chosen.together)
    others = tuple(_adding(chosen))
    if not others:
        return base
    made, at_s = [Turn(base.order, 0.0, MINUTE_S * first_min)], MINUTE_S * first_min
    for turn, needed in others:
        until_s = at_s + MINUTE_S * (needed_min if needed else comfort_min)
        made.append(Turn(turn, at_s, until_s))
        at_s = until_s
    made.append(Turn(base.order, at_s, inf))
    return Turns(base.order, tuple(made), tuple(sorted(_steps(house, made), key=lambda s: s.on_s)))


@lru_cache(maxsize=64)
def _ordered(house: House, circuits: tuple[str, ...] | None) -> tuple[Switch, ...]:
    """Circuits in the order of least peak; asked for the same few sets by every choice of times."""
    return switch_on_order(house, circuits).steps


def _nothing(house: House) -> tuple[Step, ...]:
    """One step that is over before it begins: without any step the engine would switch every circuit."""
    return (Step(house.circuits[0].id, 0.0, 0.0),) if house.circuits else ()


def _adding(chosen: Choice) -> Iterator[tuple[tuple[str, ...], bool]]:
    """Turns beside the first set that bring a circuit which has not been on yet, and whether it is needed."""
    seen = set(chosen.together)
    needed = {c.circuit for c in chosen.circuits if c.priority.rank <= Priority.ESSENTIAL.rank}
    for turn in chosen.turns:
        new = set(turn) - seen
        if new:
            seen |= new
            yield turn, bool(new & needed)


def _steps(house: House, turns: Iterable[Turn]) -> Iterator[Step]:
    """Windows of each circuit; what comes on at a change does so in the order of least peak."""
    open_: dict[str, float] = {}
    for turn in turns:
        for circuit in [c for c in open_ if c not in turn.circuits]:
            yield Step(circuit, open_.pop(circuit), turn.from_s)
        for step in _ordered(house, tuple(c for c in turn.circuits if c not in open_)):
            open_[step.circuit] = turn.from_s + step.at_s
    for circuit, on_s in open_.items():
        yield Step(circuit, on_s, inf)


def choices_of_time(house: House, chosen: Choice) -> tuple[Turns, ...]:
    """The same turns with several lengths, for the routine to choose among; one where there are no turns."""
    made = tuple(in_turns(house, chosen, *times) for times in TIMES_MIN)
    return made if made[0].changes else made[:1]


@lru_cache(maxsize=32)
def usual_choice(house: House, fuel: str | None = None) -> Choice | None:
    """The choice of circuits of a house on a fuel, worked out once; None without machine or hookup.

    Raises InputError for a fuel the machine does not burn.
    """
    if house.generator is None or house.hookup is None:
        return None
    return choose(house, supply(house, fuel=fuel_kind(house, fuel)))


def usual_turns(house: House, fuel: str | None = None) -> Turns:
    """Turns by the house's own choice of circuits; every fed circuit where there is nothing to choose."""
    chosen = usual_choice(house, fuel)
    return one_turn(house) if chosen is None else in_turns(house, chosen)

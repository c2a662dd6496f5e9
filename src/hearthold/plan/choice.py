"""Which circuits can be carried together, which in turns, which never: exact, by priority, with reasons."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from hearthold.house.loads import Load, Priority
from hearthold.plan.search import Search
from hearthold.plan.solver import Status
from hearthold.plan.words import listed
from hearthold.sizing.chain import Chain
from hearthold.sizing.placement import Placement
from hearthold.sizing.together import Draw, Limits, draws, fit, limits, misfits, on_together

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.sizing.supply import Supply


class Verdict(StrEnum):
    """What can be done with one circuit."""

    TOGETHER = "together"
    IN_TURNS = "in turns"
    NEVER = "never"


@dataclass(frozen=True, slots=True)
class CircuitChoice:
    """One circuit's verdict, the turns it is in (counted from 1), and why.

    `left_off`: names of what hangs on the circuit and is to stay unplugged or off, so that the circuit can be carried.
    """

    circuit: str
    name: str
    priority: Priority
    verdict: Verdict
    turns: tuple[int, ...]
    reason: str
    left_off: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """The best set to carry at one time, and the fewest turns in which everything that can be carried is."""

    together: tuple[str, ...]
    together_status: Status
    turns: tuple[tuple[str, ...], ...]
    turns_status: Status
    circuits: tuple[CircuitChoice, ...]
    vital_conflict: tuple[
        str, ...
    ]  # why the vital circuits cannot all be carried at once; empty where they can
    limits: Limits

    @property
    def never(self) -> tuple[str, ...]:
        """Circuits that cannot be carried at all."""
        return tuple(c.circuit for c in self.circuits if c.verdict is Verdict.NEVER)


def choose(
    house: House,
    source: Supply,
    circuit_ids: Iterable[str] | None = None,
    legs: Placement | None = None,
    path: Chain | None = None,
    time_limit_s: float = 5.0,
) -> Choice:
    """The choice of circuits for a machine on one fuel (all that the hookup feeds if none are named).

    Together: most vital circuits, then most essential, comfort, what can wait, then most watts. Turns: as few
    as can be, vital circuits on in every one, each filled up by priority. `time_limit_s` is for each solve.
    Raises: InputError where the house has no hookup.

    Source: exact 0/1 programming; limits and planning peak as in sizing.together.
    """
    allowed = limits(house, source, path)
    names = {load.id: load.name for load in house.loads}
    return choose_among(draws(house, circuit_ids, legs), allowed, time_limit_s, names)


def sets_on(house: House, chosen: Choice | None) -> tuple[tuple[Load, ...], ...]:
    """Loads that are on at one time, what people switch too: those of each turn.

    Everything that is fed at once where an automatic switch takes the house over, or where nothing was chosen.
    """
    if chosen is None or house.takes_over or not chosen.turns:
        fed = {c.id for c in house.fed_circuits}
        return (tuple(x for x in house.loads if x.circuit in fed),)
    return tuple(on_together(house, turn) for turn in chosen.turns)


def choose_among(
    candidates: Sequence[Draw],
    allowed: Limits,
    time_limit_s: float = 5.0,
    names: Mapping[str, str] | None = None,
) -> Choice:
    """The choice among circuits whose draws are known; see `choose`. `names`: of loads, by id."""
    search = Search(allowed, time_limit_s)
    alone = [d for d in candidates if _asks(d) and fit([d], allowed)]
    housed = search.with_spaces(alone)
    vital = [d for d in housed if d.priority is Priority.VITAL]
    conflict = misfits(vital, allowed)
    always = [] if conflict else vital
    possible = [d for d in housed if d in always or fit([*always, d], allowed)]
    best, best_status = search.best_set(possible, always)
    turns, turns_status = search.turns(possible, always, best)
    return Choice(
        _ids(best),
        best_status,
        tuple(_ids(t) for t in turns),
        turns_status,
        tuple(_told(d, housed, always, turns, allowed, names or {}) for d in candidates),
        conflict,
        allowed,
    )


def _asks(draw: Draw) -> bool:
    """Whether anything is known to be on a circuit: what nobody knows cannot be counted with."""
    return abs(draw.total_va) > 0.0 or bool(draw.left_off)


def _ids(chosen: Iterable[Draw]) -> tuple[str, ...]:
    return tuple(d.circuit for d in chosen)


def _told(
    draw: Draw,
    housed: Sequence[Draw],
    always: Sequence[Draw],
    turns: Sequence[Sequence[Draw]],
    allowed: Limits,
    names: Mapping[str, str],
) -> CircuitChoice:
    """One circuit's verdict in words."""
    within = tuple(i for i, turn in enumerate(turns, start=1) if draw in turn)
    if not within:
        verdict, reason = Verdict.NEVER, _why_never(draw, housed, always, allowed)
    elif len(within) == len(turns):
        verdict, reason = Verdict.TOGETHER, "with all others" if len(turns) == 1 else "in every turn"
    else:
        verdict, reason = Verdict.IN_TURNS, _with_whom(draw, within, turns)
    if within and draw.start_va > allowed.careful_va:
        reason += "; its start is above the start rating read as VA, so try it before you rely on it"
    left_off = tuple(names.get(load, load) for load in draw.left_off)
    if within and left_off:
        reason += f"; leave off {listed(left_off)}"
    return CircuitChoice(draw.circuit, draw.name, draw.priority, verdict, within, reason, left_off)


def _with_whom(draw: Draw, within: Sequence[int], turns: Sequence[Sequence[Draw]]) -> str:
    """The turns of a circuit, and what is on beside it in every one of them."""
    own = [turns[i - 1] for i in within]
    others = [d.name for d in own[0] if d.circuit != draw.circuit and all(d in turn for turn in own)]
    where = f"turn {within[0]}" if len(within) == 1 else f"turns {listed([str(i) for i in within])}"
    if not others:
        return f"alone in {where}" if len(within) == 1 else f"in {where}"
    return f"in {where} with {', '.join(others)}"


def _why_never(draw: Draw, housed: Sequence[Draw], always: Sequence[Draw], allowed: Limits) -> str:
    alone, beside = misfits([draw], allowed), misfits([*always, draw], allowed)
    if not _asks(draw):
        return "the house file lists nothing on it, so nothing can be reckoned; leave it off"
    if alone:
        return alone[0]
    if draw not in housed:
        return f"needs {draw.poles} of {allowed.spaces} panel spaces, which went to others"
    if beside:
        return f"beside the vital circuits, {beside[0]}"
    return "not placed: the search ended without a split into turns"

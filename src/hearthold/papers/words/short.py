"""In short: the few lines that a tired householder acts on."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Protocol

from hearthold.papers.words.kept import harm
from hearthold.papers.words.phrases import words
from hearthold.papers.words.say import Say, after, counted, duration, names

if TYPE_CHECKING:
    from hearthold.plan.result import Plan


class Teller(Protocol):
    """Who tells it: the reader's units and the house's names."""

    @property
    def say(self) -> Say:
        """Units."""

    def circuit(self, ident: str) -> str:
        """A circuit's name."""


def in_short(teller: Teller, plan: Plan) -> Iterator[str]:
    """Five to seven sentences, in the order in which they are needed."""
    yield from _mend_first(plan)
    yield from _outside(plan)
    yield from _what_stays_on(teller, plan)
    yield from _order(teller, plan)
    yield from _when(plan)
    yield from _how_long(teller, plan)
    yield from _fails_first(plan)


def _mend_first(plan: Plan) -> Iterator[str]:
    urgent = [f for f in plan.findings if f.needs_action]
    if urgent:
        others = f", and {counted(len(urgent) - 1, 'other thing')}" if len(urgent) > 1 else ""
        first = urgent[0]
        word = "DANGER, mend it first" if first.severity == "danger" else "Mend before you rely on this"
        yield f"{word}: {_lower(first.title)}{others} (see Findings)."


def _outside(plan: Plan) -> Iterator[str]:
    if plan.supplies:
        yield "The machine runs outdoors only, far from the house, exhaust pointed away; never in a garage."


def _what_stays_on(teller: Teller, plan: Plan) -> Iterator[str]:
    if plan.choice is None:
        yield "No machine with a hookup is in the house file, so nothing can stay on yet."
        return
    found = plan.choice
    turned = [c.name for c in found.circuits if c.turns and c.circuit not in found.together]
    never = [teller.circuit(c) for c in found.never]
    parts = [f"On together: {names([teller.circuit(c) for c in found.together], 6)}."]
    parts += [f"Instead of some of these, in turn: {names(turned, 5)}."] if turned else []
    parts += [f"Stay off: {names(never, 5)}."] if never else []
    yield " ".join(parts)


def _order(teller: Teller, plan: Plan) -> Iterator[str]:
    steps = plan.switch_on.steps
    if plan.supplies and len(steps) > 1:
        first = names([step.name for step in steps[:3]])
        yield f"Switch on one at a time, {duration(steps[0].wait_s)} apart, beginning with {first}."


def _when(plan: Plan) -> Iterator[str]:
    found = plan.routine
    if found is None:
        return
    broken = found.breaks_first
    if broken is None:
        yield f"{found.sentence} Then every limit is kept."
    else:
        yield f"{found.sentence} Even so {broken.name} is not kept ({harm(broken)}, {after(broken.first_s)})."


def _how_long(teller: Teller, plan: Plan) -> Iterator[str]:
    fuel = plan.fuel
    if fuel is None or fuel.stock_days is None:
        return
    need = f"{teller.say.volume(fuel.day_need_m3)} a day" if fuel.day_need_m3 else ""
    name = words(fuel.burn.fuel)
    lasts = (
        "comes by the main"
        if fuel.stock_days == float("inf")
        else f"lasts {duration(fuel.stock_days * 86400.0)}"
    )
    yield f"The {name} at home {lasts}" + (f" at {need}." if need else ".")


def _fails_first(plan: Plan) -> Iterator[str]:
    if plan.holds:
        first = plan.holds[0]
        yield f"With nothing running, the first to fail is {first.name}: {after(first.strictest_s)}."


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:].rstrip(".")

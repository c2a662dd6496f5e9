"""What every section of a report shares: page, units, the house's names, the mark of an assumption."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from hearthold.faces.cli.report.parts import ASSUMED, remarks
from hearthold.rules.words import fuel_words

if TYPE_CHECKING:
    from rich.console import Console, RenderableType

    from hearthold.faces.cli.report.say import Say
    from hearthold.house.house import House


@dataclass(frozen=True)
class Sheet:
    """One report being printed."""

    page: Console
    say: Say
    house: House
    every: bool = False
    _said: set[str] = field(default_factory=set, repr=False, compare=False)  # notes printed above
    warned: set[str] = field(default_factory=set, repr=False, compare=False)  # cautions printed above

    @cached_property
    def assumed(self) -> frozenset[str]:
        """Places whose value the household did not give, as the house lists them."""
        return frozenset(a.item for a in self.house.assumptions)

    def mark(self, text: str, *places: str) -> str:
        """The text, with the sign of an assumption before it where any of the places was assumed."""
        return f"{ASSUMED}{text}" if self.assumed.intersection(places) else text

    def load(self, ident: str) -> str:
        """A load's name; its id where the house has none of that id."""
        found = self.house.load_by_id.get(ident)
        return found.name if found else ident

    def circuit(self, ident: str) -> str:
        """A circuit's or a cord's name; its id where the house has none of that id."""
        found = self.house.running.circuit_by_id.get(ident)
        return found.name if found else ident

    def fuel(self, name: str) -> str:
        """A fuel as people call it where the house stands."""
        return fuel_words([name], self.house.system)

    def remarks(self, notes: Iterable[str]) -> Iterator[RenderableType]:
        """What was taken for granted, each once a page; the short page leaves it out."""
        if not self.every:
            return
        told = map(self.say.retold, notes)
        fresh = [note for note in told if note not in self._said]
        self._said.update(fresh)
        yield from remarks(fresh)

    @property
    def two_legs(self) -> bool:
        """True on a 120/240 V supply."""
        return len(self.house.system.legs) == 2

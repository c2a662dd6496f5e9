"""`Asked`: which outage is planned for, on what fuel, with which circuits, at what prices."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from hearthold.plan.objective import USUAL_OBJECTIVE, Objective
from hearthold.plan.turns import Turns, usual_turns

if TYPE_CHECKING:
    from hearthold.house.house import House


@dataclass(frozen=True, slots=True)
class Asked:
    """One outage to plan for. What is None is as the house has it."""

    start_s: float = 0.0  # since midnight of day 0 of the hours outside
    hours: float = 72.0
    fuel: str | None = None  # the kind to run on; None: the preferred one
    fuel_m3: float | None = None  # all fuel at home
    turns: Turns | None = None  # circuits within a spell
    objective: Objective = USUAL_OBJECTIVE

    def settled(self, house: House) -> Asked:
        """The same with the turns of the house's own choice of circuits, where none are given."""
        return self if self.turns is not None else replace(self, turns=usual_turns(house, self.fuel))


NEXT_DAYS = Asked()

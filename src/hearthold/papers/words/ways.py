"""Hookups compared, in the words that the page of `compare` and the paper share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hearthold.papers.words.say import names, whole

if TYPE_CHECKING:
    from collections.abc import Callable

    from hearthold.papers.words.say import Say
    from hearthold.study.comparison import Candidate


def spread(low: float, high: float, to: str = " to ") -> str:
    """A range of whole figures: 250 to 650; one figure where both read alike."""
    return whole(low) if whole(low) == whole(high) else f"{whole(low)}{to}{whole(high)}"


def design(c: Candidate, say: Say, fuel: Callable[[str], str], *, circuits: bool = True) -> str:
    """What a way is made of and, where wanted, which circuits it feeds; `fuel` says what a fuel is called here."""
    parts = [f"{c.machine}{' (in hand)' if c.machine_in_hand else ''}"] if c.machine else []
    parts += [f"{say.energy(c.battery_j)} battery"] if c.battery_j else []
    parts += [f"{say.power(c.panels_w)} of panels"] if c.panels_w else []
    parts += [f"{say.volume(c.fuel_kept_m3)} of {fuel(c.fuel)} kept"] if c.fuel_kept_m3 else []
    told = [", ".join(parts), *(_carried(c) if circuits else ())]
    told += [] if c.serves else ["does not carry all that is vital and essential"]
    return "; ".join(x for x in (*told, *c.notes) if x) + "."


def to_buy(c: Candidate, currency: str, to: str = " to ") -> str:
    """What is still to be bought or done, each with its price; empty where all is in place."""
    told = "; ".join(f"{x.item}: {spread(x.price.low, x.price.high, to)}" for x in c.to_buy)
    return f"To spend, {currency}: {told}." if told else ""


def _carried(c: Candidate) -> list[str]:
    fed = (("carries", c.carried.together), ("in turns", c.carried.in_turns), ("never", c.carried.never))
    return [f"{how} {names(circuits)}" for how, circuits in fed if circuits]

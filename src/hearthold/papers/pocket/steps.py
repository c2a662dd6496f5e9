"""Checklists of a house: which steps and cautions apply, with the house's own words filled in."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from hearthold.house.site import VoltageSystem
from hearthold.house.supply import FuelKind, HookupKind
from hearthold.papers.words.phrases import sentence, words
from hearthold.papers.words.say import Say, duration, names
from hearthold.reference.cautions import caution

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.sizing.order import SwitchOn

# The table says whom to call in North America in one row and in 230 V countries in another.
_ONLY_SPLIT = frozenset({"co_symptoms"})


@dataclass(frozen=True, slots=True)
class Warned:
    """A caution as it is printed: what hurts, and the text."""

    id: str
    topic: str
    text: str


@dataclass(frozen=True, slots=True)
class Checklist:
    """One list of steps, with the cautions that belong above it."""

    id: str
    title: str
    cautions: tuple[Warned, ...]
    steps: tuple[str, ...]


def checklists(house: House, order: SwitchOn, say: Say) -> tuple[Checklist, ...]:
    """Every list of the house, in the order in which it is needed."""
    tags, told = _tags(house, order), _words(house, order, say)
    book = _book()
    return tuple(
        Checklist(
            row["id"],
            row["title"],
            warned(row["cautions"], house.system),
            _steps(book["step"], row["id"], tags, told),
        )
        for row in book["list"]
    )


def warned(ids: Sequence[str], system: VoltageSystem) -> tuple[Warned, ...]:
    """Cautions by id, those of another voltage system left out."""
    found = [caution(one) for one in ids]
    here = [c for c in found if system.value in c.systems]
    here = [c for c in here if system is VoltageSystem.SPLIT_120_240 or c.id not in _ONLY_SPLIT]
    return tuple(Warned(c.id, words(c.topic), sentence(c.text)) for c in here)


def cool_s(house: House) -> float:
    """How long the machine cools before anybody refuels: the longer of the household's wish and the caution."""
    return max(house.wishes.cool_down_s, caution("cool_before_refuel").wait_s or 0.0)


@cache
def _book() -> Mapping[str, Any]:
    return tomllib.loads(files("hearthold.papers.pocket").joinpath("steps.toml").read_text("utf-8"))


def _steps(
    rows: Sequence[Mapping[str, Any]], wanted: str, tags: frozenset[str], told: Mapping[str, str]
) -> tuple[str, ...]:
    """Steps of one list. Words are put in piece by piece, so that braces in a name stay braces."""
    fitting = (r for r in rows if r["list"] == wanted and tags.issuperset(r.get("needs", ())))
    return tuple(_filled(r["text"], told) for r in fitting if tags.isdisjoint(r.get("unless", ())))


def _filled(text: str, told: Mapping[str, str]) -> str:
    for key, word in told.items():
        head, found, tail = text.partition(f"{{{key}}}")
        if found:
            return head + word + tail
    return text


def _tags(house: House, order: SwitchOn) -> frozenset[str]:
    """What the conditions of the steps are about."""
    machine, hookup = house.generator, house.hookup
    kind = hookup.kind if hookup is not None else HookupKind.CORDS
    fixed = machine is not None and machine.kind == "standby"
    known = {
        kind.value: True,
        "fixed": fixed,
        "carried": not fixed,
        "cord_in": hookup is not None and kind is not HookupKind.CORDS and not fixed,
        "by_hand": bool(order.by_hand),
        "ground_fault": any(c.protection for c in house.circuits)
        or (machine is not None and machine.gfci_receptacles is True),
        "co_shutoff": machine is not None and machine.co_shutoff is True,
        **_fuel_tags(house),
    }
    return frozenset(tag for tag, applies in known.items() if applies)


def _fuel_tags(house: House) -> dict[str, bool]:
    burned = {r.fuel for r in house.generator.on} if house.generator is not None else {FuelKind.GASOLINE}
    mains = any(lot.mains for lot in (house.fuel.stock if house.fuel is not None else ()))
    return {
        "liquid": bool(burned & {FuelKind.GASOLINE, FuelKind.DIESEL}),
        "propane": FuelKind.PROPANE in burned,
        "mains_gas": FuelKind.NATURAL_GAS in burned or mains,
    }


def _words(house: House, order: SwitchOn, say: Say) -> dict[str, str]:
    by_hand = tuple(house.load_by_id[one].name for one in order.by_hand)
    return {
        "distance": say.length(caution("co_distance").distance_m or 0.0),
        "cool": duration(cool_s(house)),
        "by_hand": names(by_hand, most=len(by_hand) + 1),
    }

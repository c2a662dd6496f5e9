"""Cords in place of wiring: what is fed, and what is not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from hearthold.house.house import House
from hearthold.house.reader import read_house
from hearthold.house.supply import HookupKind
from hearthold.sizing.cords import MOST_CORDS, cords_laid, with_cords

EXAMPLES = Path(__file__).parents[2] / "examples"


def example(name: str, kind: HookupKind) -> House:
    house = read_house(EXAMPLES / f"{name}.toml")
    assert house.hookup is not None
    return replace(house, hookup=house.hookup.model_copy(update={"kind": kind}))


@pytest.mark.parametrize("name", ["tarn_hollow", "skerrow_croft"])
def test_cords_feed_a_few_appliances_and_nothing_that_is_wired_in(name: str) -> None:
    house = cords_laid(example(name, HookupKind.CORDS))
    fed = {x.id for c in house.fed_circuits for x in house.loads_on(c.id)}
    assert 1 <= len(house.fed_circuits) <= MOST_CORDS
    assert {c.id for c in house.fed_circuits} == {f"cord_{i + 1}" for i in range(len(house.fed_circuits))}
    assert not [x.id for x in house.loads if x.id in fed and x.group in ("heat", "water")]
    assert {s.load for s in house.cold} & fed


@pytest.mark.parametrize("kind", [k for k in HookupKind if k is not HookupKind.CORDS])
def test_any_other_house_is_as_it_was(kind: HookupKind) -> None:
    house = example("tarn_hollow", kind)
    assert cords_laid(house) == house


def test_cords_are_laid_once() -> None:
    house = cords_laid(example("tarn_hollow", HookupKind.CORDS))
    assert cords_laid(house) == house
    assert with_cords(example("tarn_hollow", HookupKind.CORDS), house.system.leg_voltage_v)[0] == house


def test_what_floods_or_spoils_first_gets_a_cord_first() -> None:
    """FoodSafety.gov: a fridge keeps 4 h, a freezer 24 to 48 h. The pit of the farm overflows within ten hours."""
    house = cords_laid(example("tarn_hollow", HookupKind.CORDS))
    first = [house.loads_on(c.id)[0].id for c in house.fed_circuits]
    assert first[:3] == ["cpap", "sump_pump", "fridge"]

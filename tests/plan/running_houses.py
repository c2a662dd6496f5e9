"""Invented households for the tests of the running, as house files, with the parts that a test changes named."""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path

import numpy as np

from hearthold.engine.weather import Hours, hours
from hearthold.house.house import House
from hearthold.house.reader import house_from_text

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))
from house_parts import (
    boiler_heat,
    five_circuits,
    kitchen_stores,
    load,
    machine,
    sump,
    table,
)

HOUR_S = 3600.0
MEDICAL = """
[[medical]]
load = "cpap"
hours_per_day = 7
from = "22:30"
own_battery = "{own}"
"""
USUAL = {
    "cpap": "comfort",
    "medical": "",
    "drained": "true",
    "headroom": "24 gal",
    "inflow": "1 gal/h",
    "tank": "5 gal",
    "trip": "",
    "fuel": "20 gal",
    "shortest": "45 min",
    "longest": "4 h",
    "spells": "3",
    "night": "false",
}


@cache
def running_house(extra: str = "", **changes: str) -> House:
    """The test house with some of its parts changed and more sections appended."""
    return house_from_text(_text({**USUAL, **changes}) + extra)


def _text(part: dict[str, str]) -> str:
    """The house file; TOML words (true, numbers) come as text."""
    return (
        five_circuits("Running house")
        + load("oven", "microwave_700_w", "kitchen")
        + load("cpap", "cpap_with_humidifier", "bedroom", priority=part["cpap"])
        + part["medical"] + "\n"
        + kitchen_stores()
        + boiler_heat("120 m2", pipes_drained=part["drained"] == "true")
        + sump(part["headroom"], part["inflow"])
        + machine("5 kW portable", 5000, 6500, part["tank"], part["fuel"], part["trip"])
        + table(
            "[wishes]", shortest_spell=part["shortest"], longest_spell=part["longest"],
            spells_per_day=int(part["spells"]), run_at_night=part["night"] == "true", indoor_comfort="15 C",
        )
    )  # fmt: skip


def steady(mean_c: float = 8.0, days: int = 20, swing_k: float = 4.0) -> Hours:
    """Days that are all alike, warmest in mid-afternoon."""
    clock = np.arange(24 * days)
    return hours(mean_c + swing_k * np.cos((clock - 15.0) * np.pi / 12.0))

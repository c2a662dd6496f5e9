"""An invented cabin whose only backup is a battery, as a house file, with the parts that a test changes named."""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path

from hearthold.house.house import House
from hearthold.house.reader import house_from_text

sys.path.insert(0, str(Path(__file__).parents[1] / "builders"))
from house_parts import battery, boiler_heat, five_circuits, kitchen_stores, load, sump, table

CPAP = load("cpap", "cpap_with_humidifier", "bedroom") + table(
    "[[medical]]", load="cpap", hours_per_day=7, **{"from": "22:30"}
)


@cache
def cabin(capacity: str = "4 kWh", medical: bool = False, solar: bool = False, surge: str = "8 kVA") -> House:
    """A fridge and a freezer, a boiler, a sump and lamps on a battery."""
    return house_from_text(
        five_circuits("Cabin")
        + load("router", "modem_router", "bedroom", priority="comfort")
        + (CPAP if medical else "")
        + kitchen_stores()
        + boiler_heat("120 m2", pipes_drained=True)
        + sump("24 gal", "1 gal/h")
        + battery(capacity, surge=surge)
        + (table("[solar]", peak="3 kW", tilt_deg=40) if solar else "")
    )

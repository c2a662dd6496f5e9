"""Invented villages: plausible house files from a seed, for trying things out and for tests. Nobody lives in them.

Every figure is drawn from ranges that are common practice (no source) and says nothing about any real place.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from hearthold.errors import InputError
from hearthold.house.site import VoltageSystem
from hearthold.house.starter import Answers, Machine, starter_text

MOST_HOMES = 20_000
_FIRST = (
    "Alder", "Birch", "Cedar", "Dell", "Elm", "Fern", "Gorse", "Hazel", "Iris", "Juniper", "Kestrel", "Linden",
    "Maple", "Nettle", "Otter", "Plover", "Quince", "Rowan", "Sedge", "Thistle", "Umber", "Vetch", "Willow", "Yarrow",
)  # fmt: skip
_LAST = ("Bank", "Corner", "End", "Farm", "Gate", "Hill", "House", "Knoll", "Lane", "Meadow", "Rise", "Yard")
_MACHINES = (  # running, start, receptacle, tank, weight
    ("3.2 kW", "3.8 kW", "TT-30", "2 gal", 2),
    ("5 kW", "6.25 kW", "L14-30", "6.6 gal", 4),
    ("7.5 kW", "9.4 kW", "L14-30", "7 gal", 5),
    ("10 kW", "12.5 kW", "14-50", "8 gal", 2),
)
_WELLS = ("well_half_hp_two_wire", "well_three_quarter_hp_three_wire", "well_one_hp_two_wire")
_AT_NIGHT = "cpap_with_humidifier"
_ALWAYS = ("fridge_frost_free", "led_house", "modem_router", "phone_charging")
_SOME = (  # kind, share of homes that have it
    ("chest_freezer", 0.6), ("freezer_upright", 0.25), ("sump_third_hp", 0.3), ("septic_effluent", 0.15),
    (_AT_NIGHT, 0.12), ("egg_incubator", 0.05), ("microwave_700_w", 0.7), ("clothes_washer", 0.8),
)  # fmt: skip
_HOOKUPS = ("manual_transfer", "interlock", "cords")
_NO_MACHINE_SHARE, _WELL_SHARE = 0.25, 0.85


@dataclass(frozen=True, slots=True)
class Home:
    """One invented home: the name of its file and what stands in it."""

    file: str
    text: str


def village(count: int, seed: int = 0) -> tuple[Home, ...]:
    """Homes of one invented village in a cold rural place. Same seed and count, same homes.

    Raises: InputError for a count outside 1 to 20,000.
    """
    if not 1 <= count <= MOST_HOMES:
        raise InputError(f"{count} homes; allowed 1 to {MOST_HOMES}.", code="out_of_range")
    return tuple(_home(i, np.random.default_rng([seed, i])) for i in range(count))


def write_village(folder: Path, count: int, seed: int = 0) -> tuple[Path, ...]:
    """Write a village's house files into a folder that is empty or new. Raises InputError."""
    homes = village(count, seed)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if any(folder.glob("*.toml")):
            raise InputError(f"{folder} holds house files already; name a new folder.", code="exists")
        for home in homes:
            (folder / home.file).write_text(home.text, encoding="utf-8")
    except OSError as problem:
        raise InputError(f"{folder} cannot be written: {problem.strerror}.", code="unwritable") from None
    return tuple(folder / home.file for home in homes)


def _home(number: int, rng: np.random.Generator) -> Home:
    name = f"{rng.choice(_FIRST)} {rng.choice(_LAST)} {number + 1}"
    has_machine = rng.random() > _NO_MACHINE_SHARE
    answers = Answers(
        name=name,
        system=VoltageSystem.SPLIT_120_240,
        place="Invented Hollow",
        country="US",
        latitude=f"{rng.uniform(43.5, 45.5):.2f}",
        longitude="-72.0",
        people=str(int(rng.choice([1, 2, 2, 3, 4, 5]))),
        coldest=f"{rng.uniform(12, 24):.0f} F",
        warmest="68 F",
        floor_area=f"{rng.uniform(900, 2600):.0f} sq ft",
        loads=_loads(rng),
        machine=_machine(rng) if has_machine else None,
        machine_asked=True,
        hookup=str(rng.choice(_HOOKUPS, p=[0.4, 0.35, 0.25])) if has_machine else "",
    )
    return Home(f"home_{number + 1:05d}.toml", _furnished(starter_text(answers), rng))


def _loads(rng: np.random.Generator) -> tuple[str, ...]:
    found = [kind for kind, share in _SOME if rng.random() < share]
    well = [str(rng.choice(_WELLS))] if rng.random() < _WELL_SHARE else []
    heat = ["boiler_oil" if rng.random() < 0.6 else "furnace_ecm_blower"]
    hot = ["heater_storage_4500_w"] if rng.random() < 0.5 else []
    return (*well, *heat, *_ALWAYS, *found, *hot)


def _machine(rng: np.random.Generator) -> Machine:
    weights = np.array([m[4] for m in _MACHINES], dtype=float)
    running, start, receptacle, tank, _ = _MACHINES[
        int(rng.choice(len(_MACHINES), p=weights / weights.sum()))
    ]
    return Machine(
        "gasoline", running, start, receptacle, tank, f"{int(rng.choice([0, 5, 5, 10, 15, 25]))} gal"
    )


def _furnished(text: str, rng: np.random.Generator) -> str:
    """Values a starter leaves out: region, worth of food, water kept in the house, size of the tank."""
    region = str(rng.choice(["rural_coop", "storm_prone_rural"], p=[0.7, 0.3]))
    lines = []
    for line in text.split("\n"):
        lines.append(line)
        if line.startswith("[outages]"):
            lines.append(f'region = "{region}"')
        elif line.startswith("[[cold]]"):
            lines.append(f"contents_value = {int(rng.choice([150, 250, 400, 700]))}")
        elif line.startswith("[water]"):
            lines.append(f'stored = "{int(rng.choice([0, 0, 5, 20, 40]))} gal"')
    if f'kind = "{_AT_NIGHT}"' in text:
        lines += ["[[medical]]", f'load = "{_AT_NIGHT}"', "hours_per_day = 8", ""]
    return "\n".join(lines)

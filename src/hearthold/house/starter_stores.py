"""The stores of a new house file: what lasts a while without power, as far as its loads tell."""

from __future__ import annotations

from hearthold.house.site import VoltageSystem
from hearthold.house.starter_page import explained_once, inline, quoted, section, starter_data, system_data
from hearthold.house.starter_wiring import Planned


def store_sections(
    wiring: tuple[Planned, ...], system: VoltageSystem, floor_area: tuple[str, bool]
) -> list[str]:
    """The stores of a new file; `floor_area` says whether it is a guess."""
    chosen = [kind.id for planned in wiring for kind in planned.kinds]
    values = {
        key: quoted(value) for key, value in system_data(system)["usual"].items() if isinstance(value, str)
    }
    wells = tuple(starter_data()["well"]["starts_with"])
    return [
        "# What lasts a while without power.\n",
        *explained_once([_cold(k) for k in chosen if k in starter_data()["cold"]]),
        _heat(chosen, system, floor_area),
        *[_water(k, values) for k in chosen if k.startswith(wells)][:1],  # a house file has one well
        *[_hot_water(k, values) for k in chosen if k in starter_data()["hot_water"]][:1],
        *(_pit(k, values) for k in chosen if k in starter_data()["pit"]),
    ]


def _cold(kind: str) -> str:
    word = starter_data()["cold"][kind]
    return section(
        "[[cold]]", "cold", {k: (quoted(v), False) for k, v in (("id", kind), ("kind", word), ("load", kind))}
    )


def _heat(chosen: list[str], system: VoltageSystem, floor_area: tuple[str, bool]) -> str:
    area = (quoted(floor_area[0]), floor_area[1])
    keys = {"house_class": ('"nineties"', True), "floor_area": area}
    heater = next((k for k in chosen if k in starter_data()["heater"]), None)
    if heater is not None:
        given = {
            "load": heater,
            "output": system_data(system)["usual"]["heater_output"],
            "fuel": starter_data()["heater"][heater],
        }
        keys["heater"] = (inline(**given), True)
    return section("[heat]", "heat", keys)


def _water(kind: str, values: dict[str, str]) -> str:
    return section(
        "[water]", "water", {"pump_load": (quoted(kind), False), "tank": (values["pressure_tank"], True)}
    )


def _hot_water(kind: str, values: dict[str, str]) -> str:
    keys = {
        "load": (quoted(kind), False),
        "heated_by": (quoted(starter_data()["hot_water"][kind]), False),
        "volume": (values["hot_tank"], True),
    }
    return section("[hot_water]", "hot_water", keys)


def _pit(kind: str, values: dict[str, str]) -> str:
    word = starter_data()["pit"][kind]
    keys = {
        k: (quoted(v), False)
        for k, v in (("id", kind), ("name", f"{word} pit"), ("kind", word), ("load", kind))
    }
    keys |= {k: (values[k], True) for k in ("headroom", "cycle", "inflow")}
    return section("[[pit]]", "pit", keys | {"pump": (values["pit_pump"], True)})

"""The questions of `hearthold new`, in the order in which a person can answer them by heart."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from hearthold.errors import InputError
from hearthold.faces.cli import ask
from hearthold.faces.cli.page import say

if TYPE_CHECKING:
    from hearthold.house.site import VoltageSystem
    from hearthold.house.starter import Answers, Machine
    from hearthold.reference.loads import Load

_SYSTEMS = (
    ("split_120_240", "120/240 V, two legs and neutral (North America)"),
    ("single_230", "230 V single phase (Europe, Africa, most of Asia, Oceania)"),
)
_FUELS = (
    ("gasoline", "gasoline (petrol)"),
    ("propane", "propane (LP gas)"),
    ("natural_gas", "natural gas from a main"),
    ("diesel", "diesel"),
)
_HOOKUPS = (
    ("cords", "extension cords straight to the appliances"),
    ("interlock", "inlet and a mechanical interlock on the main panel"),
    ("manual_transfer", "inlet, manual transfer switch and a panel of its own"),
    ("automatic_standby", "standby set with an automatic transfer switch"),
    ("", "nothing yet"),
)
_FIRST = ("water", "sanitation", "heat", "cold", "medical", "light_and_comms")  # asked of everybody


def interview() -> Answers:
    """Ask, and return the answers. Nothing is written here."""
    from hearthold.house.site import VoltageSystem
    from hearthold.house.starter import Answers, usual

    say("Enter takes the answer in brackets. Ctrl-C stops; nothing is written before the end.\n")
    name = ask.text("What do you call the house?", "My house", _named)
    system = VoltageSystem(ask.one_of("Which electrical supply?", _SYSTEMS, "split_120_240"))
    offered = usual(system)
    place = _place(offered)
    loads = _loads(system, offered["loads"])
    machine = _machine(system, offered)
    hookup = (
        ask.one_of("How does (or will) its power get into the house?", _HOOKUPS, "manual_transfer")
        if machine
        else ""
    )
    return Answers(
        name=name, system=system, loads=loads, machine=machine, machine_asked=True, hookup=hookup, **place
    )


def _place(offered: dict[str, str]) -> dict[str, str]:
    return {
        "place": ask.text("Nearest town or landmark", offered["place"], _named),
        "country": ask.text("Country, two letters", offered["country"], _country),
        "latitude": ask.text("Latitude, degrees north", offered["latitude"], _between(-66, 72)),
        "longitude": ask.text(
            "Longitude, degrees east (west is negative)", offered["longitude"], _between(-180, 180)
        ),
        "altitude": ask.text("Height above the sea", offered["altitude"], _quantity("length")),
        "time_zone": ask.text("Time zone", offered["time_zone"], _zone),
        "people": ask.text("How many people", offered["people"], _people),
        "coldest": ask.text(
            "Mean temperature of the coldest month", offered["coldest"], _quantity("temperature")
        ),
        "warmest": ask.text(
            "Mean temperature of the warmest month", offered["warmest"], _quantity("temperature")
        ),
        "floor_area": ask.text("Heated floor area", offered["floor_area"], _quantity("area")),
    }


def _loads(system: VoltageSystem, offered: list[str]) -> tuple[str, ...]:
    from hearthold.faces.service import load_catalogue

    fitting = [kind for kind in load_catalogue() if system.value in kind.systems]
    groups = {name: list(kinds) for name, kinds in groupby(fitting, key=lambda kind: kind.group)}
    first = [name for name in _FIRST if name in groups]
    chosen = _of_groups(groups, first, offered)
    rest = [name for name in groups if name not in first]
    if rest and ask.yes(f"\nMore to choose from ({', '.join(rest)})?", False):
        chosen += _of_groups(groups, rest, offered)
    return chosen or tuple(offered)


def _of_groups(groups: dict[str, list[Load]], names: list[str], offered: list[str]) -> tuple[str, ...]:
    chosen: tuple[str, ...] = ()
    for name in names:
        options = [(kind.id, f"{kind.name}, {kind.running_w:.0f} W") for kind in groups[name]]
        chosen += ask.some_of(f"Which of these are in the house? ({name})", options, offered)
    return chosen


def _machine(system: VoltageSystem, offered: dict[str, str]) -> Machine | None:
    from hearthold.house.starter import Machine
    from hearthold.reference.connectors import connectors

    if not ask.yes("\nIs there a generator, or one in mind?", True):
        return None
    owned = ask.yes("Is it already there?", True)
    fuel = ask.one_of("Which fuel?", _FUELS, "gasoline")
    sockets = [
        (c.id, f"{c.id}: {c.rating_a:g} A, {c.working_v:g} V")
        for c in connectors()
        if system.value in c.systems
    ]
    return Machine(
        fuel=fuel,
        running=ask.text("Continuous rating on that fuel", offered["running"], _quantity("power")),
        start=ask.text("Peak rating on that fuel", offered["start"], _quantity("power")),
        receptacle=ask.one_of("Which outlet feeds the house?", sockets, offered["receptacle"]),
        tank=""
        if fuel in ("propane", "natural_gas")
        else ask.text("Its own tank", offered["tank"], _quantity("volume")),
        stock=_stock(fuel, offered),
        owned=owned,
    )


def _stock(fuel: str, offered: dict[str, str]) -> str:
    if fuel == "natural_gas":
        return ""
    if fuel == "propane":
        return ask.text("Propane kept at home, by weight", offered["propane_stock"], _quantity("mass"))
    return ask.text("Fuel kept at home", offered["fuel_stock"], _quantity("volume"))


def _named(answer: str) -> str:
    if not 1 <= len(answer) <= 120 or not answer.isprintable():
        raise InputError("needs 1 to 120 printable letters.")
    return answer


def _country(answer: str) -> str:
    if len(answer) != 2 or not answer.isascii() or not answer.isalpha():
        raise InputError(f"{answer!r} is not a two-letter country code such as US, CA or GB.")
    return answer.upper()


def _zone(answer: str) -> str:
    from zoneinfo import available_timezones

    if answer not in available_timezones():
        raise InputError(f"{answer!r} is not a time zone; write an IANA name such as America/New_York.")
    return answer


def _people(answer: str) -> str:
    if not answer.isdecimal() or not 1 <= int(answer) <= 60:
        raise InputError(f"{answer!r} is not a whole number from 1 to 60.")
    return str(int(answer))


def _between(low: float, high: float) -> ask.Check:
    def check(answer: str) -> str:
        try:
            value = float(answer)
        except ValueError:
            raise InputError(f"{answer!r} is not a number, such as 44.2.") from None
        if not low <= value <= high:
            raise InputError(f"{answer} is outside {low:g} to {high:g}.")
        return f"{value:.4f}".rstrip("0") + ("0" if f"{value:.4f}".rstrip("0").endswith(".") else "")

    return check


def _quantity(dimension: str) -> ask.Check:
    def check(answer: str) -> str:
        from hearthold.quantities.units import parse

        try:
            parse(answer, dimension)
        except InputError as problem:
            raise InputError(f"{answer!r}: {problem}") from None
        return answer

    return check

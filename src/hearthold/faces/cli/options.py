"""Arguments and options that several commands share, so that they read the same everywhere."""

from __future__ import annotations

from calendar import month_name
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer


class UnitsChoice(StrEnum):
    """Units of a printed page."""

    US = "us"
    METRIC = "metric"


class SystemChoice(StrEnum):
    """Voltage systems, as the house file spells them."""

    SPLIT_120_240 = "split_120_240"
    SINGLE_230 = "single_230"


class FuelChoice(StrEnum):
    """Fuels a machine may burn, as the house file spells them."""

    GASOLINE = "gasoline"
    PROPANE = "propane"
    NATURAL_GAS = "natural_gas"
    DIESEL = "diesel"


def month_of(text: str | int) -> int:
    """The number of a month said as a number or by its name, of which three letters are enough."""
    told = str(text).strip().lower()  # a default comes as it is
    found = [i for i in range(1, 13) if len(told) >= 3 and month_name[i].lower().startswith(told)]
    if told.isascii() and told.isdigit() and 1 <= int(told[:4]) <= 12:
        return int(told)
    if len(found) != 1:
        raise typer.BadParameter(f"{text} is no month; write 1 to 12, or a name such as January or jan.")
    return found[0]


HouseFile = Annotated[
    Path, typer.Argument(metavar="FILE", help="The house file; - reads standard input.", show_default=False)
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON for another program instead of a page.")]
Units = Annotated[
    UnitsChoice | None,
    typer.Option(
        "--units", help="Units of the page; left out, those usual where the house stands.", show_default=False
    ),
]
Month = Annotated[
    int | None,
    typer.Option(
        "--month",
        parser=month_of,
        metavar="1-12|NAME",
        help="Month to plan for; left out, the coldest.",
        show_default=False,
    ),
]
Fuel = Annotated[
    FuelChoice | None,
    typer.Option("--fuel", help="Fuel to run on; left out, the one the house prefers.", show_default=False),
]
Outlook = Annotated[
    bool,
    typer.Option(
        "--outlook/--no-outlook",
        help="Risk and comparison in the plan report: some seconds more.",
    ),
]

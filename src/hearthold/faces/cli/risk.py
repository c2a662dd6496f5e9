"""`hearthold risk`: how likely the household is to come through a year of outages."""

from __future__ import annotations

from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson, Fuel, HouseFile, Units


def risk(
    file: HouseFile,
    month: Annotated[
        int | None,
        typer.Option(
            "--month",
            min=1,
            max=12,
            metavar="1-12",
            help="Only the outages of this month; left out, of a whole year.",
            show_default=False,
        ),
    ] = None,
    fuel: Fuel = None,
    seed: Annotated[int, typer.Option("--seed", min=0, help="Another seed draws other outages.")] = 0,
    units: Units = None,
    every: Annotated[bool, typer.Option("--all", help="Show seasons, sources and every assumption.")] = False,
    as_json: AsJson = False,
) -> int:
    """Reckon how likely a year of outages is to cost you something.

    Random outages are run through the house under its routine until every chance is known to half a point.
    Ctrl-C stops and keeps the answer so far. With --month, only the outages of that month.
    """
    from datetime import date

    from hearthold.faces import files, service, studies
    from hearthold.faces.cli.page import emit, show, working

    with working("reckoning") as tell:
        found = studies.risk(file, date.today(), month, fuel, seed, tell)
    if as_json:
        emit(files.json_text(service.plain(found.risk)))
    else:
        from hearthold.faces.cli.report.risk import risk_report
        from hearthold.faces.cli.report.say import say_for

        say = say_for(found.house, units)
        show(lambda page: risk_report(found, say, page, every=every))
    return Exit.INTERRUPTED if found.interrupted else Exit.DONE

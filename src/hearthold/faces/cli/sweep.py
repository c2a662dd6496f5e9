"""`hearthold sweep`: hundreds of what-ifs over machine, fuel, battery, tanks and running."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson, HouseFile, Units


def sweep(
    file: HouseFile,
    machine: Annotated[
        str | None,
        typer.Option("--machine", metavar="LIST", help="Running power: 5 kW, 7.5 kW.", show_default=False),
    ] = None,
    fuel: Annotated[
        str | None,
        typer.Option(
            "--fuel-kept", metavar="LIST", help="Fuel in tank and cans: 10 gal, 20 gal.", show_default=False
        ),
    ] = None,
    battery: Annotated[
        str | None,
        typer.Option(
            "--battery", metavar="LIST", help="Capacity, 0 for none: 0 kWh, 10 kWh.", show_default=False
        ),
    ] = None,
    fuel_tank: Annotated[
        str | None,
        typer.Option("--fuel-tank", metavar="LIST", help="The machine's own tank.", show_default=False),
    ] = None,
    water_tank: Annotated[
        str | None,
        typer.Option(
            "--water-tank", metavar="LIST", help="Pressure tank over today's: 1, 2.", show_default=False
        ),
    ] = None,
    running: Annotated[
        str | None,
        typer.Option("--running", metavar="LIST", help="routine, by_need, always.", show_default=False),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out", metavar="FILE", help="Write every design as .parquet or .csv.", show_default=False
        ),
    ] = None,
    seed: Annotated[int, typer.Option("--seed", min=0, help="Another seed draws other outages.")] = 0,
    units: Units = None,
    force: Annotated[bool, typer.Option("--force", help="Overwrite FILE if it is there.")] = False,
    as_json: AsJson = False,
) -> int:
    """Try hundreds of what-ifs over the same outages.

    Every combination of the lists; left out, a list holds what is usual around the house. Nobody fetches fuel.
    """
    from datetime import date

    from hearthold.faces import files, service, studies
    from hearthold.faces.cli.page import emit, say, show, working

    lists = {"machine": machine, "fuel": fuel, "battery": battery, "fuel_tank": fuel_tank, "water_tank": water_tank,
             "running": running}  # fmt: skip
    if out is not None:
        files.refuse_existing(out, force=force)
    with working("sweeping") as tell:
        found = studies.sweep(file, date.today(), lists, out, seed, tell)
    if out is not None:
        say(f"Wrote {len(found.designs)} designs to {out}.")
    if as_json:
        emit(files.json_text(service.plain(found.designs)))
    else:
        from hearthold.faces.cli.report.say import say_for
        from hearthold.faces.cli.report.swept import swept_report

        words = say_for(found.house, units)
        show(lambda page: swept_report(found, words, page))
    return Exit.DONE

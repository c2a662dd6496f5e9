"""`hearthold compare`: every way to get power into the house, side by side."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson, HouseFile, Units


def compare(
    file: HouseFile,
    years: Annotated[float, typer.Option("--years", min=1, max=60, help="Years to reckon with.")] = 20.0,
    discount: Annotated[
        float,
        typer.Option("--discount", min=-5, max=30, metavar="PERCENT", help="Real discount rate a year."),
    ] = 3.0,
    worth: Annotated[
        list[str] | None,
        typer.Option(
            "--worth",
            metavar="WORD=PRICE",
            help="What a loss is worth to you: cold_hour, medical_hour, water_m3, hot_m3, night, pipes, house, "
            "water. May be repeated.",
            show_default=False,
        ),
    ] = None,
    picture: Annotated[
        Path | None,
        typer.Option(
            "--picture", metavar="FILE", help="Draw cost against risk as a .svg file.", show_default=False
        ),
    ] = None,
    seed: Annotated[int, typer.Option("--seed", min=0, help="Another seed draws other outages.")] = 0,
    units: Units = None,
    every: Annotated[bool, typer.Option("--all", help="List every input and every assumption.")] = False,
    force: Annotated[bool, typer.Option("--force", help="Overwrite FILE if it is there.")] = False,
    as_json: AsJson = False,
) -> int:
    """Compare ways to get power into the house: cords to solar.

    Each is designed for the house, run through the same random outages, and reckoned over years.
    """
    from datetime import date

    from hearthold.faces import files, service, studies
    from hearthold.faces.cli.page import emit, say, show, working

    if picture is not None:
        files.refuse_ending(picture, ".svg")
        files.refuse_existing(picture, force=force)
    with working("comparing") as tell:
        found = studies.compare(file, date.today(), years, discount / 100.0, tuple(worth or ()), seed, tell)
    if picture is not None:
        files.write_new(picture, studies.comparison_picture(found), force=force)
        say(f"Drew cost against risk in {picture}.")
    if as_json:
        emit(files.json_text(service.plain(found.comparison)))
    else:
        from hearthold.faces.cli.report.compared import compared_report
        from hearthold.faces.cli.report.say import say_for

        words = say_for(found.house, units)
        show(lambda page: compared_report(found, words, page, every=every))
    return Exit.DONE

"""`hearthold outage`: when to run the machine, or what to have on, through one outage, before it or in the middle."""

from __future__ import annotations

from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson, Fuel, HouseFile, Month, Units


def outage(
    file: HouseFile,
    start: Annotated[
        str, typer.Option("--from", metavar="HH:MM", help="Plan from this time of day on.")
    ] = "18:00",
    down: Annotated[
        str, typer.Option("--down", metavar="LENGTH", help="How long the grid has been down by then.")
    ] = "0 h",
    reading: Annotated[
        list[str] | None,
        typer.Option(
            "--reading",
            metavar="NAME=VALUE",
            help="What a thermometer or a gauge shows: a cold store by its id, house, hot_water, battery, "
            "fuel_tank, fuel_stock (beside the tank). Such as 'house=14 C'; may be repeated.",
        ),
    ] = None,
    running: Annotated[bool, typer.Option("--running", help="The machine is running now.")] = False,
    hours: Annotated[
        float | None,
        typer.Option(
            "--hours",
            min=1,
            max=336,
            help="Hours to plan for; left out, as the house file says.",
            show_default=False,
        ),
    ] = None,
    sure: Annotated[
        float | None,
        typer.Option(
            "--sure",
            min=1,
            max=99,
            metavar="PERCENT",
            help="Nobody knows how long: plan for as long as so many outages of a hundred last, early hours first.",
            show_default=False,
        ),
    ] = None,
    month: Month = None,
    fuel: Fuel = None,
    prove: Annotated[
        float | None,
        typer.Option(
            "--prove",
            min=0.1,
            max=3600,
            metavar="SECONDS",
            help="Look so long for a proof of how good the plan is.",
            show_default=False,
        ),
    ] = None,
    units: Units = None,
    as_json: AsJson = False,
) -> int:
    """Plan the running through one outage: ahead of it, or now.

    The spells are searched with the simulation inside and shown as it plays them. With readings or --down the
    answer is what to do now. Where no plan keeps every limit, it says what fails first and what would help. A house
    with a battery and no machine is told which circuits to have on when, and how long the battery lasts.
    """
    from datetime import date

    from hearthold.errors import InputError
    from hearthold.faces import service
    from hearthold.faces.cli.page import emit, show, working
    from hearthold.faces.cli.report.say import say_for
    from hearthold.faces.files import json_text
    from hearthold.faces.outage import AskedOutage, account_of
    from hearthold.faces.panel_outage import PlannedPanel, panel_account

    if hours is not None and sure is not None:
        raise InputError(
            "--hours says how long it lasts, --sure that nobody knows; give one of them.", code="two_spans"
        )
    asked = AskedOutage(
        start, down, tuple(reading or ()), running, hours, None if sure is None else sure / 100.0, month,
        None if fuel is None else fuel.value, prove,
    )  # fmt: skip
    with working("planning the outage") as tell:
        found = service.outage(file, asked, date.today(), tell)
    words = say_for(found.house, units)
    if isinstance(found, PlannedPanel):
        from hearthold.faces.cli.report.panel_outage import panel_outage_report

        if as_json:
            emit(json_text(service.plain(panel_account(found))))
        else:
            show(lambda page: panel_outage_report(found, words, page))
    elif as_json:
        emit(json_text(service.plain(account_of(found))))
    else:
        from hearthold.faces.cli.report.outage import outage_report

        show(lambda page: outage_report(found, words, page))
    return Exit.DONE if found.planned.plan.kept else Exit.FINDINGS

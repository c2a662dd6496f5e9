"""`hearthold simulate`: one outage, minute by minute, with the machine run as you say."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson, HouseFile, Month, Units


class Running(StrEnum):
    """How the machine is run where no times are given."""

    OFF = "off"
    ALWAYS = "always"
    WATCHFUL = "watchful"
    STANDBY = "standby"
    ROUTINE = "routine"


def simulate(
    file: HouseFile,
    run: Annotated[
        list[str] | None,
        typer.Option(
            "--run", metavar="HH:MM/LENGTH", help="Run daily then, such as 06:30/90min; may be repeated."
        ),
    ] = None,
    running: Annotated[
        Running,
        typer.Option(
            "--machine",
            help="Without --run: off, always, watchful (by need), standby, or the routine that plan finds.",
        ),
    ] = Running.WATCHFUL,
    together: Annotated[
        bool, typer.Option("--together", help="All that the hookup feeds at once, in place of plan's turns.")
    ] = False,
    month: Month = None,
    start: Annotated[str, typer.Option("--start", metavar="HH:MM", help="When the grid fails.")] = "18:00",
    hours: Annotated[float, typer.Option("--hours", min=1, max=720, help="How long it stays down.")] = 72.0,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            metavar="FILE",
            help="Write the course minute by minute: a .csv or .parquet file.",
            show_default=False,
        ),
    ] = None,
    chart: Annotated[
        Path | None,
        typer.Option(
            "--chart",
            metavar="FILE",
            help="Draw the course over time: an .svg or .png file.",
            show_default=False,
        ),
    ] = None,
    units: Units = None,
    force: Annotated[bool, typer.Option("--force", help="Overwrite files that are there.")] = False,
    as_json: AsJson = False,
) -> int:
    """Run one outage through the house and see what happens.

    Event by event, with the machine, stores, weather and turns of circuits that plan uses.
    """
    from hearthold.faces import files, service
    from hearthold.faces.cli.page import emit, say, show, working
    from hearthold.faces.cli.report.say import say_for
    from hearthold.faces.simulation import PICTURES, TABLES, Outage, chart_bytes, check_ending, trace_bytes

    for path, endings in ((out, TABLES), (chart, PICTURES)):
        if path is not None:
            check_ending(path, endings)
            files.refuse_existing(path, force=force)
    wanted = Outage(month, start, hours, tuple(run or ()), running.value, together)
    with working("simulating") as tell:
        found = service.simulate(file, wanted, tell)
    words = say_for(found.house, units)
    if out is not None:
        files.write_new(out, trace_bytes(found.trace, out.suffix), force=force)
        say(f"Wrote {out}.")
    if chart is not None:
        files.write_new(chart, chart_bytes(found, words, chart.suffix), force=force)
        say(f"Wrote {chart}.")
    if as_json:
        emit(files.json_text(service.plain(found.account)))
    else:
        from hearthold.faces.cli.report.simulated import simulated_report

        show(lambda page: simulated_report(found, words, page))
    return Exit.FINDINGS if found.account.broken else Exit.DONE

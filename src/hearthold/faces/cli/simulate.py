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
        typer.Option("--machine", help="Without --run: off, always, watchful (by need) or standby."),
    ] = Running.WATCHFUL,
    month: Month = None,
    start: Annotated[str, typer.Option("--start", metavar="HH:MM", help="When the grid fails.")] = "18:00",
    hours: Annotated[float, typer.Option("--hours", min=1, max=720, help="How long it stays down.")] = 72.0,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out", metavar="FILE", help="Write the course minute by minute as CSV.", show_default=False
        ),
    ] = None,
    units: Units = None,
    force: Annotated[bool, typer.Option("--force", help="Overwrite FILE if it is there.")] = False,
    as_json: AsJson = False,
) -> int:
    """Run one outage through the house and see what happens.

    Event by event, with the machine, stores and weather that plan uses. The very first time takes a minute.
    """
    from hearthold.faces import files, service
    from hearthold.faces.cli.page import emit, say, show, working
    from hearthold.faces.simulation import Outage, trace_csv

    if out is not None:
        files.refuse_existing(out, force=force)
    wanted = Outage(month, start, hours, tuple(run or ()), running.value)
    with working("simulating") as tell:
        found = service.simulate(file, wanted, tell)
    if out is not None:
        files.write_new(out, trace_csv(found.trace), force=force)
        say(f"Wrote {out}.")
    if as_json:
        emit(files.json_text(service.plain(found.account)))
    else:
        from hearthold.faces.cli.report.say import say_for
        from hearthold.faces.cli.report.simulated import simulated_report

        words = say_for(found.house, units)
        show(lambda page: simulated_report(found, words, page))
    return Exit.FINDINGS if found.account.broken else Exit.DONE

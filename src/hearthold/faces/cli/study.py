"""`hearthold study`: a whole folder of house files, on this machine or on a cluster."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson, month_of


def study(
    folder: Annotated[
        Path, typer.Argument(metavar="FOLDER", help="The folder of house files (*.toml).", show_default=False)
    ],
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            metavar="DIR",
            help="Folder for the results; left out, FOLDER-results.",
            show_default=False,
        ),
    ] = None,
    month: Annotated[
        int,
        typer.Option("--month", parser=month_of, metavar="1-12|NAME", help="Month of the outage."),
    ] = 1,
    hours: Annotated[float, typer.Option("--hours", min=1, max=720, help="Length of the outage.")] = 72.0,
    workers: Annotated[
        int | None,
        typer.Option(
            "--workers", min=1, max=512, help="Processes; left out, one a core.", show_default=False
        ),
    ] = None,
    cluster: Annotated[
        str | None,
        typer.Option(
            "--cluster",
            metavar="ADDRESS",
            help="A Dask scheduler, such as tcp://host:8786.",
            show_default=False,
        ),
    ] = None,
    invent: Annotated[
        int | None,
        typer.Option(
            "--invent",
            min=1,
            max=20000,
            metavar="N",
            help="First write N invented homes there.",
            show_default=False,
        ),
    ] = None,
    seed: Annotated[
        int, typer.Option("--seed", min=0, help="Another seed draws other outages and homes.")
    ] = 0,
    as_json: AsJson = False,
) -> int:
    """Study a folder of house files: who loses what.

    Stopped, it goes on where it was when run again. Files that cannot be used are listed; the others still run.
    """
    from datetime import date

    from hearthold.faces import files, service, studies
    from hearthold.faces.cli.page import emit, say, show, working

    where = out if out is not None else folder.with_name(f"{folder.name}-results")
    with working("studying") as tell:
        found = studies.study(folder, where, date.today(), month, hours, seed, workers, cluster, invent, tell)
    say(f"A row a home: {found.results}")
    if as_json:
        emit(files.json_text(service.plain(found)))
    else:
        from hearthold.faces.cli.report.studied import studied_report

        show(lambda page: studied_report(found, page))
    return Exit.FINDINGS if found.failures else Exit.DONE

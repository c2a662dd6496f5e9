"""`hearthold loads`: the catalogue of loads, to choose a `kind` for the house file."""

from __future__ import annotations

from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson, SystemChoice


def loads(
    word: Annotated[
        str | None,
        typer.Argument(metavar="[WORD]", help="Show only what contains this word.", show_default=False),
    ] = None,
    system: Annotated[
        SystemChoice | None,
        typer.Option(
            "--system",
            help="Only what is made for this supply, at its voltage; left out, all.",
            show_default=False,
        ),
    ] = None,
    as_json: AsJson = False,
) -> int:
    """List or search the catalogue of loads.

    The first column is the kind to write in a house file. 120/230 marks what is made for either supply.
    """
    from hearthold.faces import files, service
    from hearthold.faces.cli.page import emit, show
    from hearthold.faces.cli.report.catalogue import catalogue_report

    found = service.load_catalogue(word, system or "")
    if as_json:
        emit(files.json_text([service.plain(kind) for kind in found]))
        return Exit.DONE
    show(lambda page: catalogue_report(found, page, one_system=system is not None))
    return Exit.DONE

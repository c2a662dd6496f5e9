"""`hearthold schema`: the JSON Schema of the house file, or of a plan, for editors and other programs."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from hearthold.faces.cli.page import emit, say


def schema(
    out: Annotated[
        Path | None,
        typer.Argument(
            metavar="[FILE]", help="Where to write it; left out, standard output.", show_default=False
        ),
    ] = None,
    plan: Annotated[
        bool, typer.Option("--plan", help="The schema of what plan --json prints instead.")
    ] = False,
    force: Annotated[bool, typer.Option("--force", help="Overwrite FILE if it is there.")] = False,
) -> None:
    """Write the JSON Schema of the house file, for editors.

    With --plan, the schema of what plan --json prints.
    """
    from hearthold.faces import files, service

    text = files.json_text(service.plan_schema() if plan else service.house_schema())
    if out is None:
        emit(text)
    else:
        files.write_new(out, text, force=force)
        say(f"Wrote {out}.")

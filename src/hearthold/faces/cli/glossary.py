"""`hearthold glossary`: the names of quantities in JSON output and tables: unit, meaning, range."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson

if TYPE_CHECKING:
    from hearthold.quantities.glossary import Term


def glossary(
    word: Annotated[
        str | None,
        typer.Argument(metavar="[WORD]", help="Show only what contains this word.", show_default=False),
    ] = None,
    as_json: AsJson = False,
) -> int:
    """Explain the names of quantities.

    Gives meaning, unit and allowed range of the names that JSON output and tables use.
    """
    from hearthold.faces import files, service
    from hearthold.faces.cli.page import emit, show
    from hearthold.faces.cli.report.parts import listing

    found = service.glossary(word)
    if as_json:
        emit(files.json_text([service.plain(term) for term in found]))
        return Exit.DONE
    show(lambda _: (listing(t.name, t.meaning, _range(t)) for t in found))
    return Exit.DONE


def _range(term: Term) -> str:
    """Lowest to highest, with the unit unless it is a plain number."""
    unit = "" if term.unit in ("1", "of 1") else f" {term.unit}"
    return f"{term.low:g} to {term.high:g}{unit}"

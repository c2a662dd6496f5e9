"""`hearthold papers`: run sheet, electrician's brief and the other papers of a house, into a folder."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import Fuel, HouseFile, Month, Outlook, Units

if TYPE_CHECKING:
    from collections.abc import Callable

    from hearthold.faces.service import Planned
    from hearthold.papers.job import Outlook as Ahead


class SheetChoice(StrEnum):
    """Sizes of paper."""

    LETTER = "letter"
    A4 = "a4"


def papers(
    file: HouseFile,
    out: Annotated[Path, typer.Option("--out", metavar="DIR", help="Folder to write into.")],
    only: Annotated[
        list[str] | None,
        typer.Option("--only", metavar="NAME", help="One paper, such as run-sheet; may be repeated."),
    ] = None,
    paper: Annotated[
        SheetChoice | None,
        typer.Option("--paper", help="Size of paper; left out, that of the country.", show_default=False),
    ] = None,
    month: Month = None,
    fuel: Fuel = None,
    units: Units = None,
    outlook: Outlook = True,
    force: Annotated[bool, typer.Option("--force", help="Overwrite files in DIR.")] = False,
) -> int:
    """Write the papers people hold in their hands, as PDF and more.

    Names: run-sheet, brief, shopping, report, drill, calendar, pocket. Without --only all of them are written.
    """
    from datetime import date

    from hearthold.faces import service
    from hearthold.faces.cli.page import say, working
    from hearthold.papers.make import files_of

    wanted = files_of(only or ())
    refuse(out, wanted, force=force)
    with working("planning") as tell:
        found = service.plan(file, date.today(), month, fuel, tell)
        ahead = outlook_of(found, file, wanted, fuel, tell) if outlook else None
        written = write_papers(found, out, units, only=tuple(only or ()), paper=paper, outlook=ahead)
    say(f"Wrote {names_of(written)} into {out}.")
    return Exit.FINDINGS if found.plan.needs_action else Exit.DONE


def refuse(out: Path, names: tuple[str, ...], *, force: bool) -> None:
    """Make the folder, and raise InputError before any work where a file would be overwritten unasked."""
    from hearthold.faces import files

    files.make_folder(out)
    for name in names:
        files.refuse_existing(out / name, force=force)


def outlook_of(
    found: Planned, file: Path, wanted: tuple[str, ...], fuel: str | None, tell: Callable[[str], None]
) -> Callable[[], Ahead] | None:
    """Begin what risk and comparison say, where the report is among the files wanted."""
    from datetime import date

    from hearthold.faces import studies
    from hearthold.papers.make import files_of

    if not set(files_of(("report",))) & set(wanted):
        return None
    return studies.outlook(found.house, file, date.today(), fuel, progress=tell)


def write_papers(
    found: Planned,
    out: Path,
    units: str | None,
    only: tuple[str, ...] = (),
    paper: str | None = None,
    outlook: Callable[[], Ahead] | None = None,
) -> tuple[Path, ...]:
    """Write the papers of a plan; returns the files."""
    from datetime import date

    from hearthold.faces import service
    from hearthold.faces.cli.report.say import say_for

    us = say_for(found.house, units).us
    return service.papers(found, out, date.today(), paper=paper, only=only, us=us, outlook=outlook)


def names_of(written: tuple[Path, ...]) -> str:
    """The files' names, listed."""
    return ", ".join(path.name for path in written)

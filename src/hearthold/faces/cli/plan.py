"""`hearthold plan`: the whole plan of a house, as a page, as JSON, or as files in a folder."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson, Fuel, HouseFile, Month, Outlook, Units

if TYPE_CHECKING:
    from hearthold.faces.service import Planned

_OWN = ("plan.txt", "plan.json")


def plan(
    file: HouseFile,
    month: Month = None,
    fuel: Fuel = None,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            metavar="DIR",
            help="Write plan.txt, plan.json and the papers into it.",
            show_default=False,
        ),
    ] = None,
    units: Units = None,
    every: Annotated[bool, typer.Option("--all", help="List every assumed value and every note.")] = False,
    outlook: Outlook = True,
    force: Annotated[bool, typer.Option("--force", help="Overwrite files in DIR.")] = False,
    as_json: AsJson = False,
) -> int:
    """Plan what stays on, what carries it, and when to run.

    The page begins with what the household does; the sections after it are for the electrician.
    """
    from datetime import date

    from hearthold.faces import service
    from hearthold.faces.cli.page import emit, working
    from hearthold.faces.plan_json import plan_json

    if out is not None:
        return _write(out, file, month, fuel, units, outlook=outlook, force=force)
    with working("planning") as tell:
        found = service.plan(file, date.today(), month, fuel, tell)
    if as_json:
        emit(plan_json(found.plan))
    else:
        print_plan(found, units, every=every)
    return Exit.FINDINGS if found.plan.needs_action else Exit.DONE


def print_plan(found: Planned, units: str | None, *, every: bool) -> None:
    """The plan on standard output."""
    from hearthold.faces.cli.page import show
    from hearthold.faces.cli.report.plan import plan_report
    from hearthold.faces.cli.report.say import say_for

    say = say_for(found.house, units)
    show(lambda page: plan_report(found, say, page, every=every))


def _write(
    out: Path,
    file: Path,
    month: int | None,
    fuel: str | None,
    units: str | None,
    *,
    outlook: bool,
    force: bool,
) -> int:
    """The plan and its papers as files."""
    from datetime import date

    from hearthold.faces import files, service
    from hearthold.faces.cli.page import plain_text, say, working
    from hearthold.faces.cli.papers import names_of, outlook_of, refuse, write_papers
    from hearthold.faces.cli.report.plan import plan_report
    from hearthold.faces.cli.report.say import say_for
    from hearthold.faces.plan_json import plan_json
    from hearthold.papers.make import files_of

    refuse(out, (*_OWN, *files_of()), force=force)
    with working("planning") as tell:
        found = service.plan(file, date.today(), month, fuel, tell)
        ahead = outlook_of(found, file, files_of(), fuel, tell) if outlook else None
        text = plain_text(lambda page: plan_report(found, say_for(found.house, units), page, every=True))
        written = write_papers(found, out, units, outlook=ahead)
        for name, content in zip(_OWN, (text, plan_json(found.plan)), strict=True):
            files.write_new(out / name, content, force=force)
    say(f"Wrote {', '.join(_OWN)}, {names_of(written)} into {out}.")
    return Exit.FINDINGS if found.plan.needs_action else Exit.DONE

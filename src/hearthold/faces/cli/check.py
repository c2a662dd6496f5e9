"""`hearthold check`: can the file be used, what was read, what the rules found, what was assumed."""

from __future__ import annotations

from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import AsJson, HouseFile, Units


def check(
    file: HouseFile,
    units: Units = None,
    every: Annotated[bool, typer.Option("--all", help="List every assumed value and every note.")] = False,
    as_json: AsJson = False,
) -> int:
    """Read a house file and hold it against the rules.

    Says what was read, what the rules find, and which values had to be assumed, with their usual range.
    """
    from datetime import date

    from hearthold.faces import files, service
    from hearthold.faces.cli.page import emit, show

    checked = service.check(file, date.today())
    if as_json:
        emit(
            files.json_text(
                service.plain({"findings": checked.findings, "assumptions": checked.house.assumptions})
            )
        )
    else:
        from hearthold.faces.cli.report.checked import checked_report
        from hearthold.faces.cli.report.say import say_for

        say = say_for(checked.house, units)
        show(lambda page: checked_report(checked, say, page, every=every))
    return Exit.FINDINGS if checked.needs_action else Exit.DONE

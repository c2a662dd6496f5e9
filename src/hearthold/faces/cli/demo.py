"""`hearthold demo`: the plan of an invented house, and what to try next."""

from __future__ import annotations

from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.options import Units


def demo(
    metric_house: Annotated[
        bool, typer.Option("--230", help="Use the invented 230 V house instead.")
    ] = False,
    units: Units = None,
) -> int:
    """Plan an invented house, to see what comes out."""
    from datetime import date

    from hearthold.faces import service
    from hearthold.faces.cli.page import say, working
    from hearthold.faces.cli.plan import print_plan

    path = service.example_path("single_230" if metric_house else "split_120_240")
    with working("planning an invented house") as tell:
        found = service.plan(path, date.today(), progress=tell)
    print_plan(found, units, every=False)
    say(
        f"\nThis house is invented: {path}\nTry next:\n"
        "  hearthold new my_house.toml     a file for your own house\n"
        "  hearthold check my_house.toml   can it be used, and what do the rules find\n"
        "  hearthold plan my_house.toml    the plan of your own house"
    )
    return Exit.DONE

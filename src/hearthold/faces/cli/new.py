"""`hearthold new`: a new house file, from questions at a terminal or with plain guesses elsewhere."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.page import say


def new(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="Where to write the house file.", show_default=False)
    ],
    defaults: Annotated[
        bool, typer.Option("--defaults", help="Ask nothing; write plain guesses to edit.")
    ] = False,
    force: Annotated[bool, typer.Option("--force", help="Overwrite FILE if it is there.")] = False,
) -> int:
    """Write a new house file to fill in.

    Asks a few questions at a terminal; elsewhere, or with --defaults, it writes plain guesses to edit.
    """
    from hearthold.faces import files, service

    files.refuse_existing(file, force=force)  # before the questions, not after them
    answers = None
    if not defaults and sys.stdin.isatty() and sys.stderr.isatty():
        from hearthold.faces.cli.interview import interview

        answers = interview()
    files.write_new(file, service.starter(answers), force=force)
    service.read(file)  # what we write must be readable; if not, the message says where
    say(f"Wrote {file}. Guesses in it are marked (guess); put them right in any editor, then:")
    say(f"  hearthold check {file}\n  hearthold plan {file}")
    return Exit.DONE

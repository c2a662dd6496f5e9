"""The page a command prints on: width and colour settled once, plain text where nobody looks in colour."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from hearthold.faces.settings import setting

if TYPE_CHECKING:
    from rich.console import Console, RenderableType

WIDEST = 100  # longer lines are hard to read
PIPED = 80


class PipeClosedError(Exception):
    """Whoever reads our output went away; not an error of the user's."""


def console() -> Console:
    """A console on stdout: no markup, no emoji, no highlighting, so that a name is printed as it is."""
    from rich.console import Console

    class _Console(Console):
        def on_broken_pipe(self) -> None:
            raise PipeClosedError

    return _Console(
        file=sys.stdout,
        width=page_width(),
        color_system=None if colourless() else "standard",
        no_color=colourless(),
        markup=False,
        emoji=False,
        highlight=False,
        legacy_windows=False,
        safe_box=True,
    )


def page_width() -> int:
    """Columns of the page: the setting, else the terminal's up to WIDEST, else PIPED."""
    asked = int(setting("width"))
    if asked:
        return max(40, asked)
    if not sys.stdout.isatty():
        return PIPED
    return message_width()


def message_width() -> int:
    """Columns of a message on stderr; asks no setting, for a bad setting is a message too."""
    return max(40, min(WIDEST, shutil.get_terminal_size((PIPED, 24)).columns))


def colourless() -> bool:
    """True where colour is unwanted: NO_COLOR (any value), a dumb terminal, or our own setting."""
    return bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb" or setting("color") == "never"


def emit(text: str) -> None:
    """Write text for another program to stdout, as it is."""
    try:
        sys.stdout.write(text if text.endswith("\n") else text + "\n")
        sys.stdout.flush()
    except BrokenPipeError:
        raise PipeClosedError from None


def say(text: str) -> None:
    """One line about the work itself, on stderr, so that it never mixes with a result."""
    print(text, file=sys.stderr, flush=True)  # noqa: T201


@contextmanager
def working(what: str) -> Iterator[Callable[[str], None]]:
    """Say on stderr what takes a while, on one line at a terminal only, and wipe it when done."""
    from hearthold.engine.jit import spare_blas

    shown = sys.stderr.isatty()
    width = message_width() - 1

    def tell(step: str) -> None:
        if shown:
            line = f"{what}: {step.rstrip(' .')} ..."
            sys.stderr.write("\r" + line.ljust(width)[:width])
            sys.stderr.flush()

    tell("begin")
    spare_blas()
    try:
        yield tell
    finally:
        if shown:
            sys.stderr.write("\r" + " " * width + "\r")
            sys.stderr.flush()


def show(report: Callable[[Console], Iterable[RenderableType]]) -> None:
    """Print a report: styled at a terminal, plain text without trailing blanks anywhere else."""
    if not sys.stdout.isatty():
        emit(plain_text(report))
        return
    page = console()
    for part in report(page):
        page.print(part)


def plain_text(report: Callable[[Console], Iterable[RenderableType]]) -> str:
    """A report as plain text, for a file or a pipe."""
    from io import StringIO

    from rich.console import Console

    into = StringIO()
    page = Console(
        file=into,
        width=int(setting("width")) or PIPED,
        color_system=None,
        markup=False,
        emoji=False,
        highlight=False,
    )
    for part in report(page):
        page.print(part)
    return "\n".join(line.rstrip() for line in into.getvalue().splitlines()) + "\n"

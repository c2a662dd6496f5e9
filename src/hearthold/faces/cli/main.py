"""The entry point: the commands together, and every way of ending made a message and an exit code."""

from __future__ import annotations

import gc
import os
import sys
from typing import Annotated, NoReturn

import typer

from hearthold.errors import HeartholdError
from hearthold.faces.cli import (
    check,
    compare,
    demo,
    glossary,
    loads,
    new,
    outage,
    papers,
    plan,
    risk,
    rules,
    schema,
    simulate,
    study,
    sweep,
)
from hearthold.faces.cli.exits import Exit
from hearthold.faces.cli.layout import ByPurpose
from hearthold.faces.cli.messages import (
    disk_message,
    error_message,
    exit_code,
    misuse_message,
    unexpected_message,
)
from hearthold.faces.cli.page import PipeClosedError, message_width, say

EPILOG = (
    "Exit codes: 0 done, 1 something found needs action, 2 bad input, 3 could not finish. "
    "Hearthold advises; a licensed electrician, your permit office and local code decide."
)

# Looking for garbage every 700 objects, as Python does, takes a tenth of a second while modules load and a fifth while
# papers are made, and finds none.
GARBAGE_EVERY = 1_000_000

STOPPED = "\nStopped; nothing was changed."

app = typer.Typer(
    name="hearthold",
    cls=ByPurpose,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 92},
    epilog=EPILOG,
)
for command in (
    demo.demo,
    new.new,
    check.check,
    plan.plan,
    outage.outage,
    simulate.simulate,
    papers.papers,
    risk.risk,
    compare.compare,
    sweep.sweep,
    study.study,
    loads.loads,
    rules.rules,
    glossary.glossary,
    schema.schema,
):
    app.command()(command)


def _version(asked: bool) -> None:
    if asked:
        from hearthold import __version__

        typer.echo(f"hearthold {__version__}")
        raise typer.Exit


@app.callback(invoke_without_command=True)
def start(
    context: typer.Context,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version and stop.")
    ] = False,
    debug: Annotated[
        bool, typer.Option("--debug", help="Show the traceback when something goes wrong.")
    ] = False,
) -> None:
    """Keep a rural house going when the grid is down: what can stay on, what carries it, and for how long."""
    if context.invoked_subcommand is None:
        typer.echo(context.get_help())


def run() -> NoReturn:
    """Run the command line and leave with the exit code that says how it went."""
    # read as numpy loads: our threads run outages, theirs would only wait
    for library in ("OPENBLAS", "MKL"):
        os.environ.setdefault(f"{library}_NUM_THREADS", "1")
    gc.set_threshold(GARBAGE_EVERY)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a name the terminal cannot print must not stop the plan
    code = main(sys.argv[1:])
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        code = _pipe_closed()
    sys.stderr.flush()
    # To take apart all that was loaded takes a third of a second, and other threads may still be running outages.
    os._exit(int(code))


def main(arguments: list[str]) -> int:
    """Run one command and return its exit code; every error is told on stderr."""
    debug = "--debug" in arguments
    arguments = [a for a in arguments if a != "--debug"]
    try:
        return _code(app(arguments, prog_name="hearthold", standalone_mode=False))
    except HeartholdError as problem:
        if debug:
            raise
        say(error_message(problem, message_width()))
        return exit_code(problem)
    except (KeyboardInterrupt, typer.Abort):
        say(STOPPED)
        return Exit.INTERRUPTED
    except (PipeClosedError, BrokenPipeError):
        return _pipe_closed()
    except OSError as problem:
        if debug:
            raise
        say(disk_message(problem))
        return Exit.UNFINISHED
    except Exception as problem:
        if hasattr(problem, "format_message"):  # the parser's own: an unknown option, a missing argument
            return _misused(problem)
        if debug:
            raise
        say(unexpected_message(problem))
        return Exit.UNFINISHED


def _code(result: object) -> int:
    """The command's own code; the parser turns Ctrl-C into a code too."""
    if result == Exit.INTERRUPTED:
        say(STOPPED)
    return int(result) if isinstance(result, int) else Exit.DONE


def _misused(problem: Exception) -> Exit:
    context = getattr(problem, "ctx", None)
    path = context.command_path if context is not None else "hearthold"
    say(misuse_message(problem.format_message(), path))  # type: ignore[attr-defined]
    return Exit.BAD_INPUT


def _pipe_closed() -> Exit:
    """Point stdout at nothing, so that the interpreter's last flush does not complain."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return Exit.PIPE_CLOSED

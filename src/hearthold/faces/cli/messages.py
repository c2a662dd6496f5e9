"""How an error is told: one message on stderr, the place first, what to do last; no traceback by default."""

from __future__ import annotations

import textwrap
from itertools import groupby

from hearthold.errors import CannotMeetError, Fault, HeartholdError, HouseFileError, MissingExtraError
from hearthold.faces.cli.exits import Exit

_SHOWN = 20  # more faults than this in one file are counted, not listed


def error_message(problem: HeartholdError, width: int = 80) -> str:
    """The text that tells a person about the problem."""
    if isinstance(problem, HouseFileError):
        return _fault_list(problem.faults, width)
    return textwrap.fill(
        f"hearthold: {problem}", max(40, width), subsequent_indent="  ", break_on_hyphens=False
    )


def exit_code(problem: HeartholdError) -> Exit:
    """The exit code that belongs to a problem."""
    return Exit.UNFINISHED if isinstance(problem, CannotMeetError | MissingExtraError) else Exit.BAD_INPUT


def misuse_message(told: str, command: str) -> str:
    """What the parser says of an option or argument, without its own inner words."""
    return f"hearthold: {told.replace('Value error, ', '').replace('Input should', 'must')}\n  Try: {command} --help"


def disk_message(problem: OSError) -> str:
    """What the system refused while something was read or written: a full disk, a lost share."""
    place = f"{problem.filename}: " if problem.filename else ""
    return (
        f"hearthold: could not finish; the system says: {place}{problem.strerror or problem}.\n"
        "  Free some space or choose another place, and run the command again; --debug shows where it stopped."
    )


def unexpected_message(problem: BaseException) -> str:
    """One line for a fault of our own, and how to report it."""
    what = f"{type(problem).__name__}: {problem}".splitlines()[0][:200]
    return (
        f"hearthold: a fault in the program itself, not in what you gave it ({what}).\n"
        "  Run the same command again with --debug and send what it prints, with the house file if you can,\n"
        "  to the project's issue list."
    )


def _fault_list(faults: tuple[Fault, ...], width: int) -> str:
    lines = []
    for path, group in groupby(faults, key=lambda f: f.path):
        of_file = list(group)
        count = "one fault" if len(of_file) == 1 else f"{len(of_file)} faults"
        lines.append(f"{path} cannot be used: {count}.")
        lines += [_fault(fault, width) for fault in of_file[:_SHOWN]]
        if len(of_file) > _SHOWN:
            lines.append(f"... and {len(of_file) - _SHOWN} more; put these right first.")
    return "\n".join(lines)


def _fault(fault: Fault, width: int) -> str:
    where = fault.path if fault.line is None else f"{fault.path}:{fault.line}"
    found = f" = {fault.value}" if fault.value else ""
    told = textwrap.fill(
        f"{fault.problem} {fault.remedy}".strip(),
        max(40, width - 2),
        initial_indent="    ",
        subsequent_indent="    ",
        break_on_hyphens=False,
    )
    return f"  {where}  {fault.key}{found}\n{told}"

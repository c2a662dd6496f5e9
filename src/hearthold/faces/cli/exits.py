"""What the exit codes mean; scripts rely on them."""

from __future__ import annotations

from enum import IntEnum


class Exit(IntEnum):
    """Exit codes of the command line."""

    DONE = 0
    FINDINGS = 1  # done, and something found needs action
    BAD_INPUT = 2  # what was given cannot be used
    UNFINISHED = 3  # could not finish
    INTERRUPTED = 130  # Ctrl-C, as shells count it
    PIPE_CLOSED = 141  # the reader went away, as shells count it


MEANINGS = {
    Exit.DONE: "done",
    Exit.FINDINGS: "done, and something found needs action",
    Exit.BAD_INPUT: "what was given cannot be used; the message says why",
    Exit.UNFINISHED: "could not finish; the message says why",
    Exit.INTERRUPTED: "stopped with Ctrl-C",
    Exit.PIPE_CLOSED: "the program reading the output went away",
}

"""Every error a user can meet, in one tree.

HeartholdError
├── InputError          a value given cannot be used; says name, value, unit, allowed range, remedy
│   └── HouseFileError  one or more located faults in a house file
├── TableError          a reference table has no such row, or was asked beyond its edge
├── CannotMeetError     the wishes contradict each other; names what clashes
└── MissingExtraError   an optional dependency is needed and not installed
"""

from __future__ import annotations

from dataclasses import dataclass


class HeartholdError(Exception):
    """Base of every error that is shown to a user as one message and never as a traceback."""

    code = "error"


class InputError(HeartholdError):
    """What was given cannot be used; the message says what, why and what to do."""

    code = "bad_input"

    def __init__(self, message: str, *, code: str = "bad_input", **values: object) -> None:
        super().__init__(message)
        self.code = code
        self.values = values


@dataclass(frozen=True, slots=True)
class Fault:
    """One located fault of a house file: where it is, what was found, what is allowed, what to do."""

    path: str
    line: int | None
    key: str
    value: str
    problem: str
    remedy: str

    def __str__(self) -> str:
        where = self.path if self.line is None else f"{self.path}:{self.line}"
        found = f" = {self.value}" if self.value else ""
        return f"{where}: {self.key}{found}: {self.problem} {self.remedy}".rstrip()


class HouseFileError(InputError):
    """A house file that cannot be used, with every fault found in it."""

    code = "bad_house_file"

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(str(f) for f in faults), code="bad_house_file")
        self.faults = faults


class TableError(HeartholdError):
    """A reference table has no such row, or was asked beyond its edge."""

    code = "table"


class CannotMeetError(HeartholdError):
    """The wishes contradict each other; the message names the smallest set that clashes."""

    code = "cannot_meet"


class MissingExtraError(HeartholdError):
    """An optional dependency is needed for this action and is not installed."""

    code = "missing_extra"

"""Small phrases that several papers share."""

from __future__ import annotations

import re
from calendar import month_name

from hearthold.house.loads import Priority

PRIORITY_WORDS = {
    Priority.VITAL: "vital",
    Priority.ESSENTIAL: "essential",
    Priority.COMFORT: "comfort",
    Priority.DEFER: "can wait",
}


def words(name: object) -> str:
    """A word of the house file as people read it."""
    return str(name).replace("_", " ")


def sentence(text: str) -> str:
    """Text with a capital first and one full stop last."""
    stripped = text.strip().rstrip(".")
    return f"{stripped[:1].upper()}{stripped[1:]}." if stripped else ""


def plus_minus(told: str) -> str:
    """Plain text's +- as print has it."""
    return told.replace("+-", "± ")


def counted_poles(poles: int) -> str:
    """2-pole and the like."""
    return f"{poles}-pole"


def month(number: int) -> str:
    """The name of a month, 1 to 12."""
    return month_name[number]


def wire(size: str) -> str:
    """A conductor size as it is printed: mm² for mm2."""
    return size.replace("mm2", "mm²")


def plain(text: str) -> str:
    """A quantity without noughts after its point: 25 ft for 25.0 ft."""
    return _NOUGHTS.sub(r"\1", text)


_NOUGHTS = re.compile(r"(\d)\.0+(?=\D|$)")

"""What nobody read in the middle of an outage, and what it is taken as."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from hearthold.faces.cli.report.say import duration, names
from hearthold.faces.readings import not_readable

if TYPE_CHECKING:
    from hearthold.house.house import House


def unread_words(house: House, down_s: float, unread: Mapping[str, str]) -> Iterator[str]:
    """What is taken as in normal times because nobody read it, though the grid has been down for a while.

    `unread`: names of stores, by what a reading calls them.
    """
    if down_s <= 0.0:
        return
    if unread:
        told = names(list(unread.values()), 12)
        yield (
            f"NOBODY READ {told}: taken as in normal times, as if the grid had failed just now. After "
            f"{duration(down_s)} that is too good: look, and give what you see with --reading "
            f"({', '.join(unread)})."
        )
    others = not_readable(house)
    if others:
        yield f"Taken as in normal times too, and nothing to give a reading of: {names(list(others), 12)}."

"""The page of `study`: what a folder of homes came to, which remedy pays, and what could not be run."""

from __future__ import annotations

from calendar import month_name
from collections.abc import Callable, Iterator
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING

from rich.console import Console, RenderableType

from hearthold.faces.cli.report.parts import Column, blank, caution, heading, points, sentence, table, title
from hearthold.faces.cli.report.say import figure, whole
from hearthold.reference import cautions as table_of_cautions
from hearthold.study.words import band, percent

if TYPE_CHECKING:
    from hearthold.study.estimate import Estimate
    from hearthold.study.folder import FolderStudy

_SHOWN = 20
_WORDS = {
    "medical": "leave a medical device without power", "water": "run out of water", "food": "lose food",
    "warmth": "fall below their lowest temperature", "pipes": "have pipes at risk",
}  # fmt: skip


def studied_report(found: FolderStudy, page: Console) -> Iterator[RenderableType]:
    """Everything `study` prints, in order."""
    run = found.homes - len(found.failures)
    hours, month = found.asked.hours, month_name[found.asked.month]
    yield title(f"{Path(found.folder).name}: {run} of {found.homes} homes run", page)
    if found.resumed:
        yield sentence(f"{found.resumed} of them were finished before and are not run again.")
    yield heading(f"An outage of {hours:g} hours in {month}, in a bad spell", page)
    yield table(
        (
            Column("homes that"),
            Column("homes", True),
            Column("share", True),
            Column("of all such homes", True),
        ),
        (
            (words, str(found.losing[k]), *_share(found.losing_frac[k], run > 0))
            for k, words in _WORDS.items()
        ),
    )
    yield sentence(
        "Of all such homes: the 95 % interval if these are a random sample of them; of this folder the share is exact."
    )
    anything = found.mean_any_year_frac
    yield sentence(
        f"{found.with_well} have a well; {found.without_machine} have no machine. Chance of any loss in a usual year, "
        f"mean of the homes: {percent(anything.value)} ({band((anything.low, anything.high))} of all such homes). "
        "Machines are run by need, and not at night unless "
        "the house wishes it: a house without a stove may then be too cold by morning. Region, climate and loads are "
        "each home's own; the outage and its weather are one case, not a forecast."
    )
    yield from _remedies(found, page)
    yield from _failures(found, page)
    yield from cautions_of_any("never_indoors", "no_backfeed", "store_fuel")
    yield sentence("\nThis page advises; what a home needs is decided on the spot, under local code.")


def cautions_of_any(*idents: str) -> Iterator[RenderableType]:
    """Cautions by id; a folder may hold homes of either system."""
    yield blank()
    for ident in idents:
        text = table_of_cautions.caution(ident).text
        yield caution(text[:1].upper() + text[1:].rstrip(".") + ".")


def _remedies(found: FolderStudy, page: Console) -> Iterator[RenderableType]:
    yield heading("Which remedy saves most for its money", page)
    columns = (
        Column("remedy"), Column("homes", True), Column("cost", True), Column("losses +-", True),
        Column("food +-", True), Column("keep water", True),
    )  # fmt: skip
    rows = [
        (r.name, str(r.homes), whole(r.cost_mean), _off(r.harm_saved_per_1000, figure),
         _off(r.food_saved_per_1000, whole), str(r.keeps_water))
        for r in found.remedies
    ]  # fmt: skip
    yield table(columns, rows)
    yield sentence(
        "Homes: that could have it. Cost: typical, mean of the homes; quotes differ. Losses: of any kind, avoided in a "
        "usual year for each 1000 spent. Food: money saved in a usual year for each 1000 spent; +- is the 95 % "
        "interval of both for such homes. Keep water: homes that then keep theirs in the outage above."
    )


def _share(share: Estimate, run: bool) -> tuple[str, str]:
    return (percent(share.value), band((share.low, share.high))) if run else ("-", "-")


def _off(found: Estimate, words: Callable[[float], str]) -> str:
    return f"{words(found.value)} +-{words(found.half)}" if isfinite(found.half) else words(found.value)


def _failures(found: FolderStudy, page: Console) -> Iterator[RenderableType]:
    if not found.failures:
        return
    yield heading("Not run", page)
    yield points(f"{Path(file).name}: {_short(file, reason)}" for file, reason in found.failures[:_SHOWN])
    if len(found.failures) > _SHOWN:
        yield sentence(f"... and {len(found.failures) - _SHOWN} more in failures.csv.")


def _short(file: str, reason: str) -> str:
    """The reason on one line, without the path that every fault begins with."""
    return " ".join(reason.replace(file, Path(file).name).split())[:300]

"""Leg balance: how the legs carry the load now, and which circuits to move."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import RenderableType

from hearthold.faces.cli.report.cautions import cautions_of
from hearthold.faces.cli.report.parts import Column, heading, sentence, table
from hearthold.faces.cli.report.say import share, whole

if TYPE_CHECKING:
    from hearthold.faces.cli.report.sheet import Sheet
    from hearthold.plan.balance import Balance, Legs


def legs_section(sheet: Sheet, found: Balance) -> Iterator[RenderableType]:
    """Both legs before and after, and the moves."""
    yield heading("The two legs", sheet.page)
    yield sentence(legs_words(found))
    columns = [Column(""), Column("leg A VA", True), Column("leg B VA", True), Column("apart", True)]
    columns += [Column("worst leg at a start VA", True)]
    rows = [("as it is", found.before)] + ([("after the moves", found.after)] if found.moves else [])
    yield table(columns, (_row(name, legs) for name, legs in rows))
    yield sentence(
        "Everything on that the hookup feeds. A generator set is happiest with its legs loaded alike."
    )
    yield from sheet.remarks(found.notes)
    yield from cautions_of(sheet, "open_panel") if found.moves else ()


def legs_words(found: Balance) -> str:
    """Which circuits an electrician could move, if any."""
    if found.assumed:
        which = (
            "the leg of one circuit"
            if len(found.assumed) == 1
            else f"the legs of {len(found.assumed)} circuits"
        )
        return (
            f"The house file leaves out {which}. Placed as evenly as they go, {_apart(found.before)}; which to move "
            "can be said once they are written down."
        )
    if not found.moves:
        return f"Nothing to move: {_apart(found.before)} ({found.status})."
    moves = "; ".join(f"{m.name} from leg {m.from_leg} to {m.to_leg}" for m in found.moves)
    return f"An electrician can even the legs out ({found.status}): {moves}."


def _apart(legs: Legs) -> str:
    return f"the legs are {whole(legs.difference_va)} VA apart"


def _row(name: str, legs: Legs) -> tuple[str, ...]:
    apart = f"{whole(legs.difference_va)} VA, {share(legs.imbalance_frac)}"
    return (name, whole(legs.leg_a_va), whole(legs.leg_b_va), apart, whole(legs.worst_start_va))

"""One outage on a battery alone as faces show it: what was asked, and the plan as plain values for other programs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hearthold.engine import jit
from hearthold.errors import InputError
from hearthold.faces.simulation import finite
from hearthold.plan.panel_outage import PanelOutage, Switch, plan_panel_outage

if TYPE_CHECKING:
    from collections.abc import Callable

    from hearthold.engine.weather import Hours
    from hearthold.faces.outage import AskedOutage
    from hearthold.faces.readings import ReadNow
    from hearthold.house.house import House
    from hearthold.plan.kept import StoreKept
    from hearthold.plan.outage import Span
    from hearthold.plan.panel import PanelCase


@dataclass(frozen=True, eq=False)
class PlannedPanel:
    """A planned outage on a battery with the house it is for."""

    house: House
    asked: AskedOutage
    planned: PanelOutage
    unread: dict[
        str, str
    ]  # names of the stores that nobody read, by what a reading calls them; battery aside


@dataclass(frozen=True, slots=True)
class PanelWay:
    """One way to keep the panel. Times are seconds from now; what has no end is None."""

    what: str
    circuits: tuple[str, ...]
    used_day_j: float
    battery_left_j: float
    kept: bool
    battery_empty_s: float | None
    holds_s: float | None
    fails_first: str | None


@dataclass(frozen=True, slots=True)
class PanelAccount:
    """The plan in plain values. Times are seconds from now; what has no end is None."""

    now_s: float  # time of day
    down_s: float
    planned_for_s: float
    sure_frac: float | None
    sentence: str
    on_now: tuple[str, ...]
    always: tuple[str, ...]
    in_hours: tuple[str, ...]
    off: tuple[str, ...]
    switches: tuple[Switch, ...]
    spared: tuple[str, ...]
    unstartable: tuple[str, ...]  # motors beyond the surge of the inverter
    battery_now_j: float  # that may be used
    kept: bool
    standing: str
    tried: int
    ways: tuple[PanelWay, ...]
    stores: tuple[StoreKept, ...]
    unread: tuple[str, ...]  # stores that nobody read though the grid has been down for a while


def planned_panel(
    house: House,
    asked: AskedOutage,
    outside: Hours,
    read_in: ReadNow,
    span: Span,
    progress: Callable[[str], None] | None = None,
) -> PlannedPanel:
    """The plan of one outage on a battery. Raises InputError for what only a machine has, and as the planner does."""
    given = [
        name
        for name, has in (
            ("--fuel", asked.fuel is not None),
            ("--running", asked.running),
            ("--prove", asked.prove_s is not None),
        )
        if has
    ]
    if given:
        raise InputError(
            f"{given[0]} is of a machine, and this house has a battery alone; leave it out.",
            code="no_generator",
        )
    if progress is not None and not jit.is_compiled():
        progress("preparing the simulation for this computer, once; this takes a few seconds ...")
    unread = {name: told for name, told in read_in.unread.items() if name != "battery"}
    return PlannedPanel(house, asked, plan_panel_outage(house, outside, read_in.now, span), unread)


def panel_account(found: PlannedPanel) -> PanelAccount:
    """The account of one planned outage."""
    planned, plan = found.planned, found.planned.plan
    return PanelAccount(
        now_s=plan.fails_at_s,
        down_s=planned.now.elapsed_s,
        planned_for_s=plan.tested_s,
        sure_frac=found.asked.sure_frac,
        sentence=planned.sentence,
        on_now=planned.on_now,
        always=plan.always,
        in_hours=plan.in_hours,
        off=plan.off,
        switches=planned.switches,
        spared=plan.spared,
        unstartable=plan.unstartable,
        battery_now_j=planned.battery_now_j,
        kept=plan.kept,
        standing=plan.standing.words,
        tried=plan.tried,
        ways=tuple(_way(case) for case in (plan.lasts, *plan.cases)),
        stores=plan.stores,
        unread=tuple(found.unread) if planned.now.elapsed_s > 0.0 else (),
    )


def _way(case: PanelCase) -> PanelWay:
    fails = None if case.fails_first is None else case.fails_first.store
    return PanelWay(
        case.what, case.circuits, case.used_day_j, case.left_j, case.kept, finite(case.empties_s),
        finite(case.holds_s), fails,
    )  # fmt: skip

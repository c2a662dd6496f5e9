"""The search for the way to keep a panel on a house battery: a coarse grid, then a climb from the best of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from hearthold.plan.panel_rules import Duty, Panel, PanelJudge, PanelRule, allows, coarse_hours, near_hours
from hearthold.plan.rule_search import Rule

POOL = 6  # duties from the best of which a climb goes on
CLIMBS = 12
TRIED_HOURS = 12  # of the coarse ones, where a circuit gets hours and there were none


def search(judge: PanelJudge, only: Sequence[Rule] | None = None) -> list[PanelRule]:
    """All ways looked at, best first. `only`: the hours that may be, in place of any that the household can keep."""
    rules = judge.problem.rules
    coarse = coarse_hours(rules) if only is None else tuple(only)
    judge.costs_j(list(_grid(judge.panel, coarse)))
    few = tuple(dict.fromkeys([*coarse[:2], *coarse[:: max(1, len(coarse) // TRIED_HOURS)]]))
    best = min(judge.known.values())
    for _ in range(CLIMBS):
        wanted = {
            rule.settled
            for start in _pool(judge.known)
            for rule in _neighbours(judge.panel, start, few if only is None else coarse)
            if (allows(rules, rule.hours) if only is None else rule.hours in ((), *coarse))
            and judge.panel.serves_vital(rule.settled)
        }
        judge.costs_j(sorted(wanted - judge.known.keys()))
        found = min(judge.known.values())
        if found >= best - 1e-9 * abs(best):
            break
        best = found
    return sorted(judge.known, key=lambda rule: (judge.known[rule], len(rule.hours), rule))


def _grid(panel: Panel, coarse: Sequence[Rule]) -> Iterator[PanelRule]:
    """All on; and what weighs more at all hours, what weighs less in the hours or off, cut at every weight."""
    for up_to in (3, 2, 1, 0, -1):
        yield panel.rule(up_to=up_to)
        for more in range(up_to + 1, 4):
            yield from (panel.rule(up_to=up_to, hours_up_to=more, hours=hours) for hours in coarse)


def _pool(known: dict[PanelRule, float]) -> list[PanelRule]:
    """The best rule of each of the best few sets of duties, and the runners-up of the best."""
    ordered = sorted(known, key=lambda rule: (known[rule], rule))
    best: dict[tuple[Duty, ...], PanelRule] = {}
    for rule in ordered:
        best.setdefault(rule.duties, rule)
    return list(dict.fromkeys([*list(best.values())[:POOL], *ordered[: POOL // 2]]))


def _neighbours(panel: Panel, rule: PanelRule, coarse: Sequence[Rule]) -> Iterator[PanelRule]:
    """Another duty of one circuit, duties of two exchanged, other hours."""
    free = range(len(panel.circuits))
    choices = (rule.hours,) if rule.hours else tuple(coarse)
    for i in free:
        for duty in Duty:
            if duty is not rule.duties[i]:
                changed = _with(rule.duties, {i: duty})
                yield from (PanelRule(changed, h) for h in (choices if duty is Duty.HOURS else (rule.hours,)))
    for i, j in combinations(free, 2):
        if rule.duties[i] is not rule.duties[j]:
            yield PanelRule(_with(rule.duties, {i: rule.duties[j], j: rule.duties[i]}), rule.hours)
    if rule.hours:
        yield from (PanelRule(rule.duties, hours) for hours in (*near_hours(rule.hours), *coarse))


def _with(duties: tuple[Duty, ...], changes: dict[int, Duty]) -> tuple[Duty, ...]:
    return tuple(changes.get(i, duty) for i, duty in enumerate(duties))

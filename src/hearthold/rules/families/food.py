"""Food: what is fed, what is measured, how full, and how long it holds."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.house.stores import ColdStore
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Severity, Value
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow
from hearthold.rules.words import likely_words
from hearthold.sizing.hold import Hold

_DECIDED = {"planning": "the careful model", "likely": "the likely model", "rule": "public guidance"}


@rule("cold-store-not-fed")
def not_fed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A store whose load power does not reach, where there is a machine."""
    for store in case.house.cold:
        load = case.house.load_by_id[store.load]
        if case.generator is not None and not case.reaches(load):
            yield _about(store, load=load.name, planned_s=case.planned_s)


@rule("fridge-hold-shorter-than-gap")
def fridge_gap(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fed fridge that warms up in the longest gap of the day."""
    return _gap_hits(case, freezers=False)


@rule("freezer-hold-shorter-than-gap")
def freezer_gap(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fed freezer that thaws in the longest gap of the day."""
    return _gap_hits(case, freezers=True)


@rule("freezer-shorter-than-outage")
def freezer_outage(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A freezer that does not last the planned outage if nothing runs."""
    for store in case.house.cold:
        hold = case.hold_of[store.id]
        if store.is_freezer and hold.strictest_s < case.planned_s:
            words = likely_words(hold.likely_s, case.house.system)
            hit = _hold_hit(store, hold, planned_s=case.planned_s, likely_words=words)
            yield Hit(hit.where, hit.values, Severity.NOTE if _is_run(case, store) else None)


@rule("no-fridge-thermometer")
def no_fridge_thermometer(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fridge, and no thermometer as far as anybody knows."""
    fridges = [s for s in case.house.cold if not s.is_freezer]
    if fridges and case.house.safety.fridge_thermometer is not True:
        yield Hit(fridges[0].name)


@rule("no-freezer-thermometer")
def no_freezer_thermometer(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A freezer, and no thermometer as far as anybody knows."""
    freezers = [s for s in case.house.cold if s.is_freezer]
    if freezers and case.house.safety.freezer_thermometer is not True:
        yield Hit(freezers[0].name)


@rule("freezer-half-empty")
def half_empty(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A freezer with much air in it."""
    for store in case.house.cold:
        if store.is_freezer and store.fill_frac < row.number("below_frac"):
            yield _about(store, fill_frac=store.fill_frac)


@rule("food-value-at-stake")
def food_value(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A store with contents worth more than a usual excess."""
    for store in case.house.cold:
        if store.contents_value >= row.number("at_least_money"):
            yield _about(store, value_money=store.contents_value, currency=case.house.prices.currency)


@rule("fridge-set-warm")
def set_warm(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A fridge set above the public limit."""
    for store in case.house.cold:
        if not store.is_freezer and store.set_c > row.number("limit_c"):
            yield _about(store, set_c=store.set_c)


def _gap_hits(case: Case, freezers: bool) -> Iterator[Hit]:
    """Stores of one kind that the machine serves, and whose strictest hold is shorter than the gap.

    Milder where the routine of a plan was found to keep the store: the doubt of the careful answer is what is left.
    """
    for store in case.house.cold:
        hold = case.hold_of[store.id]
        if store.is_freezer is freezers and _is_run(case, store) and hold.strictest_s < case.gap_s:
            hit = _hold_hit(store, hold, gap_s=case.gap_s, played_words=_played_words(case, store))
            yield Hit(hit.where, hit.values, Severity.CONSIDER if case.is_kept(store.id) else None)


def _played_words(case: Case, store: ColdStore) -> str:
    """What became of the store where the routine was played through."""
    if case.played is None:
        return case.gap_words
    played = f"Played through from {case.played.fails_at_s / 3600.0:02.0f}:00, the routine of this plan"
    if not case.is_kept(store.id):
        return f"{played} does not keep it."
    return (
        f"{played} keeps it within its limit by the usual figures, without much to spare: an outage that begins at "
        "another hour may not."
    )


def _hold_hit(store: ColdStore, hold: Hold, **more: Value) -> Hit:
    public = (
        ""
        if hold.rule_s is None
        else f"Public guidance for it is {hold.rule_s / 3600:g} h with the door shut."
    )
    words = {"decided": _DECIDED[hold.decided_by], "public_words": public}
    return _about(store, hold_s=hold.strictest_s, **words, **more)


def _is_run(case: Case, store: ColdStore) -> bool:
    """Whether a machine gives the store power in an outage."""
    return case.generator is not None and case.reaches(case.house.load_by_id[store.load])


def _about(store: ColdStore, **more: Value) -> Hit:
    return Hit(store.name, {"store": store.name, **more})

"""What the verdicts rest on: assumed figures that would turn them, and parts nobody wrote down."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.house.loads import Assumption
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Values
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow
from hearthold.rules.words import listed


@rule("assumed-running-decides")
def running_decides(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Needed loads that fit at usual figures and not at the upper end of their ranges."""
    source = case.supply
    if source is None:
        return
    high_w = case.needed.total_w + sum(x.high_w - x.running_w for x in case.needed_loads)
    if case.needed.total_w <= source.running_w < high_w:
        wide = sorted(case.needed_loads, key=lambda x: x.running_w - x.high_w)[:3]
        values: Values = {"running_w": case.needed.total_w, "available_w": source.running_w, "high_w": high_w}
        names = listed(x.name for x in wide if x.high_w > x.running_w)
        yield Hit(source.name, {"machine": source.name, "loads": names, **values})


@rule("assumed-start-decides")
def start_decides(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A start that fits at its assumed figure and not at the upper end of its range."""
    source = case.supply
    for start in case.starts if source is not None else ():
        assumed = _assumed(case, start.load, "start_va")
        if source is None or assumed is None or start.va_frac > 1.0:
            continue
        high_frac = start.va_frac + (assumed.high - start.start_va) / source.start_va
        if high_frac > 1.0:
            own: Values = {"start_va": start.start_va, "high_va": assumed.high}
            shares: Values = {"use_frac": start.va_frac, "high_frac": high_frac}
            yield Hit(start.name, {"load": start.name, "machine": source.name, **own, **shares})


@rule("values-assumed")
def values_assumed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Any figure filled in from the catalogue."""
    found = case.house.assumptions
    if found:
        widest = sorted(found, key=_spread, reverse=True)[:3]
        yield Hit(
            "the house file", {"count": len(found), "widest": listed(_whose(case, a.item) for a in widest)}
        )


def _whose(case: Case, item: str) -> str:
    """The thing that an assumed figure belongs to, as the household calls it."""
    place = item.partition(": ")[0]
    return case.house.name_by_place.get(place, place.replace("_", " "))


@rule("wiring-code-unknown")
def code_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """No wiring code named."""
    if not case.house.site.code.strip():
        yield Hit("site.code")


@rule("chain-part-unknown")
def part_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Links whose rating nobody gave."""
    if case.chain is not None and case.chain.unknown:
        yield Hit(listed(case.chain.unknown), {"parts": listed(case.chain.unknown)})


@rule("legs-assumed")
def legs_assumed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Fed circuits whose leg had to be assumed."""
    names = [c.name for c in case.seats.assumed if c.id in case.fed_ids]
    if case.generator is not None and names:
        yield Hit(listed(names), {"circuits": listed(names)})


def _assumed(case: Case, load: str, figure: str) -> Assumption | None:
    """The assumption behind one figure of a load, if it is one."""
    item = f"load {load}: {figure}"
    return next((a for a in case.house.assumptions if a.item == item), None)


def _spread(assumption: Assumption) -> float:
    """Width of the range over the value used."""
    return (assumption.high - assumption.low) / abs(assumption.value) if assumption.value else 0.0

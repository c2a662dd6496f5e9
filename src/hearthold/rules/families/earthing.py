"""Neutral and earth: the four cases of transfer pole and generator neutral, and the 230 V rules of 551."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hearthold.house.supply import Generator, Hookup, HookupKind
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Severity
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow
from hearthold.rules.words import listed

_LOOSE_EARTH = ("TN-C-S", "TT")  # supplies whose neutral the changeover must break
_RESIDUAL = frozenset({"rcd", "rcbo"})

Pair = tuple[Generator, Hookup]


def _pair(case: Case) -> Pair | None:
    """The set and the transfer equipment, where the house has both."""
    if case.generator is None or case.panel_hookup is None:
        return None
    return case.generator, case.panel_hookup


def _about(case: Case, pair: Pair, **more: str) -> Hit:
    way, machine = case.way, pair[0].name
    return Hit(f"{machine} on the {way}", {"machine": machine, "way": way, **more})


def _when(case: Case, switched: bool | None, neutral: str) -> Iterator[Hit]:
    """A hit where the transfer pole and the generator's neutral are as named."""
    pair = _pair(case)
    if pair is not None and pair[1].switched_neutral is switched and pair[0].neutral == neutral:
        yield _about(case, pair)


@rule("neutral-two-bonds")
def two_bonds(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Bonded set, neutral left connected."""
    return _when(case, switched=False, neutral="bonded")


@rule("neutral-no-bond", "generator-neutral-floats")
def no_bond(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Floating set, neutral switched."""
    return _when(case, switched=True, neutral="floating")


@rule("neutral-unknown", "generator-neutral-unknown")
def neutral_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A set on transfer equipment whose plate nobody read."""
    pair = _pair(case)
    if pair is not None and pair[0].neutral == "unknown":
        yield _about(case, pair)


@rule("transfer-neutral-unknown")
def transfer_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Transfer equipment whose poles nobody counted."""
    pair = _pair(case)
    if pair is not None and pair[1].switched_neutral is None:
        yield _about(case, pair)


@rule("gfci-will-trip")
def gfci_will_trip(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Ground-fault receptacles, neutral left connected, and a set that may be bonded."""
    pair = _pair(case)
    if pair is None or pair[0].gfci_receptacles is not True or pair[1].switched_neutral is not False:
        return
    if pair[0].neutral == "unknown":  # a bonded one has the two bonds' own finding, which says it trips
        yield _about(case, pair, neutral="not known")


@rule("separately-derived-electrode")
def derived_electrode(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Bonded set, neutral switched, and no electrode on record."""
    pair = _pair(case)
    if pair is not None and pair[1].own_electrode is not True:
        yield from _when(case, switched=True, neutral="bonded")


@rule("cords-floating-neutral")
def cords_floating(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Cords from a floating set."""
    set_ = case.generator
    if set_ is not None and case.house.on_cords and set_.neutral == "floating":
        yield Hit(set_.name, {"machine": set_.name})


@rule("subpanel-neutral-bonded")
def subpanel_bonded(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A sub-panel with its bonding screw in."""
    hookup = case.panel_hookup
    sub_panel = hookup is not None and hookup.kind in (
        HookupKind.MANUAL_TRANSFER,
        HookupKind.BATTERY_INVERTER,
    )
    if hookup is not None and sub_panel and hookup.panel_neutral_bonded is True:
        yield Hit(case.fed_panel)


@rule("own-earth-missing")
def own_earth_missing(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An installation fed by a set, on the supplier's earth alone, or as far as anybody knows."""
    pair = _pair(case)
    if pair is not None and pair[1].own_electrode is not True:
        unknown = pair[1].own_electrode is None
        yield replace(_about(case, pair), severity=Severity.ACT if unknown else None)


@rule("neutral-not-switched")
def neutral_not_switched(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A changeover that leaves the neutral of a TN-C-S or TT supply connected."""
    pair = _pair(case)
    if pair is not None and pair[1].switched_neutral is False and pair[1].earthing in _LOOSE_EARTH:
        yield _about(case, pair, earthing=pair[1].earthing)


@rule("changeover-neutral-unknown")
def changeover_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A changeover whose poles nobody counted."""
    pair = _pair(case)
    if pair is not None and pair[1].switched_neutral is None:
        yield _about(case, pair, earthing=pair[1].earthing)


@rule("earthing-unknown")
def earthing_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A supply whose earthing nobody wrote down."""
    pair = _pair(case)
    if pair is not None and pair[1].earthing == "unknown":
        yield _about(case, pair)


@rule("two-earth-links")
def two_earth_links(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Linked set, neutral left connected."""
    pair = _pair(case)
    if pair is not None and pair[1].switched_neutral is False and pair[0].neutral == "bonded":
        earthing = "" if pair[1].earthing == "unknown" else pair[1].earthing
        yield _about(case, pair, earthing=earthing or "present")


@rule("no-residual-current-device")
def no_residual_device(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Fed circuits without a residual-current device, where the set has its own electrode."""
    bare = [c.name for c in case.house.circuits if c.id in case.fed_ids and not _RESIDUAL & set(c.protection)]
    if _pair(case) is not None and bare:
        yield Hit(listed(bare), {"circuits": listed(bare)})

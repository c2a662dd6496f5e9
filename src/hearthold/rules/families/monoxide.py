"""Carbon monoxide: where the engine stands, where it blows, and who would notice."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.house.supply import Generator
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow

_DAY_S = 86400.0
_DEADLY = {
    "porch": "a porch",
    "garage": "the garage",
    "shed": "a shed",
    "indoors": "inside the house",
}


@rule("engine-in-deadly-place")
def deadly_place(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Any engine in a garage, porch, shed or room."""
    set_ = case.generator
    if set_ is not None and set_.place in _DEADLY:
        yield Hit(set_.name, {"machine": set_.name, "place": _DEADLY[set_.place]})


@rule("engine-too-close")
def too_close(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A portable engine nearer than the published distance."""
    set_ = case.portable
    if set_ is not None and set_.distance_m is not None and set_.distance_m < row.number("distance_m"):
        yield Hit(set_.name, {"machine": set_.name, "given_m": set_.distance_m})


@rule("engine-distance-unknown")
def distance_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A portable engine whose distance nobody wrote down."""
    if case.portable is not None and case.portable.distance_m is None:
        yield _about(case.portable)


@rule("engine-place-unknown")
def place_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An engine whose place nobody wrote down."""
    if case.generator is not None and case.generator.place == "unknown":
        yield _about(case.generator)


@rule("engine-in-shelter")
def in_shelter(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A portable engine under a shelter."""
    if case.portable is not None and case.portable.place == "shelter":
        yield _about(case.portable)


@rule("exhaust-toward-house")
def exhaust_toward_house(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An engine that is said not to blow away from the house."""
    if case.generator is not None and case.generator.exhaust_away is False:
        yield _about(case.generator)


@rule("exhaust-unknown")
def exhaust_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An engine whose exhaust nobody looked at."""
    if case.generator is not None and case.generator.exhaust_away is None:
        yield _about(case.generator)


@rule("standby-set-too-close")
def standby_too_close(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A permanent set nearer to the house than the fire standard's distance for untested sets."""
    set_ = case.generator
    if set_ is None or set_.kind != "standby" or set_.distance_m is None:
        return
    if set_.distance_m < row.number("distance_m"):
        yield Hit(set_.name, {"machine": set_.name, "given_m": set_.distance_m})


@rule("no-co-alarm")
def no_alarm(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An engine and a house without alarms."""
    if case.generator is not None and case.house.safety.co_alarms == 0:
        yield Hit("the whole house", {"machine": case.generator.name, "floors": case.house.safety.floors})


@rule("co-alarms-unknown")
def alarms_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An engine and nobody counted the alarms."""
    if case.generator is not None and case.house.safety.co_alarms is None:
        yield Hit("the whole house", {"machine": case.generator.name})


@rule("co-alarms-too-few")
def too_few_alarms(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Some alarms, but fewer than floors."""
    safety = case.house.safety
    if case.generator is not None and safety.co_alarms and safety.co_alarms < safety.floors:
        missing = safety.floors - safety.co_alarms
        yield Hit(
            "the whole house", {"alarms": safety.co_alarms, "floors": safety.floors, "missing": missing}
        )


@rule("no-co-alarm-by-bedrooms")
def none_by_bedrooms(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Alarms, and none where people sleep."""
    safety = case.house.safety
    if case.generator is not None and safety.co_alarms and safety.co_alarm_near_bedrooms is False:
        yield Hit("the carbon monoxide alarms")


@rule("co-alarms-expired")
def alarms_expired(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An alarm past the date on its back."""
    until = case.house.safety.co_alarms_replace_by
    if until is not None and until < case.today:
        yield Hit(
            "the carbon monoxide alarms",
            {"until": until.isoformat(), "late_s": case.days_since(until) * _DAY_S},
        )


@rule("co-alarm-without-battery")
def alarm_without_battery(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Alarms that live on the mains, as far as anybody knows."""
    safety = case.house.safety
    if case.generator is not None and safety.co_alarms and safety.co_alarm_battery is not True:
        yield Hit("the carbon monoxide alarms")


@rule("no-co-shutoff")
def no_shutoff(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A portable engine that does not stop itself."""
    if case.portable is not None and case.portable.co_shutoff is not True:
        yield _about(case.portable)


def _about(set_: Generator) -> Hit:
    return Hit(set_.name, {"machine": set_.name})

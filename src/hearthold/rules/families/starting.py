"""Motor starts, dips, the order of switching on, and cold-load pickup."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.rules.case import Case
from hearthold.rules.families.supply import largest
from hearthold.rules.finding import Hit, Value, Values
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow
from hearthold.rules.words import fuel_words, listed
from hearthold.sizing.demand import SELF_STARTING
from hearthold.sizing.inverter import inverter_starts
from hearthold.sizing.supply import MotorStart, Supply

_OVER = (
    "That is more than the printed rating read as VA, so the voltage dips and a start may take long: "
    "leave off what can wait."
)


@rule("start-beyond-machine")
def beyond_machine(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A start that engine or alternator cannot carry, with nothing else on."""
    for start in case.lone_starts:
        if start.hard_frac > 1.0:
            yield _start_hit(case, start, use_frac=start.use_frac)


@rule("start-beyond-inverter")
def beyond_inverter(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A start beyond the surge of the battery's inverter, with nothing else on."""
    source = case.inverter
    for start in inverter_starts(case.house, source, case.seats) if source is not None else ():
        if source is not None and start.alone_frac > 1.0:
            limits: Values = {"limit_va": source.start_va, "leg_limit_va": source.leg_start_va}
            yield Hit(
                start.name,
                {"load": start.name, "start_va": start.start_va, "use_frac": start.alone_frac, **limits},
            )


@rule("start-beyond-printed-rating")
def beyond_printed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A start over the printed rating read as VA, with nothing else on, that the dip still lets happen."""
    for start in case.lone_starts:
        if start.hard_frac <= 1.0 < start.use_frac and start.dip_frac is not None:
            shares: Values = {"use_frac": start.va_frac, "watts_frac": start.watts_frac}
            yield _start_hit(case, start, **shares, dip_frac=start.dip_frac)


@rule("start-beyond-machine-with-others")
def beyond_with_others(case: Case, row: RuleRow) -> Iterator[Hit]:
    """The hardest start, where it is within the rating alone and not on top of what runs by itself."""
    alone = {s.load: s.use_frac for s in case.lone_starts}
    hardest = max(case.starts, key=lambda s: s.use_frac, default=None)
    if hardest is not None and alone[hardest.load] <= 1.0 < hardest.use_frac:
        yield _start_hit(case, hardest, use_frac=hardest.use_frac)


@rule("deep-voltage-dip")
def deep_dip(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A dip beyond what motors and relays bear."""
    for start in case.starts:
        if start.dip_frac is not None and start.dip_frac > row.number("limit_frac"):
            yield _start_hit(case, start, dip_frac=start.dip_frac)


@rule("dip-with-electronics")
def dip_with_electronics(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A dip that motors bear and electronics feel."""
    for start in case.starts:
        if start.dip_frac is not None and row.number("limit_frac") < start.dip_frac <= row.number(
            "deep_frac"
        ):
            yield _start_hit(case, start, dip_frac=start.dip_frac)


@rule("switch-on-order-needed")
def order_needed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """All at once is over the printed starting rating; one by one engine and alternator carry it."""
    source = case.supply
    if source is None or not case.order.steps:
        return
    if _order_fits(case, source) and source.start_va < case.order.together_va:
        values: Values = {"together_va": case.order.together_va, "peak_va": case.order.peak_va}
        values["panel"] = case.fed_panel
        values["over_words"] = _OVER if case.order.peak_va > source.start_va else ""
        first = case.order.steps[0].name
        yield Hit(
            case.fed_panel,
            {"machine": source.name, "limit_va": source.start_va, "first": first, **values},
        )


@rule("no-order-is-enough")
def no_order(case: Case, row: RuleRow) -> Iterator[Hit]:
    """The largest step of the best order is beyond the engine's watts or dips the voltage too deep."""
    source, order = case.supply, case.order
    if source is None or _order_fits(case, source):
        return
    worst = max(
        order.steps, key=lambda s: max(s.peak.total_va / source.dip_va, s.peak.total_w / source.start_w)
    )
    most = largest([x for x in case.fed_loads if x.pattern in SELF_STARTING])
    yield Hit(
        worst.name,
        {
            "machine": source.name,
            "worst": worst.name,
            "limit_va": source.dip_va,
            "limit_w": source.start_w,
            "peak_va": worst.peak.total_va,
            "peak_w": worst.peak.total_w,
            "biggest": most.name,
            "biggest_w": most.running_w,
        },
    )


@rule("cold-load-pickup")
def cold_pickup(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Everything that calls after a long gap draws more than the machine gives."""
    source, pickup_w = case.supply, case.demand.cold_pickup.total_w
    if source is None or pickup_w <= source.running_w:
        return
    most = largest([x for x in case.fed_loads if x.pattern in SELF_STARTING])
    yield Hit(
        case.fed_panel,
        {
            "machine": source.name,
            "average_w": case.demand.average.total_w,
            "pickup_w": pickup_w,
            "available_w": source.running_w,
            "biggest": most.name,
            "biggest_w": most.running_w,
        },
    )


@rule("two-wire-pump")
def two_wire_pump(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A pump that says of itself that it is a two-wire one."""
    words = str(row.limits["words"]).split(", ")
    for load in case.fed_loads:
        text = f"{load.kind or ''} {load.name} {load.note}".lower()
        if case.generator is not None and load.is_motor and any(w in text for w in words):
            yield Hit(load.name, {"load": load.name, "start_va": load.start_va})


@rule("compressor-restart")
def compressor_restart(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Fixed-speed compressors that a machine will stop and start."""
    names = [x.name for x in case.fed_loads if x.start_kind == "compressor"]
    if case.generator is not None and names:
        yield Hit(listed(names), {"loads": listed(names)})


@rule("start-rating-unknown")
def start_rating_unknown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Motors to start, and no starting rating on the fuel that will be burnt."""
    source, rating = case.supply, case.rating
    if source is None or rating is None or rating.start_w is not None or not case.starts:
        return
    hardest = max(case.starts, key=lambda s: s.start_va)
    values: Values = {"fuel": fuel_words([source.fuel], case.house.system), "limit_w": source.start_w}
    yield _start_hit(case, hardest, **values)


def _order_fits(case: Case, source: Supply) -> bool:
    """Whether every step of the best order is within what engine and alternator carry."""
    return case.order.peak_va <= source.dip_va and case.order.peak_w <= source.start_w


def _start_hit(case: Case, start: MotorStart, **more: Value) -> Hit:
    source: Supply | None = case.supply
    machine = "" if source is None else source.name
    own: Values = {"load": start.name, "start_va": start.start_va, "start_w": start.start_w}
    return Hit(start.name, {"machine": machine, **own, **more})

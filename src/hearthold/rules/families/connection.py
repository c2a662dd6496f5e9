"""The hookup: transfer equipment, cord and inlet, panel, signs, and what each way asks of the people."""

from __future__ import annotations

from collections.abc import Iterator

from hearthold.house.cords import on_a_cord
from hearthold.house.loads import Load, Priority
from hearthold.house.supply import HookupKind
from hearthold.reference.reader import table
from hearthold.reference.shape import Row
from hearthold.rules.case import Case
from hearthold.rules.finding import Hit, Values
from hearthold.rules.registry import rule
from hearthold.rules.rows import RuleRow
from hearthold.rules.words import listed
from hearthold.sizing.carrying import Carrying, Lay, next_size, run_carrying
from hearthold.sizing.loadcalc import whole_house


@rule("backfeed", "no-changeover")
def backfeed(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Circuits, an inlet or a feeder to be fed by a machine, and no transfer equipment."""
    if case.generator is None or case.panel_hookup is not None:
        return
    hookup = case.hookup
    names = [c.name for c in case.house.circuits if c.panel == "essential"]
    through = hookup is not None and (hookup.inlet is not None or hookup.feeder is not None)
    if names or through:
        words = listed(names) or "through the inlet"
        yield Hit(words, {"circuits": words})


@rule("cords-many-loads")
def many_cords(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Cords only, and needed loads that have a plug and are on none."""
    found = case.house.reach
    left = [x.name for x in (*found.no_cord, *found.too_large) if _is_needed(x)]
    if case.house.on_cords and left:
        on = [on_a_cord(case.house, x) for x in found.on_cords] or ["nothing"]
        yield Hit(listed(left), {"left": "; ".join(left), "on_cords": "; ".join(on)})


@rule("cords-cannot-reach")
def cords_cannot_reach(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Cords only, and needed loads without a plug for one."""
    names = [x.name for x in case.house.reach.no_plug if _is_needed(x)] if case.house.on_cords else []
    if names:
        yield Hit(listed(names), {"loads": "; ".join(names)})


@rule("hookup-missing")
def hookup_missing(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A machine in the house file and no hookup."""
    if case.generator is not None and case.hookup is None:
        yield Hit("[hookup]", {"machine": case.generator.name})


@rule("plug-and-inlet-differ")
def plug_and_inlet_differ(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Receptacle and inlet that are not of one kind."""
    ends = _ends(case)
    if ends is not None and ends[0] is not ends[1]:
        yield Hit("cord between set and inlet", _machine(case) | _end_values(*ends))


@rule("inlet-below-its-source")
def inlet_below_source(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A breaker on the set that lets more through than the inlet is rated for."""
    ends, set_ = _ends(case), case.generator
    if ends is None or set_ is None or set_.breaker_a is None:
        return
    if set_.breaker_a > ends[1].number("rating_a"):
        yield Hit(f"inlet {ends[1].text('id')}", _end_values(*ends) | {"machine_breaker_a": set_.breaker_a})


@rule("inlet-breaker-over-inlet")
def breaker_over_inlet(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A back-fed breaker above the rating of the inlet."""
    hookup = case.panel_hookup
    if hookup is None or hookup.inlet is None or hookup.inlet_breaker_a is None:
        return
    inlet_a = table("connectors").row(hookup.inlet).number("rating_a")
    if hookup.inlet_breaker_a > inlet_a:
        values: Values = {"inlet": hookup.inlet, "inlet_a": inlet_a, "breaker_a": hookup.inlet_breaker_a}
        yield Hit(f"inlet breaker of {hookup.inlet}", values)


@rule("breaker-over-cord", "device-over-flex")
def breaker_over_cord(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A breaker on the set that lets more through than the cord carries."""
    set_, cord = case.generator, _cord(case)
    if set_ is None or set_.breaker_a is None or cord is None or set_.breaker_a <= cord.allowed_a:
        return
    if (
        case.house.on_cords
    ):  # these hang on the set's own small outlets, whose breakers the file does not give
        return
    thicker = next_size(cord, set_.breaker_a) or "the size that the electrician gives"
    values: Values = {"wire": cord.size, "cord_a": cord.allowed_a, "device": "the breaker on the set"}
    yield Hit("cord between set and inlet", values | {"device_a": set_.breaker_a, "next_wire": thicker})


@rule("inlet-breaker-over-cord", "inlet-device-over-flex")
def inlet_breaker_over_cord(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An inlet breaker above the cord, and nobody knows the breaker on the set."""
    set_, hookup, cord = case.generator, case.panel_hookup, _cord(case)
    if set_ is None or hookup is None or cord is None or set_.breaker_a is not None:
        return
    if hookup.inlet_breaker_a is not None and hookup.inlet_breaker_a > cord.allowed_a:
        values: Values = {"breaker_a": hookup.inlet_breaker_a, "wire": cord.size, "cord_a": cord.allowed_a}
        yield Hit("cord between set and inlet", values)


@rule("one-voltage-inlet-multiwire")
def one_voltage_multiwire(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A 120 V chain that feeds both halves of a multi-wire circuit."""
    if case.chain is None or case.chain.passes_240:
        return
    fed = [c for c in case.house.circuits if c.id in case.fed_ids]
    pairs = [(c, case.house.circuit_by_id[c.multiwire_with]) for c in fed if c.multiwire_with in case.fed_ids]
    if pairs:
        worst = max(pairs, key=lambda pair: pair[0].breaker_a + pair[1].breaker_a)
        names = listed(dict.fromkeys(c.name for pair in pairs for c in pair))
        sum_a = worst[0].breaker_a + worst[1].breaker_a
        yield Hit(names, {"circuits": names, "sum_a": sum_a, "breaker_a": worst[0].breaker_a})


@rule("chain-has-no-240")
def no_240(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A 120 V chain and fed loads of 240 V."""
    names = [x.name for x in case.fed_loads if x.voltage_v > 200.0]
    if case.chain is not None and not case.chain.passes_240 and names:
        yield Hit(listed(names), _ends_in_words(case) | {"loads": listed(names)})


@rule("chain-has-no-neutral")
def no_neutral(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A chain without a neutral and fed loads of 120 V."""
    names = [x.name for x in case.fed_loads if x.voltage_v < 200.0]
    if case.chain is not None and not case.chain.passes_neutral and names:
        yield Hit(listed(names), _ends_in_words(case) | {"loads": listed(names)})


@rule("chain-is-the-limit")
def chain_is_limit(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Less arrives than the machine gives."""
    source, links = case.supply, case.chain
    if source is None or links is None or links.delivered_w >= 0.995 * source.running_w:
        return
    values: Values = {
        "machine_w": source.running_w,
        "arrives_w": links.delivered_w,
        "held_w": links.continuous_w,
    }
    names: Values = {"link": _weakest(case), "next_w": links.with_next_w}
    yield Hit(_weakest(case), _machine(case) | values | names)


@rule("leg-current-over-chain")
def leg_over_chain(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Vital and essential loads draw more on a leg than the parts between machine and panel pass."""
    links = case.chain
    if links is None or not links.links[1:]:
        return
    narrow = min(links.links[1:], key=lambda x: x.rated_a)
    if case.needed.worst_leg_a > narrow.rated_a:
        name = f"{narrow.kind} {narrow.name}"
        yield Hit(name, {"leg_a": case.needed.worst_leg_a, "limit_a": narrow.rated_a, "link": name})


@rule("transfer-below-breaker")
def transfer_below_breaker(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Transfer equipment rated below a breaker that feeds it, from the set or from the grid."""
    hookup = case.panel_hookup
    if hookup is None or hookup.transfer_a is None:
        return
    grid_a = hookup.grid_breaker_a if case.grid_feeder is not None else None
    ahead = (("the inlet breaker", hookup.inlet_breaker_a), ("the breaker on the grid side", grid_a))
    for device, breaker_a in ahead:
        if breaker_a is not None and hookup.transfer_a < breaker_a:
            values: Values = {"transfer_a": hookup.transfer_a, "device": device, "breaker_a": breaker_a}
            yield Hit("transfer equipment", values)


@rule("panel-main-over-bus", "board-main-over-rating")
def main_over_bus(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A main breaker above the bus."""
    hookup = case.hookup
    if hookup is None or hookup.panel_main_a is None or hookup.panel_bus_a is None:
        return
    if hookup.panel_main_a > hookup.panel_bus_a:
        yield Hit("the panel", {"main_a": hookup.panel_main_a, "bus_a": hookup.panel_bus_a})


@rule("panel-spaces-short")
def spaces_short(case: Case, row: RuleRow) -> Iterator[Hit]:
    """More poles than spaces in the essential panel."""
    hookup = case.panel_hookup
    needed = sum(c.poles for c in case.house.circuits if c.panel == "essential")
    if hookup is not None and hookup.panel_spaces is not None and needed > hookup.panel_spaces:
        yield Hit(case.fed_panel, {"needed": needed, "spaces": hookup.panel_spaces})


@rule("sign-at-service")
def sign_at_service(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Transfer equipment and no sign at the service, as far as anybody knows."""
    if (
        case.generator is not None
        and case.panel_hookup is not None
        and case.panel_hookup.service_sign is not True
    ):
        yield Hit("the service panel")


@rule("sign-at-inlet")
def sign_at_inlet(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An inlet and no sign, as far as anybody knows."""
    hookup = case.panel_hookup
    if hookup is not None and hookup.inlet is not None and hookup.inlet_sign is not True:
        yield Hit(f"inlet {hookup.inlet}")


@rule("inlet-inside")
def inlet_inside(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An inlet that is said to be inside."""
    hookup = case.panel_hookup
    if hookup is not None and hookup.inlet is not None and hookup.inlet_place == "inside":
        yield Hit(f"inlet {hookup.inlet}", {"inlet": hookup.inlet})


@rule("inlet-outdoors")
def inlet_outdoors(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An inlet for a portable set, and nobody wrote where it is."""
    hookup = case.panel_hookup
    if hookup is None or hookup.inlet is None or case.portable is None:
        return
    if hookup.inlet_place == "unknown":
        yield Hit(f"inlet {hookup.inlet}", {"inlet": hookup.inlet})


@rule("large-portable")
def large_portable(case: Case, row: RuleRow) -> Iterator[Hit]:
    """A portable set above the size of the easier rules, on transfer equipment."""
    set_ = case.portable
    if set_ is None or case.panel_hookup is None:
        return
    rated_w = max(r.running_w for r in set_.on)
    if rated_w > row.number("limit_w"):
        yield Hit(set_.name, {"machine": set_.name, "rated_w": rated_w})


@rule("emergency-shutdown")
def emergency_shutdown(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Any permanent set."""
    if case.generator is not None and case.generator.kind == "standby":
        yield Hit(case.generator.name, _machine(case))


@rule("interlock-sheds-by-hand")
def sheds_by_hand(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An interlocked panel whose loads together are beyond the machine."""
    hookup, source = case.panel_hookup, case.supply
    if hookup is None or source is None or hookup.kind is not HookupKind.INTERLOCK:
        return
    all_w = case.demand.all_on.total_w
    if all_w > source.running_w:
        large = sorted(case.fed_loads, key=lambda x: -x.running_w)[:3]
        values: Values = {
            "all_w": all_w,
            "available_w": source.running_w,
            "big": listed(x.name for x in large),
        }
        yield Hit("the main panel", _machine(case) | values)


@rule("automatic-over-capacity")
def automatic_over_capacity(case: Case, row: RuleRow) -> Iterator[Hit]:
    """An automatic switch in front of more load, by the dwelling method, than the set gives."""
    source = case.supply
    if source is None or not case.house.takes_over:
        return
    found = whole_house(case.house)
    if found.total_va > source.running_w:
        values: Values = {
            "load_va": found.total_va,
            "load_a": found.current_a,
            "available_w": source.running_w,
        }
        yield Hit("automatic transfer switch", _machine(case) | values)


@rule("essential-left-out")
def essential_left_out(case: Case, row: RuleRow) -> Iterator[Hit]:
    """Essential loads on circuits that are not fed; vital ones are the medical rule's."""
    left = [x for x in case.house.loads if x.priority is Priority.ESSENTIAL and not case.reaches(x)]
    if case.panel_hookup is not None and left:
        circuits = dict.fromkeys(case.house.circuit_by_id[x.circuit].name for x in left)
        names = listed(x.name for x in left)
        yield Hit(names, {"loads": names, "circuits": listed(circuits)})


def _is_needed(load: Load) -> bool:
    return load.priority.rank <= Priority.ESSENTIAL.rank


def _machine(case: Case) -> Values:
    return {"machine": "the machine" if case.generator is None else case.generator.name}


def _ends(case: Case) -> tuple[Row, Row] | None:
    """Table rows of the set's receptacle and of the inlet, where there are both."""
    set_, hookup = case.generator, case.panel_hookup
    if set_ is None or hookup is None or hookup.inlet is None:
        return None
    return table("connectors").row(set_.receptacle), table("connectors").row(hookup.inlet)


def _end_values(receptacle: Row, inlet: Row) -> Values:
    return {
        "receptacle": receptacle.text("id"),
        "receptacle_a": receptacle.number("rating_a"),
        "inlet": inlet.text("id"),
        "inlet_a": inlet.number("rating_a"),
    }


def _ends_in_words(case: Case) -> Values:
    """Names of receptacle and inlet, as the house file gives them."""
    set_, hookup = case.generator, case.panel_hookup
    inlet = None if hookup is None else hookup.inlet
    return {"receptacle": "" if set_ is None else set_.receptacle, "inlet": inlet or "no inlet"}


def _cord(case: Case) -> Carrying | None:
    """What the cord carries, taken as a flexible cord."""
    hookup = case.hookup
    if hookup is None or hookup.cord is None:
        return None
    cord = hookup.cord.model_copy(update={"cable": "cord"})
    return run_carrying(cord, case.house.system, Lay(live_count=cord.live_conductors))


def _weakest(case: Case) -> str:
    if case.chain is None:
        return ""
    return listed(f"{link.kind} {link.name}".strip() for link in case.chain.weakest)

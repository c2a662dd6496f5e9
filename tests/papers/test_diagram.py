"""The one-line diagram as a graph: parts and ties of every hookup; then its drawing, inside its sheet."""

from __future__ import annotations

from itertools import pairwise
from xml.etree import ElementTree

import pytest
from tests.papers import houses
from tests.papers.test_charts import beyond

from hearthold.errors import InputError
from hearthold.house.house import House
from hearthold.house.supply import HookupKind
from hearthold.papers.diagram.build import one_line
from hearthold.papers.diagram.graph import Diagram, Kind, Tie
from hearthold.papers.diagram.layout import sheets
from hearthold.papers.diagram.neutral import links, neutral_answers
from hearthold.papers.fontfile import text_width_pt
from hearthold.papers.look import LIGHT, look
from hearthold.papers.svg import Figure
from hearthold.papers.words.say import Say

SAY = Say(us=True, degree="°")
SVG = "{http://www.w3.org/2000/svg}"
ALL_KINDS = (*HookupKind, None)


def diagram(house: House) -> Diagram:
    return one_line(house, SAY)


def with_kind(kind: HookupKind | None) -> Diagram:
    return diagram(houses.with_hookup(houses.tarn(), kind))


def path(graph: Diagram, *idents: str) -> bool:
    """Whether each part is tied to the next."""
    return all(graph.tie(a, b) is not None for a, b in pairwise(idents))


def branches(house: House) -> set[str]:
    return {f"branch:{c.id}" for c in house.fed_circuits}


def test_transfer_switch_feeds_the_essential_panel_from_both_sources() -> None:
    graph = with_kind(HookupKind.MANUAL_TRANSFER)
    assert path(graph, "utility", "meter", "main", "panel", "panel_breaker", "transfer")
    assert path(graph, "transfer", "panel_main", "essential")
    assert path(graph, "generator", "set_breaker", "receptacle", "inlet", "inlet_breaker", "transfer")
    cord = graph.tie("receptacle", "inlet")
    assert cord is not None
    assert (cord.tie, cord.label) == (Tie.CORD, "10 AWG cord, 25 ft")
    feeder = graph.tie("transfer", "panel_main")
    assert feeder is not None
    assert (feeder.tie, feeder.label) == (Tie.FEEDER, "4 AWG NM-B, 45 ft")
    assert branches(houses.tarn()) <= graph.fed_from("generator")


def test_the_set_never_reaches_the_utility_or_the_circuits_that_stay_on_the_grid() -> None:
    for kind in ALL_KINDS:
        reached = with_kind(kind).fed_from("generator")
        assert not reached & {"utility", "meter", "main", "panel_breaker"}
        if kind is HookupKind.MANUAL_TRANSFER:
            assert "others" not in reached


@pytest.mark.parametrize(("switched", "poles"), [(True, 3), (False, 2), (None, 0)])
def test_poles_of_a_transfer_switch_count_the_neutral_where_it_is_switched(
    switched: bool | None, poles: int
) -> None:
    # two hot wires and the neutral: NEC 250.20(D) informational note speaks of 3-pole and 2-pole transfer
    tarn = houses.tarn()
    hookup = tarn.hookup.model_copy(update={"switched_neutral": switched})
    node = diagram(houses.replace(tarn, hookup=hookup)).node("transfer")
    assert node.poles == poles
    assert ("neutral switched" in " ".join(node.details)) is (switched is True)


def test_a_single_phase_changeover_of_line_and_neutral_has_two_poles() -> None:
    graph = one_line(houses.skerrow(), Say(us=False))
    assert graph.node("transfer").poles == 2
    assert not graph.nec
    assert graph.node("set_electrode").kind is Kind.ELECTRODE
    assert "TT" in " ".join(graph.node("utility").details)


def test_an_interlock_ties_the_two_breakers_mechanically() -> None:
    graph = with_kind(HookupKind.INTERLOCK)
    lock = graph.tie("panel_main", "inlet_breaker")
    assert lock is not None
    assert lock.tie is Tie.LOCK
    assert path(graph, "utility", "meter", "panel_main", "panel")
    assert path(graph, "inlet_breaker", "panel")
    assert not graph.has("transfer")
    assert len(graph.of_kind(Kind.BRANCH)) == len(houses.tarn().circuits)


def test_an_automatic_switch_stands_ahead_of_the_main_panel_and_has_no_cord() -> None:
    graph = with_kind(HookupKind.AUTOMATIC_STANDBY)
    assert path(graph, "utility", "meter", "main", "transfer", "panel_main", "panel")
    assert path(graph, "generator", "set_breaker", "transfer")
    assert not graph.of_kind(Kind.INLET)
    assert not graph.of_kind(Kind.RECEPTACLE)


def test_an_inverter_takes_grid_set_and_battery() -> None:
    graph = with_kind(HookupKind.BATTERY_INVERTER)
    assert path(graph, "panel", "panel_breaker", "inverter")
    assert path(graph, "inlet_breaker", "inverter")
    battery = graph.tie("battery", "inverter")
    assert battery is not None
    assert battery.tie is Tie.DIRECT
    assert branches(houses.tarn()) <= graph.fed_from("battery")


def test_cords_feed_appliances_and_nothing_of_the_house() -> None:
    house = houses.with_hookup(houses.tarn(), HookupKind.CORDS)
    fridge = house.load_by_id["fridge"]
    graph = one_line(house, SAY, [fridge])
    reached = graph.fed_from("generator")
    assert "cord:fridge" in reached
    assert not any(n.startswith(("panel", "branch:", "loads:")) for n in reached)


def test_without_a_hookup_the_set_stands_alone_and_without_a_set_there_is_none() -> None:
    assert with_kind(None).fed_from("generator") <= {"set_breaker", "receptacle"}
    bare = diagram(houses.bare(houses.tarn()))
    assert not bare.has("generator")
    assert path(bare, "utility", "meter", "main", "panel")
    with pytest.raises(InputError, match="no part 'generator'"):
        bare.node("generator")


@pytest.mark.parametrize("neutral", ["bonded", "floating", "unknown"])
def test_the_set_shows_its_neutral(neutral: str) -> None:
    tarn = houses.tarn()
    machine = tarn.generator.model_copy(update={"neutral": neutral})
    node = diagram(houses.replace(tarn, generator=machine)).node("generator")
    assert node.state == neutral
    assert f"neutral {neutral}" in node.details


def test_the_service_has_its_electrode_and_the_set_one_where_the_file_says_so() -> None:
    graph = with_kind(HookupKind.MANUAL_TRANSFER)
    earth = graph.tie("main", "electrode")
    assert earth is not None
    assert earth.tie is Tie.EARTH
    assert not graph.has("set_electrode")


def test_branches_carry_breaker_wire_leg_and_loads() -> None:
    graph = diagram(houses.tarn())
    well = graph.node("branch:well")
    assert (well.poles, well.leg) == (2, "AB")
    assert well.details == ("15 A 2-pole", "12 AWG UF-B, 150 ft")
    assert graph.node("loads:well").state == "motor"
    assert graph.node("loads:water_heater").state == "heater"
    assert graph.node("branch:bedrooms").details[0] == "15 A · AFCI"


def test_a_sign_stands_for_all_that_hangs_on_a_circuit_or_it_is_the_plain_one() -> None:
    """Lights and chargers beside one small motor are no motor circuit: the arrow of any load stands there."""
    graph = diagram(houses.tarn())
    signs = {n.id: n.state for n in graph.of_kind(Kind.LOADS)}
    assert signs["loads:bedrooms"] == "plain"
    assert signs["loads:pantry"] == "motor"
    assert one_line(houses.skerrow(), Say(us=False)).node("loads:kitchen").state == "plain"


# ------------------------------------------------------------ a set of 120 V on a panel of two legs


def small_set(kind: HookupKind = HookupKind.MANUAL_TRANSFER) -> House:
    """The house with a set of 120 V on L5-30 plug and inlet (ANSI/NEMA WD 6: two poles, three wires, 125 V)."""
    house = houses.with_hookup(houses.tarn(), kind)
    machine = house.generator.model_copy(update={"voltage_v": 120.0, "receptacle": "L5-30"})
    return houses.replace(house, generator=machine, hookup=house.hookup.model_copy(update={"inlet": "L5-30"}))


def test_a_set_of_one_hot_wire_leaves_no_hot_wire_of_the_house_unswitched() -> None:
    """NEC 702.5 asks that the sources cannot meet, so both hot wires of the panel are transferred (from memory)."""
    graph = diagram(small_set())
    poles = {n.id: n.poles for n in graph.nodes}
    assert [poles[i] for i in ("panel_breaker", "transfer", "panel_main")] == [2, 2, 2]
    assert [poles[i] for i in ("set_breaker", "inlet_breaker", "generator")] == [1, 1, 1]


@pytest.mark.parametrize(
    ("kind", "way"),
    [
        (HookupKind.MANUAL_TRANSFER, ("inlet", "inlet_breaker", "joint", "transfer")),
        (HookupKind.INTERLOCK, ("inlet", "joint", "inlet_breaker", "panel")),
    ],
)
def test_its_one_hot_wire_becomes_two_on_the_sets_side_alone(kind: HookupKind, way: tuple[str, ...]) -> None:
    graph = diagram(small_set(kind))
    assert path(graph, *way)
    assert "joint" in graph.fed_from("generator")
    assert "joint" not in graph.fed_from("utility")
    if kind is HookupKind.INTERLOCK:  # the back-fed breaker opens both
        assert graph.node("inlet_breaker").poles == 2


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_nothing_is_joined_where_set_and_panel_have_as_many_hot_wires(kind: HookupKind | None) -> None:
    assert not with_kind(kind).of_kind(Kind.JOINT)
    assert not diagram(houses.with_hookup(houses.skerrow(), kind)).of_kind(Kind.JOINT)


# ------------------------------------------------------------ devices on the grid's side


@pytest.mark.parametrize("kind", [HookupKind.MANUAL_TRANSFER, HookupKind.BATTERY_INVERTER])
@pytest.mark.parametrize("house", ["tarn", "skerrow"])
def test_no_wire_leaves_the_main_panel_without_a_device(house: str, kind: HookupKind) -> None:
    one = houses.with_hookup(getattr(houses, house)(), kind)
    hookup = one.hookup.model_copy(update={"grid_breaker_a": None})
    graph = diagram(houses.replace(one, hookup=hookup))
    after = {e.target for e in graph.edges if e.source == "panel"}
    assert after <= {"panel_breaker", "others"}
    assert "to be read" in " ".join(graph.node("panel_breaker").details)
    given = diagram(houses.replace(one, hookup=hookup.model_copy(update={"grid_breaker_a": 50.0})))
    assert given.node("panel_breaker").label == "50 A"


def test_the_breaker_ahead_of_an_automatic_switch_is_that_of_the_service() -> None:
    house = houses.with_hookup(houses.tarn(), HookupKind.AUTOMATIC_STANDBY)
    unread = house.hookup.model_copy(update={"grid_breaker_a": None})
    assert "to be read" in " ".join(diagram(houses.replace(house, hookup=unread)).node("main").details)
    hookup = house.hookup.model_copy(update={"grid_breaker_a": 100.0})
    assert diagram(houses.replace(house, hookup=hookup)).node("main").details == ("100 A",)


def test_a_public_supply_of_230_v_has_its_cut_out_and_a_switch_where_there_is_no_breaker() -> None:
    """A main switch opens line and neutral and protects nothing (IEC 60947-3; BS 7671 462, from memory)."""
    graph = one_line(houses.skerrow(), Say(us=False))
    assert path(graph, "utility", "cutout", "meter", "main", "panel")
    for ident in ("main", "panel_main"):
        assert (graph.node(ident).state, graph.node(ident).poles) == ("switch", 2)
    assert "Service disconnect" not in {n.label for n in graph.nodes}
    assert not diagram(houses.tarn()).has("cutout")


def test_main_and_bus_of_the_panel_that_is_fed_are_drawn_where_the_file_gives_them() -> None:
    for kind in (HookupKind.INTERLOCK, HookupKind.AUTOMATIC_STANDBY):
        graph = with_kind(kind)  # the file's 100 A main and 125 A bus
        assert graph.node("panel_main").label == "100 A"
        assert graph.node("panel").details == ("bus 125 A, 16 spaces",)
    feeder = with_kind(HookupKind.INTERLOCK).tie("inlet", "inlet_breaker")
    assert feeder is not None
    assert (feeder.tie, feeder.label) == (Tie.FEEDER, "4 AWG NM-B, 45 ft")


def test_cords_of_appliances_come_from_outlets_they_fit() -> None:
    """An appliance's plug is a 5-15 or 5-20 (ANSI/NEMA WD 6); a locking 125/250 V receptacle does not take it."""
    house = houses.with_hookup(houses.tarn(), HookupKind.CORDS)
    graph = one_line(house, SAY, [house.load_by_id["fridge"]])
    assert graph.node("receptacle").label == "120 V outlets of the set"
    cord = graph.tie("receptacle", "cord:fridge")
    assert cord is not None
    assert (cord.tie, cord.label) == (Tie.CORD, "extension cord, 10 AWG cord, 25 ft")
    machine = house.generator.model_copy(update={"voltage_v": 120.0, "receptacle": "5-20"})
    assert one_line(houses.replace(house, generator=machine), SAY).node("receptacle").label == "5-20"


@pytest.mark.parametrize("kind", ALL_KINDS)
def test_every_tie_has_both_ends_and_every_id_is_single(kind: HookupKind | None) -> None:
    graph = with_kind(kind)
    idents = [n.id for n in graph.nodes]
    assert len(idents) == len(set(idents))
    assert all(e.source in idents and e.target in idents for e in graph.edges)


@pytest.mark.parametrize("kind", ALL_KINDS)
@pytest.mark.parametrize("house", ["tarn", "skerrow"])
def test_drawings_stay_inside_and_say_what_they_show(house: str, kind: HookupKind | None) -> None:
    one = houses.with_hookup(getattr(houses, house)(), kind)
    on_cords = one.loads if kind is HookupKind.CORDS else ()
    for figure in sheets(one_line(one, SAY, on_cords), "One-line diagram"):
        assert beyond(figure) == []
        assert figure.height_pt < 660.0
    assert "Meter" in sheets(one_line(one, SAY), "One-line diagram")[0].text


@pytest.mark.parametrize("count", [1, 2, 7, 24, 25, 60])
def test_any_number_of_circuits_is_drawn_once_each(count: int) -> None:
    one = houses.with_circuits(houses.renamed(houses.tarn(), houses.LONG), count)
    found = sheets(diagram(one), "One-line diagram")
    texts = [t.text or "" for f in found for t in ElementTree.fromstring(f.svg).iter(f"{SVG}text")]
    numbers = [int(t.split()[0]) for t in texts if t.split()[1:2] == ["Kitchen,"] and t.split()[0].isdigit()]
    assert sorted(numbers) == list(range(1, count + 1))
    assert all(f.height_pt < 660.0 and beyond(f) == [] for f in found)


@pytest.mark.parametrize("name", [houses.UNBROKEN, houses.MARKUP, houses.HEBREW, houses.CHINESE])
def test_odd_names_stay_inside(name: str) -> None:
    for figure in sheets(diagram(houses.renamed(houses.tarn(), name)), name):
        assert beyond(figure) == []


@pytest.mark.parametrize("switched", [True, False])
@pytest.mark.parametrize(
    ("nec", "earthing", "at_service", "with_supply", "electrode"),
    [
        # IEC 60364-1, 312.2 and BS 7671 part 2, figures 2.1 to 2.6 (from memory): TT has the consumer's electrode
        # alone, TN-S an earth from the source, TN-C-S is split at the origin, where the one link is the supplier's
        (False, "TT", False, False, True),
        (False, "TN-S", False, True, False),
        (False, "TN-C-S", True, False, False),
        (False, "unknown", None, False, False),
        # NEC 250.24: the main bonding jumper and the electrode at the service
        (True, "unknown", True, False, True),
    ],
)
def test_neutral_and_earth_are_tied_where_the_earthing_of_the_supply_has_it(
    nec: bool, earthing: str, at_service: bool | None, with_supply: bool, electrode: bool, switched: bool
) -> None:
    found = links(nec, switched, earthing)
    assert found.at_supplier
    assert found.at_service is at_service
    assert (found.earth_with_supply, found.electrode_at_service) == (with_supply, electrode)
    # a set that stands by itself has its own link, and an electrode somewhere; else it has none
    assert found.at_set is switched
    assert found.electrode_at_set or found.electrode_at_service or not switched


@pytest.mark.parametrize("switched", [True, False])
@pytest.mark.parametrize(("earthing", "service"), [("TT", 0), ("TN-S", 0), ("TN-C-S", 1), ("unknown", 0)])
def test_red_links_of_the_drawing_are_those_of_the_graph(earthing: str, service: int, switched: bool) -> None:
    """Two answers, each with the supplier's link and the service's, and one of them with the set's."""
    figure = neutral_answers(False, switched, "bonded", earthing)
    heavy = [
        p.attrib["points"].split()
        for p in ElementTree.fromstring(figure.svg).iter(f"{SVG}polyline")
        if p.attrib["stroke"] == look().colour("alarm", LIGHT)
    ]
    assert len(heavy) == 2 * (1 + service) + 1
    assert beyond(figure) == []


@pytest.mark.parametrize("switched", [True, False])
def test_set_and_supplier_meet_in_a_switch_of_two_throws(switched: bool) -> None:
    """Each pole has three rings (set, supplier, house); it rests on the supplier's, so nothing is fed backward."""
    figure = neutral_answers(True, switched)
    rings = [c for c in ElementTree.fromstring(figure.svg).iter(f"{SVG}circle") if c.attrib["r"] == "1.8"]
    open_rings = [c for c in rings if c.attrib["fill"] == look().colour("paper", LIGHT)]
    assert len(open_rings) == 3 + 2 * 3  # hot alone in one answer, hot and neutral in the other
    words = [t.text for t in ElementTree.fromstring(figure.svg).iter(f"{SVG}text")]
    assert words.count("house") == 2


@pytest.mark.parametrize("nec", [True, False])
@pytest.mark.parametrize("switched", [True, False, None])
def test_both_answers_about_the_neutral_are_drawn_and_the_files_own_is_marked(
    switched: bool | None, nec: bool
) -> None:
    figure = neutral_answers(nec, switched)
    assert beyond(figure) == []
    words = figure.svg
    assert "Neutral not switched" in words
    assert "Neutral switched" in words
    assert words.count("as the house file has it") == (0 if switched is None else 1)


@pytest.mark.parametrize(
    ("switched", "neutral", "said"),
    [
        (False, "bonded", "This set is bonded"),
        (True, "floating", "its link is not there"),
        (True, "unknown", "plate decides"),
        (False, "floating", ""),
        (True, "bonded", ""),
        (None, "bonded", ""),
    ],
)
def test_the_neutral_drawing_says_where_the_set_at_hand_does_not_fit(
    switched: bool | None, neutral: str, said: str
) -> None:
    figure = neutral_answers(True, switched, neutral)
    words = "".join(ElementTree.fromstring(figure.svg).itertext())
    wanted = ("This set is bonded", "its link is not there", "plate decides")
    assert [w for w in wanted if w in words] == ([said] if said else [])
    assert said in figure.text
    assert not beyond(figure)


def test_taps_of_neighbours_on_two_legs_never_share_a_line() -> None:
    """A ring on a bar belongs to one circuit: no two branches of the sheet have the same height."""
    figure = sheets(diagram(houses.tarn()), "x")[0]
    rings = [
        c.attrib["cy"]
        for c in ElementTree.fromstring(figure.svg).iter(f"{SVG}circle")
        if c.attrib["r"] == "3.4"
    ]
    double = sum(c.poles == 2 for c in houses.tarn().fed_circuits)
    assert len(rings) - len(set(rings)) == double


def boxes_of(figure: Figure) -> list[tuple[str, float, float, float, float]]:
    """Words of a drawing with left, top, right and bottom of the letters, by the fonts' own widths."""
    found = []
    for text in ElementTree.fromstring(figure.svg).iter(f"{SVG}text"):
        words, size = text.text or "", float(text.attrib["font-size"])
        wide = text_width_pt(words, size, text.get("font-weight") == "bold")
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.get("text-anchor") or "start"]
        left, foot = float(text.attrib["x"]) - share * wide, float(text.attrib["y"])
        found.append((words, left, foot - 0.7 * size, left + wide, foot))
    return found


@pytest.mark.parametrize("kind", ALL_KINDS)
@pytest.mark.parametrize("name", ["", houses.LONG])
def test_no_words_of_a_diagram_lie_on_others(kind: HookupKind | None, name: str) -> None:
    house = houses.with_hookup(houses.tarn(), kind)
    house = houses.renamed(house, name) if name else house
    cords = tuple(house.loads) if kind is HookupKind.CORDS else ()
    for figure in sheets(one_line(house, SAY, cords), "x"):
        found = boxes_of(figure)
        for i, (one, left, top, right, foot) in enumerate(found):
            for other, left_2, top_2, right_2, foot_2 in found[i + 1 :]:
                apart = right <= left_2 or right_2 <= left or foot <= top_2 or foot_2 <= top
                assert apart, (one, other)

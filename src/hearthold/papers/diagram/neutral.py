"""The question of the neutral with both of its answers drawn: where it is switched, and where it is not.

Where neutral and earth are tied together depends on how the supply is earthed, so that is worked out first
(`links`) and drawn after it. Read first: links.
"""

from __future__ import annotations

from dataclasses import dataclass

from hearthold.papers.diagram.symbols import earth
from hearthold.papers.look import LIGHT
from hearthold.papers.svg import Drawing, Figure, wrapped

WIDE_PT = 512.0
_HALF_PT = 246.0
_HOT_Y, _NEUTRAL_Y, _GROUND_Y = 44.0, 62.0, 108.0
# left edge and width of the boxes within a half
_SET, _SWITCH, _SERVICE, _SUPPLIER = (2.0, 44.0), (64.0, 66.0), (160.0, 40.0), (210.0, 35.0)
_HOUSE_TOP, _HOUSE_FOOT = 82.0, 98.0
_LEFT, _RIGHT = 84.0, 116.0  # contacts of the switch: set, supplier
_HOT_PIVOT, _NEUTRAL_PIVOT = 96.0, 106.0
_SET_LINK, _SERVICE_LINK, _SUPPLIER_LINK = 30.0, 184.0, 228.0
_COMBINED = "TN-C-S"  # neutral and earth in one conductor up to the service


@dataclass(frozen=True, slots=True)
class Links:
    """Ties between neutral and earth, and where earth comes from.

    `at_service` is None where nobody knows how the supply is earthed. `at_supplier`: at the transformer.
    `earth_with_supply`: an earth conductor of its own comes with the supply.
    """

    at_set: bool
    at_service: bool | None
    at_supplier: bool
    earth_with_supply: bool
    electrode_at_service: bool
    electrode_at_set: bool


def links(nec: bool, switched: bool, earthing: str = "unknown") -> Links:
    """Where neutral and earth are tied, by the supply's earthing (TT, TN-S, TN-C-S, unknown; no matter in North
    America) and by whether the transfer equipment opens the neutral.

    Source: NEC 250.24, 250.30; IEC 60364-1, 312.2 and 60364-5-551; in Great Britain also ESQCR 2002, 8(4), which
    forbids the consumer to join neutral and earth. All from memory.
    """
    if nec:
        return Links(switched, True, True, False, True, switched)
    known = earthing != "unknown"
    return Links(
        switched,
        earthing == _COMBINED if known else None,
        True,
        earthing == "TN-S",
        earthing == "TT",
        switched and earthing != "TT",  # under TT the house's own electrode serves both
    )


def neutral_answers(
    nec: bool, switched: bool | None, neutral: str = "", earthing: str = "unknown", theme: str = LIGHT
) -> Figure:
    """Both answers side by side; the one the house file gives is marked, or neither where it says nothing.

    `neutral` of the set as the house file has it (bonded, floating, unknown; empty without a set): where it does
    not fit the answer marked, the drawing says so. `earthing` of the supply, outside North America.

    Source: NEC 250.20, 250.30, 250.35 (North America); IEC 60364-5-551 and BS 7671 551 elsewhere.
    """
    draw = Drawing(WIDE_PT, theme)
    for answer, x in ((False, 0.0), (True, WIDE_PT - _HALF_PT)):
        _half(draw, x, answer, nec, earthing, answer is switched)
        if answer is switched:
            draw.text((x, 138.0), _misfit(answer, neutral), size="note", role="alarm", bold=True)
    misfit = _misfit(bool(switched), neutral) if switched is not None else ""
    told = [*(_words(nec, a, earthing) for a in (False, True)), misfit]
    return draw.finished("Neutral and earth: two answers", _caption(nec, switched), " ".join(told).strip())


def _caption(nec: bool, switched: bool | None) -> str:
    as_read = {
        None: "The house file says neither.",
        True: "The house file says: switched.",
        False: "The house file says: not switched.",
    }[switched]
    kind, ground = ("transfer", "ground") if nec else ("changeover", "earth")
    hots = " Hot: both hot wires." if nec else ""
    return (
        f"The same house with the two kinds of {kind} equipment, the switch at rest on the grid.{hots} Red: a link "
        f"between neutral and {ground}. {as_read}"
    )


def _misfit(switched: bool, neutral: str) -> str:
    """Where the set of the house file does not fit the drawing; empty where it does."""
    if neutral == "unknown":
        return "The neutral of this set is not known: its plate decides."
    if switched and neutral == "floating":
        return "This set floats: its link is not there yet."
    return "This set is bonded: a second link, not drawn." if not switched and neutral == "bonded" else ""


def _half(draw: Drawing, x: float, switched: bool, nec: bool, earthing: str, chosen: bool) -> None:
    title = "Neutral switched" if switched else "Neutral not switched"
    draw.text((x, 12.0), title + (": as the house file has it" if chosen else ""), size="body", bold=True)
    draw.line((x, 18.0), (x + _HALF_PT, 18.0), weight="strong" if chosen else "thin")
    found = links(nec, switched, earthing)
    _boxes(draw, x, nec, earthing)
    _wires(draw, x, nec, switched, found)
    _link(draw, x + _SET_LINK, found.at_set)
    _link(draw, x + _SERVICE_LINK, found.at_service)
    _link(draw, x + _SUPPLIER_LINK, found.at_supplier)
    _ground(draw, x + _SUPPLIER_LINK)
    if found.electrode_at_service:
        _ground(draw, x + _SERVICE[0] + 10.0)
    if found.electrode_at_set:
        _ground(draw, x + _SET_LINK - 12.0)
    for k, line in enumerate(wrapped(_words(nec, switched, earthing), _HALF_PT, "note")):
        draw.text((x, 148.0 + 8.6 * k), line, size="note")


def _boxes(draw: Drawing, x: float, nec: bool, earthing: str) -> None:
    service = "service" if nec else ("cut-out" if earthing == _COMBINED else "intake")
    foot = _GROUND_Y + 6.0
    for (left, wide), low, name in (
        (_SET, foot, "set"),
        (_SWITCH, _HOUSE_TOP - 4.0, "transfer" if nec else "changeover"),
        (_SERVICE, foot, service),
        (_SUPPLIER, foot, "supplier"),
    ):
        draw.box(x + left, 34.0, wide, low - 34.0, role="quiet", weight="hair")
        draw.text((x + left, 30.0), name, size="note", bold=True)
    left, wide = _SWITCH
    draw.box(x + left, _HOUSE_TOP, wide, _HOUSE_FOOT - _HOUSE_TOP, role="quiet", weight="hair")
    draw.text((x + left + wide / 2.0, _HOUSE_TOP + 11.0), "house", size="note", anchor="middle", bold=True)


def _wires(draw: Drawing, x: float, nec: bool, switched: bool, found: Links) -> None:
    """Hot, neutral and earth from the set and from the supplier, by the switch to the house."""
    set_x, far = x + _SET[0] + _SET[1] - 8.0, x + _SUPPLIER[0] + 8.0
    neutral_from, neutral_to = x + _SET_LINK - 12.0, x + _SUPPLIER_LINK
    _label(draw, x, _HOT_Y, "hot" if nec else "line")
    _label(draw, x, _NEUTRAL_Y, "neutral")
    _label(draw, x, _GROUND_Y, "ground" if nec else "earth")
    _throw(draw, x, _HOT_Y, _HOT_PIVOT, set_x, far, "ink")
    if switched:
        _throw(draw, x, _NEUTRAL_Y, _NEUTRAL_PIVOT, neutral_from, neutral_to, "power_a")
    else:
        draw.line((neutral_from, _NEUTRAL_Y), (neutral_to, _NEUTRAL_Y), role="power_a", weight="plain")
        at = x + _NEUTRAL_PIVOT
        draw.line((at, _NEUTRAL_Y), (at, _HOUSE_TOP), role="power_a", weight="plain")
        draw.circle((at, _NEUTRAL_Y), 1.8, fill="power_a", role="power_a")
    end = x + (_SUPPLIER_LINK if found.earth_with_supply else _SERVICE_LINK)
    draw.line((neutral_from, _GROUND_Y), (end, _GROUND_Y), role="earth", weight="plain")
    house = x + _SWITCH[0] + _SWITCH[1] / 2.0
    draw.line((house, _HOUSE_FOOT), (house, _GROUND_Y), role="earth", weight="plain")
    draw.circle((house, _GROUND_Y), 1.6, fill="earth", role="earth")


def _label(draw: Drawing, x: float, y: float, name: str) -> None:
    """In the gap between switch and service."""
    middle = (sum(_SWITCH) + _SERVICE[0]) / 2.0
    draw.text((x + middle, y - 3.0), name, size="note", role="quiet", anchor="middle")


def _throw(draw: Drawing, x: float, y: float, pivot: float, start: float, end: float, role: str) -> None:
    """One pole that takes either source, at rest on the supplier's; its common goes down to the house."""
    at = (x + pivot, y + 9.0)
    draw.line((start, y), (x + _LEFT, y), role=role, weight="plain")
    draw.line((x + _RIGHT, y), (end, y), role=role, weight="plain")
    draw.line(at, (x + _LEFT + 1.5, y + 1.5), role="quiet", dash="1.5 2")
    draw.line(at, (x + _RIGHT, y), role=role, weight="plain")
    if y < _NEUTRAL_Y - 1.0:  # past the neutral with a bow: the two do not touch
        draw.line(at, (at[0], _NEUTRAL_Y - 3.5), role=role, weight="plain")
        draw.path(f"M{at[0]:g} {_NEUTRAL_Y - 3.5:g} a3.5 3.5 0 0 0 0 7", role=role, weight="plain")
        draw.line((at[0], _NEUTRAL_Y + 3.5), (at[0], _HOUSE_TOP), role=role, weight="plain")
    else:
        draw.line(at, (at[0], _HOUSE_TOP), role=role, weight="plain")
    for spot in (at, (x + _LEFT, y), (x + _RIGHT, y)):
        draw.circle(spot, 1.8, fill="paper")


def _link(draw: Drawing, x: float, closed: bool | None) -> None:
    """The link from neutral to earth: there, left out, or not known."""
    if closed:
        draw.line((x, _NEUTRAL_Y), (x, _GROUND_Y), role="alarm", weight="strong")
        for y in (_NEUTRAL_Y, _GROUND_Y):
            draw.circle((x, y), 2.4, fill="alarm", role="alarm")
        return
    draw.circle((x, _NEUTRAL_Y), 2.2, fill="paper")
    draw.circle((x, _GROUND_Y), 2.2, fill="paper")
    draw.line((x, _NEUTRAL_Y + 4.0), (x, _GROUND_Y - 4.0), role="quiet", dash="1.5 2")
    if closed is None:
        draw.text((x + 3.0, _NEUTRAL_Y + 27.0), "?", size="body", role="alarm", bold=True)


def _ground(draw: Drawing, x: float) -> None:
    draw.line((x, _GROUND_Y), (x, _GROUND_Y + 11.0), role="earth")
    draw.circle((x, _GROUND_Y), 1.6, fill="earth", role="earth")
    earth(draw, x, _GROUND_Y + 11.0)


def _words(nec: bool, switched: bool, earthing: str) -> str:
    if not nec:
        return f"{_IEC[switched]} {_EARTHED.get(earthing, _EARTHED['unknown'])}"
    return _NEC[switched]


_NEC = {
    True: "Switched: the set is a separately derived system. Its neutral is bonded to its frame, and it has a "
    "grounding electrode connection of its own (250.30). A set with a floating neutral would have no link at all.",
    False: "Not switched: the only link on the house's side is at the service. The set is not separately derived; "
    "its neutral floats. A set bonded inside would make a second link, and its ground-fault receptacle may trip.",
}
_IEC = {
    True: "Switched: neutral and line both open. On the set there is one link between neutral and earth, at the "
    "set or its first board, and an electrode of the house's own.",
    False: "Not switched: neutral stays tied to the supplier's. Its earthing decides whether that may be; a link "
    "on the set would be a second one.",
}
_EARTHED = {
    "TT": "TT: the supplier earths its neutral at the transformer, the house has its own electrode; no link between "
    "them in the house.",
    "TN-S": "TN-S: the link is at the supplier's transformer and earth comes in with the cable; no link in the house.",
    "TN-C-S": "TN-C-S: the link is the supplier's own, at the cut-out; none behind it.",
    "unknown": "How the supply is earthed is not known: to be read at the intake. No link is made in the house for "
    "running on the grid.",
}

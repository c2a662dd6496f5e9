"""The question of the neutral with both of its answers drawn: where it is switched, and where it is not."""

from __future__ import annotations

from hearthold.papers.diagram.symbols import earth
from hearthold.papers.look import LIGHT
from hearthold.papers.svg import Drawing, Figure, wrapped

WIDE_PT = 512.0
_HALF_PT = 246.0
_WIRES = (("hot", 46.0, "ink"), ("neutral", 70.0, "power_a"), ("ground", 94.0, "earth"))
_SET, _SWITCH, _SERVICE = 6.0, 104.0, 186.0  # left edges within a half


def neutral_answers(nec: bool, switched: bool | None, neutral: str = "", theme: str = LIGHT) -> Figure:
    """Both answers side by side; the one the house file gives is marked, or neither where it says nothing.

    `neutral` of the set as the house file has it (bonded, floating, unknown; empty without a set): where it does
    not fit the answer marked, the drawing says so.

    Source: NEC 250.20, 250.30, 250.35 (North America); IEC 60364-5-551 and BS 7671 551 elsewhere.
    """
    draw = Drawing(WIDE_PT, theme)
    for answer, x in ((False, 0.0), (True, WIDE_PT - _HALF_PT)):
        _half(draw, x, answer, nec, answer is switched)
        if answer is switched:
            draw.text((x, 124.0), _misfit(answer, neutral), size="note", role="alarm", bold=True)
    as_read = {
        None: "The house file says neither.",
        True: "The house file says: switched.",
        False: "The house file says: not switched.",
    }
    caption = (
        f"The same house with the two kinds of {'transfer' if nec else 'changeover'} equipment. One link between "
        f"neutral and earth, no more. {as_read[switched]}"
    )
    return draw.finished(
        "Neutral and earth: two answers",
        caption,
        " ".join(
            [
                *(_words(nec, a) for a in (False, True)),
                _misfit(bool(switched), neutral) if switched is not None else "",
            ]
        ).strip(),
    )


def _misfit(switched: bool, neutral: str) -> str:
    """Where the set of the house file does not fit the drawing; empty where it does."""
    if neutral == "unknown":
        return "The neutral of this set is not known: its plate decides."
    if switched and neutral == "floating":
        return "This set floats: its link is not there yet."
    return "This set is bonded: a second link, not drawn." if not switched and neutral == "bonded" else ""


def _half(draw: Drawing, x: float, switched: bool, nec: bool, chosen: bool) -> None:
    title = "Neutral switched" if switched else "Neutral not switched"
    draw.text((x, 12.0), title + (": as the house file has it" if chosen else ""), size="body", bold=True)
    draw.line((x, 18.0), (x + _HALF_PT, 18.0), weight="strong" if chosen else "thin")
    for name, y, role in _WIRES:
        draw.line((x + _SET + 54.0, y), (x + _SERVICE, y), role=role, weight="plain")
        label = {"hot": "hot" if nec else "line", "ground": "ground" if nec else "earth"}.get(name, name)
        draw.text((x + _SET + 58.0, y - 3.0), label, size="note", role="quiet")
    _boxes(draw, x)
    for y, opens in ((46.0, True), (70.0, switched)):
        if opens:
            _blade(draw, x + _SWITCH + 14.0, y)
    _link(draw, x + _SET + 42.0, closed=switched)
    _link(draw, x + _SERVICE + 14.0, closed=True)
    _ground(draw, x + _SERVICE + 40.0)
    if switched or not nec:
        _ground(draw, x + _SET + 22.0)
    for k, line in enumerate(wrapped(_words(nec, switched), _HALF_PT, "note")):
        draw.text((x, 135.0 + 8.6 * k), line, size="note")


def _boxes(draw: Drawing, x: float) -> None:
    for left, wide, name in ((_SET, 54.0, "set"), (_SWITCH, 44.0, "transfer"), (_SERVICE, 54.0, "service")):
        draw.box(x + left, 34.0, wide, 72.0, role="quiet", weight="hair")
        draw.text((x + left, 30.0), name, size="note", bold=True)


def _blade(draw: Drawing, x: float, y: float) -> None:
    """An open contact on a wire."""
    draw.box(x, y - 1.5, 18.0, 3.0, fill="paper")
    draw.circle((x, y), 1.8, fill="paper")
    draw.circle((x + 18.0, y), 1.8, fill="paper")
    draw.line((x, y), (x + 15.0, y - 8.0), weight="plain")


def _link(draw: Drawing, x: float, closed: bool) -> None:
    """The link from neutral to ground: there, or left out."""
    neutral, ground = 70.0, 94.0
    draw.line((x - 12.0, neutral), (x + 12.0, neutral), role="power_a", weight="plain")
    draw.line((x - 12.0, ground), (x + 12.0, ground), role="earth", weight="plain")
    if closed:
        draw.line((x, neutral), (x, ground), role="alarm", weight="strong")
        draw.circle((x, neutral), 2.4, fill="alarm", role="alarm")
        draw.circle((x, ground), 2.4, fill="alarm", role="alarm")
        return
    draw.circle((x, neutral), 2.2, fill="paper")
    draw.circle((x, ground), 2.2, fill="paper")
    draw.line((x, neutral + 4.0), (x, ground - 4.0), role="quiet", dash="1.5 2")


def _ground(draw: Drawing, x: float) -> None:
    draw.line((x, 94.0), (x, 112.0), role="earth")
    draw.circle((x, 94.0), 1.6, fill="earth", role="earth")
    earth(draw, x, 112.0)


def _words(nec: bool, switched: bool) -> str:
    if nec and switched:
        return (
            "Switched: the set is a separately derived system. Its neutral is bonded to its "
            "frame, and it has a "
            "grounding electrode connection of its own (250.30). A set with a floating neutral "
            "would have no link at all."
        )
    if nec:
        return (
            "Not switched: the only link is at the service. The set is not separately derived; "
            "its neutral floats. "
            "A set bonded inside would make a second link, and its ground-fault receptacle may trip."
        )
    if switched:
        return (
            "Switched: neutral and line both open. One link between neutral and earth at the set "
            "or its first board, "
            "and an electrode of the house's own."
        )
    return (
        "Not switched: neutral stays tied to the supplier's. Its earthing decides whether that "
        "may be; a link on the "
        "set would be a second one."
    )

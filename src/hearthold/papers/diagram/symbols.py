"""Symbols of one-line diagrams: IEEE 315 / ANSI Y32.2 for North America, IEC 60617 elsewhere.

Each is drawn about a point with its leads up and down, 20 points long, so that a part is a symbol on a line.
Drawn from the standards' descriptions, from memory; figures in them are letters of the standards.
"""

from __future__ import annotations

from hearthold.papers.svg import Drawing


def utility(draw: Drawing, x: float, y: float, nec: bool) -> None:
    """A supply through a transformer: coils (ANSI) or two circles (IEC)."""
    if not nec:
        draw.circle((x, y - 4.0), 6.0)
        draw.circle((x, y + 3.5), 6.0)
        return
    for side in (-1.0, 1.0):
        cx = x + side * 4.0
        for k in range(3):
            top = y - 9.0 + 6.0 * k
            sweep = 1 if side < 0 else 0
            draw.path(f"M{cx:g} {top:g} a3 3 0 0 {sweep} 0 6")
    draw.line((x - 4.0, y - 9.0), (x - 4.0, y - 13.0))
    draw.line((x + 4.0, y + 9.0), (x, y + 12.0))
    draw.line((x, y - 9.5), (x, y + 9.5), weight="hair")


def meter(draw: Drawing, x: float, y: float, nec: bool) -> None:
    """A watt-hour meter: a circle (ANSI) or a box with a lid (IEC)."""
    if nec:
        draw.circle((x, y), 10.0, fill="paper")
        draw.text((x, y + 2.6), "WH", size="note", anchor="middle")
        return
    draw.box(x - 11.0, y - 10.0, 22.0, 20.0, fill="paper", role="ink")
    draw.line((x - 11.0, y - 4.5), (x + 11.0, y - 4.5))
    draw.text((x, y + 5.5), "kWh", size="note", anchor="middle")


def breaker(draw: Drawing, x: float, y: float, nec: bool, poles: int = 1) -> None:
    """A circuit breaker on a vertical line: an arc (ANSI) or a blade with a cross (IEC)."""
    draw.box(x - 1.2, y - 7.0, 2.4, 14.0, fill="paper")
    if nec:
        draw.path(f"M{x:g} {y - 7:g} A10 10 0 0 1 {x:g} {y + 7:g}", weight="plain")
        draw.circle((x, y - 7.0), 1.5, fill="paper")
        draw.circle((x, y + 7.0), 1.5, fill="paper")
    else:
        draw.line((x, y + 7.0), (x - 5.5, y - 6.0), weight="plain")
        draw.line((x - 2.2, y - 9.2), (x + 2.2, y - 4.8))
        draw.line((x + 2.2, y - 9.2), (x - 2.2, y - 4.8))
    _strokes(draw, x, y, poles)


def isolator(draw: Drawing, x: float, y: float, poles: int) -> None:
    """A switch-disconnector, IEC alone: a blade, a ring and a bar at the fixed contact; it breaks no fault."""
    draw.box(x - 1.2, y - 7.0, 2.4, 14.0, fill="paper")
    draw.line((x, y + 7.0), (x - 5.5, y - 5.0), weight="plain")
    draw.line((x - 3.5, y - 9.0), (x + 3.5, y - 9.0), weight="plain")
    draw.circle((x, y - 7.0), 1.7, fill="paper")
    _strokes(draw, x, y, poles)


def _strokes(draw: Drawing, x: float, y: float, poles: int) -> None:
    """One slanting stroke for every pole of a device that opens more than one."""
    for k in range(poles if poles > 1 else 0):
        draw.line((x - 3.0, y + 10.5 + 2.2 * k), (x + 3.0, y + 8.5 + 2.2 * k), weight="hair")


def fuse(draw: Drawing, x: float, y: float) -> None:
    """A fuse, IEC alone: a box with the line through it."""
    draw.box(x - 4.0, y - 9.0, 8.0, 18.0, fill="paper", role="ink", weight="plain")
    draw.line((x, y - 9.0), (x, y + 9.0))


def joint(draw: Drawing, x: float, y: float) -> None:
    """One hot wire that becomes two: the line splits from a dot, and goes on as the line of both."""
    draw.box(x - 1.2, y - 6.0, 2.4, 12.0, fill="paper")
    draw.line((x, y - 7.0), (x - 5.0, y), (x, y + 7.0), weight="plain")
    draw.line((x, y - 7.0), (x + 5.0, y), (x, y + 7.0), weight="plain")
    draw.circle((x, y - 7.0), 2.0, fill="ink")
    _strokes(draw, x, y, 2)


def branch_breaker(draw: Drawing, x: float, y: float, nec: bool, poles: int, side: float) -> None:
    """A breaker on a horizontal line that goes to one side of a bus."""
    draw.box(x - 7.0, y - 1.2, 14.0, 2.4, fill="paper")
    if nec:
        sweep = 1
        draw.path(f"M{x - 7:g} {y:g} A10 10 0 0 {sweep} {x + 7:g} {y:g}", weight="plain")
        draw.circle((x - 7.0, y), 1.4, fill="paper")
        draw.circle((x + 7.0, y), 1.4, fill="paper")
    else:
        draw.line((x + 7.0 * side, y), (x - 6.0 * side, y - 5.5), weight="plain")
        draw.line((x - 9.2 * side, y - 2.2), (x - 4.8 * side, y + 2.2))
        draw.line((x - 9.2 * side, y + 2.2), (x - 4.8 * side, y - 2.2))
    for k in range(poles if poles > 1 else 0):
        at = x + side * (10.5 + 2.2 * k)
        draw.line((at - 1.0, y + 3.0), (at + 1.0, y - 3.0), weight="hair")


def generator(draw: Drawing, x: float, y: float, neutral: str) -> None:
    """A rotating source, and at its side the link between neutral and frame: closed, open or not known."""
    draw.circle((x, y), 14.0, fill="paper", weight="plain")
    draw.text((x, y + 1.0), "G", size="head", anchor="middle", bold=True)
    draw.path(f"M{x - 5:g} {y + 7:g} q2.5 -4 5 0 t5 0", weight="thin")
    _neutral_link(draw, x + 14.0, y, neutral)


def _neutral_link(draw: Drawing, x: float, y: float, neutral: str) -> None:
    draw.line((x, y), (x + 12.0, y))
    draw.text((x + 3.0, y - 3.0), "N", size="note")
    if neutral == "bonded":
        draw.line((x + 12.0, y), (x + 12.0, y + 9.0))
        draw.circle((x + 12.0, y), 1.6, fill="ink")
        frame(draw, x + 12.0, y + 9.0)
        return
    draw.circle((x + 12.0, y), 1.6, fill="paper")
    frame(draw, x + 12.0, y + 9.0)
    if neutral == "unknown":
        draw.text((x + 17.0, y + 4.0), "?", size="head", role="alarm", bold=True)


def separable(draw: Drawing, x: float, y: float, nec: bool, inlet: bool) -> None:
    """A receptacle or an inlet, which is male: nested chevrons (ANSI), socket arc and plug pin (IEC)."""
    draw.box(x - 1.2, y - 10.0, 2.4, 20.0, fill="paper")
    near, far = (
        ((y + 3.0, y + 11.0), (y - 3.0, y - 11.0)) if inlet else ((y - 3.0, y - 11.0), (y + 3.0, y + 11.0))
    )
    draw.line((x, near[0]), (x, near[1]))
    draw.line((x, far[0]), (x, far[1]), weight="plain")
    turn = 1.0 if inlet else -1.0
    if nec:
        for dy in (-3.0, 3.0):
            draw.line(
                (x - 5.0, y + dy - 4.0 * turn), (x, y + dy), (x + 5.0, y + dy - 4.0 * turn), weight="plain"
            )
        return
    if inlet:
        draw.box(x - 1.8, y - 7.0, 3.6, 11.0, fill="ink")
    else:
        draw.path(f"M{x - 6:g} {y + 5:g} a6 6 0 0 1 12 0", weight="plain")


def changeover(draw: Drawing, x: float, y: float, wide: float) -> None:
    """A two-way switch: contacts up left (normal) and up right, blade on the left one, common below."""
    left, right = (x - wide, y - 12.0), (x + wide, y - 12.0)
    draw.line((x, y + 9.0), (x - wide + 2.0, y - 10.5), weight="strong")
    for at in (left, right, (x, y + 9.0)):
        draw.circle(at, 2.2, fill="paper")
    reach = wide * 0.8
    draw.path(f"M{x - reach:g} {y - 16:g} Q{x:g} {y - 27:g} {x + reach:g} {y - 16:g}", weight="hair")


def earth(draw: Drawing, x: float, y: float) -> None:
    """Earth, its lead ending at the point."""
    draw.line((x, y), (x, y + 3.0))
    for k, half in enumerate((6.0, 4.0, 2.0)):
        draw.line((x - half, y + 3.0 + 2.5 * k), (x + half, y + 3.0 + 2.5 * k))


def frame(draw: Drawing, x: float, y: float) -> None:
    """The frame of a machine, which is no earth: a bar with slanting strokes, its lead ending at the point."""
    draw.line((x, y), (x, y + 4.0))
    draw.line((x - 6.0, y + 4.0), (x + 6.0, y + 4.0))
    for k in (-6.0, 0.0, 6.0):
        draw.line((x + k, y + 4.0), (x + k - 3.0, y + 8.5))


def battery(draw: Drawing, x: float, y: float) -> None:
    """Two cells."""
    draw.box(x - 1.2, y - 6.0, 2.4, 12.0, fill="paper")
    for k, half in enumerate((9.0, 4.5, 9.0, 4.5)):
        draw.line((x - half, y - 6.0 + 4.0 * k), (x + half, y - 6.0 + 4.0 * k), weight="plain")


def inverter(draw: Drawing, x: float, y: float) -> None:
    """A converter: a box with a diagonal, direct current on one side and alternating on the other."""
    draw.box(x - 17.0, y - 14.0, 34.0, 28.0, fill="paper", role="ink", weight="plain")
    draw.line((x - 17.0, y + 14.0), (x + 17.0, y - 14.0))
    draw.line((x - 12.0, y - 6.0), (x - 4.0, y - 6.0))
    draw.line((x - 12.0, y - 3.5), (x - 4.0, y - 3.5), dash="2 1.5")
    draw.path(f"M{x + 3:g} {y + 7:g} q2.5 -4 5 0 t5 0")


def loads(draw: Drawing, x: float, y: float, which: str, side: float) -> None:
    """What hangs on a circuit: motor, lamp, heater, or an arrow for anything else."""
    if which == "motor":
        draw.circle((x, y), 6.0, fill="paper")
        draw.text((x, y + 2.8), "M", size="note", anchor="middle", bold=True)
    elif which == "lamp":
        draw.circle((x, y), 5.5, fill="paper")
        draw.line((x - 3.9, y - 3.9), (x + 3.9, y + 3.9))
        draw.line((x - 3.9, y + 3.9), (x + 3.9, y - 3.9))
    elif which == "heater":
        draw.box(x - 7.0, y - 3.5, 14.0, 7.0, fill="paper", role="ink")
        for k in range(1, 4):
            draw.line((x - 7.0 + 3.5 * k, y - 3.5), (x - 7.0 + 3.5 * k, y + 3.5), weight="hair")
    else:
        draw.area([(x - 5.0 * side, y - 3.5), (x + 6.0 * side, y), (x - 5.0 * side, y + 3.5)], "ink")

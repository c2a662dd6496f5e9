"""Sump and effluent pits: how long a dead pump leaves before the pit floods, and how long it then must run.

Levels count from the floor of the pit. The inflow is constant, measured by watching the level rise with
the pump off. A flooded basement or a backed-up drain is sewage and shock danger: stay out of standing water
until the circuits of the room are off.
"""

from __future__ import annotations

from math import inf, pi

from hearthold.errors import InputError
from hearthold.physics.pump import fill_s, starts_per_day
from hearthold.quantities.glossary import require


def rise_time_kernel(volume_m3: float, inflow_m3_per_s: float) -> float:
    """Seconds until the volume has run in; infinite in a dry pit, 0 when there is no room left."""
    if volume_m3 <= 0.0:
        return 0.0
    return volume_m3 / inflow_m3_per_s if inflow_m3_per_s > 0.0 else inf


def round_area_m2(pit_inside_m: float) -> float:
    """Water surface of a round pit: pi/4 D^2; an 18 in basin holds about 1.1 gal an inch.

    Raises: InputError outside the glossary ranges.
    Source: geometry.
    """
    require(pit_inside_m=pit_inside_m)
    return pi / 4.0 * pit_inside_m**2


def watched_inflow_m3_per_s(pit_area_m2: float, rise_m: float, rise_s: float) -> float:
    """Inflow from a rise of the level watched with the pump off: A dh / dt.

    Raises: InputError outside the glossary ranges.
    Source: volume balance.
    """
    require(pit_area_m2=pit_area_m2, rise_m=rise_m, rise_s=rise_s)
    return pit_area_m2 * rise_m / rise_s


def volume_between_m3(pit_area_m2: float, start_level_m: float, stop_level_m: float) -> float:
    """Volume between the two float levels, moved in each cycle: A (h_start - h_stop).

    Raises: InputError if the start level is not above the stop level, or outside the glossary ranges.
    Source: geometry of a pit with straight walls.
    """
    require(pit_area_m2=pit_area_m2, start_level_m=start_level_m, stop_level_m=stop_level_m)
    if start_level_m <= stop_level_m:
        raise InputError(
            f"start_level_m is {start_level_m:g} m and must be above stop_level_m ({stop_level_m:g} m); "
            "measure where the float starts and stops the pump.",
            code="float_levels",
        )
    return pit_area_m2 * (start_level_m - stop_level_m)


def overflow_s(pit_area_m2: float, level_m: float, overflow_level_m: float, draw_m3_per_s: float) -> float:
    """Time until the pit floods without its pump: A (h_over - h) / q; infinite with no inflow, 0 when over.

    `draw_m3_per_s` is the inflow. Storm inflow may grow: take the highest that was seen.

    Raises: InputError outside the glossary ranges.
    Source: volume balance.
    """
    require(pit_area_m2=pit_area_m2, level_m=level_m, overflow_level_m=overflow_level_m)
    require(draw_m3_per_s=draw_m3_per_s)
    return rise_time_kernel(pit_area_m2 * (overflow_level_m - level_m), draw_m3_per_s)


def pump_down_s(
    pit_area_m2: float, level_m: float, stop_level_m: float, pump_m3_per_s: float, draw_m3_per_s: float = 0.0
) -> float:
    """Run that brings the level down to the stop level while water still runs in; infinite if it gains.

    A (h - h_stop) / (p - q), 0 when already there. `draw_m3_per_s` is the inflow.

    Raises: InputError outside the glossary ranges.
    Source: volume balance.
    """
    require(pit_area_m2=pit_area_m2, level_m=level_m, stop_level_m=stop_level_m)
    held_m3 = max(0.0, pit_area_m2 * (level_m - stop_level_m))
    return fill_s(held_m3, pump_m3_per_s, draw_m3_per_s)


def pump_share_frac(draw_m3_per_s: float, pump_m3_per_s: float) -> float:
    """Share of the time the pit pump must run to keep up: q / p, 1 when it cannot.

    Raises: InputError outside the glossary ranges.
    Source: volume balance.
    """
    require(draw_m3_per_s=draw_m3_per_s, pump_m3_per_s=pump_m3_per_s)
    return min(1.0, draw_m3_per_s / pump_m3_per_s)


def pit_starts_per_day(
    pit_area_m2: float, start_level_m: float, stop_level_m: float, draw_m3_per_s: float, pump_m3_per_s: float
) -> float:
    """Starts of the pit pump in 24 h of steady inflow: 86400 q (p - q) / (V p).

    Raises: InputError if the levels are crossed, or outside the glossary ranges.
    Source: see `hearthold.physics.pump.starts_per_day`.
    """
    cycle_m3 = volume_between_m3(pit_area_m2, start_level_m, stop_level_m)
    return starts_per_day(cycle_m3, draw_m3_per_s, pump_m3_per_s)

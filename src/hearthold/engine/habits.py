"""How people and appliances behave where the house file is silent: one frozen set of assumptions.

Every figure is a judgement (common practice, no source) unless its comment says otherwise. They are inputs of a
run, not reference data: a study may vary them.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from hearthold.house.stores import HEAT_BAND_K
from hearthold.reference.reader import table

HOUR_S = 3600.0


@dataclass(frozen=True, slots=True)
class DrawWindow:
    """A time of day at which water is drawn by the clock, and its share of the day's draw."""

    from_s: float
    to_s: float
    share_frac: float


USUAL_DRAWS = (
    DrawWindow(6.5 * HOUR_S, 7.5 * HOUR_S, 0.30),
    DrawWindow(12.0 * HOUR_S, 12.75 * HOUR_S, 0.15),
    DrawWindow(15.5 * HOUR_S, 16.0 * HOUR_S, 0.15),
    DrawWindow(18.0 * HOUR_S, 19.5 * HOUR_S, 0.30),
    DrawWindow(21.25 * HOUR_S, 21.75 * HOUR_S, 0.10),
)


def _unheated_frac() -> float:
    """The table counts from indoors, the engine from outdoors."""
    return 1.0 - table("house_defaults").row("unheated_room").si("typical_frac")


@dataclass(frozen=True, slots=True)
class Habits:
    """Assumptions of a run. Bands are full widths, set point in the middle."""

    draws: tuple[DrawWindow, ...] = USUAL_DRAWS
    hot_in_spells_frac: float = (
        0.7  # showers and laundry, put off until the machine runs; the rest by the clock
    )
    hot_flow_m3_per_s: float = 1.04e-4  # 2.1 gpm shower, 0.79 of it hot (published end-use figures)
    tap_flow_frac: float = 1.27  # whole shower flow over its hot part, from the same figures
    hot_delay_s: float = 1800.0  # of running before people shower
    fill_delay_s: float = 900.0  # of running before somebody goes out to fill cans and stock tanks
    heat_band_k: float = HEAT_BAND_K
    stove_above_k: float = 1.5  # a stove is damped this far above the set point
    fridge_band_k: float = 2.0
    freezer_band_k: float = 4.0
    tank_band_k: float = 6.0
    cycle_run_s: float = 600.0  # run of a cycling load without a store of its own
    cycle_most_s: float = 7200.0  # work that it makes up for after an outage, as running time
    heavy_w: float = 500.0  # people do not switch on several loads above this at once
    heavy_gap_s: float = 600.0
    pipe_low_c: float = 0.0
    food_lost_s: float = (
        2 * HOUR_S
    )  # above 40 degF this long, perishable food is lost (public-health guidance)
    start_dip_frac: float = (
        0.3  # deepest voltage dip at a motor's start that is let happen (design practice, from memory)
    )
    refill_below_frac: float = 0.5  # of the tank, at the end of a spell
    refill_s: float = 300.0
    breaker_s: float = (
        60.0  # an overload that lasts this long opens the machine's breaker (if nobody manages it)
    )
    reset_s: float = 600.0
    battery_restart_frac: float = 0.1
    battery_min_charge_c: float = 0.0  # lithium iron phosphate; lead-acid is not held back
    unheated_frac: float = field(default_factory=_unheated_frac)  # of the way from outdoors to indoors


USUAL = Habits()

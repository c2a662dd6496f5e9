"""What the planner minimises and which patterns of running it may choose from: the one definition of the
problem.

A pattern says for each slot of 15 minutes whether the machine is wanted on. The engine runs it; the cost of a
pattern is a sum over the engine's own accounts at the end of the horizon, plus what it takes to make the
house whole again. Every account only ever grows, so the cost of a beginning is never more than the cost of
the whole.

    cost = fuel + starts + refuellings + trips + running in quiet hours + switching while asleep
         + discomfort + breaches + restoring

Costs are joules of fuel: what one would rather burn than have it so. The machine's fuel itself counts at its
lower heating value. A breach (a limit broken) costs a large fixed sum as soon as it happens, so no breach is
ever bought for fuel while a pattern without one exists, and a rate after that, so that where a breach cannot
be avoided the smallest is found.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hearthold.errors import InputError

SLOT_S = 900.0
DAY_S = 86400.0
SLOTS_A_DAY = 96
LITRE_J = 32e6  # heat of one litre of gasoline, rounded: the unit in which the prices below were thought
HOUR_S = 3600.0
GAIN_FRAC = 0.98  # of the cost without it: what gains less is within what a search differs by (judgement)

# How far a limit may be left and still count as kept: it is reached, not crossed.
KEPT_S = 1.0
KEPT_K = 0.01
KEPT_M3 = 1e-6
VITAL_KEPT_S = 60.0  # a vital load may miss a minute while the supply changes over

# Columns of the price row, in the order of `Objective.row`. `kernels.price` multiplies them with the
# accounts.
(
    FUEL_J_PER_M3, START_J, REFILL_J, TRIP_J, NIGHT_W, AIR_W_PER_K, HOT_J_PER_M3, TASK_W, CYCLE_W,
    JUG_J_PER_M3, COLD_W_PER_K, FOOD_LOST_J, LOWEST_J_PER_K, PIPE_W, PIT_J_PER_M3, DRY_J_PER_M3, VITAL_W,
    LOWEST_C, RESTORE_FRAC, FOOD_BREACH_J, HOUSE_BREACH_J, PIPE_BREACH_J, PIT_BREACH_J, WATER_BREACH_J,
    VITAL_BREACH_J,
) = range(25)  # fmt: skip
PRICE_COUNT = 25


@dataclass(frozen=True, slots=True)
class Objective:
    """Prices, all in joules of fuel. The figures are judgements (common practice, no source) and open to
    change.

    Source: common practice, no source; the order of magnitude is what a tired person would trade.
    """

    start_j: float = 0.3 * LITRE_J  # walking out, pulling the cord, switching the panel
    wake_j: float = 3.0 * LITRE_J  # getting up at night to start or stop
    refill_j: float = 0.5 * LITRE_J
    trip_j: float = 8.0 * LITRE_J
    night_w: float = 0.8 * LITRE_J / HOUR_S  # running in quiet hours
    air_w_per_k: float = 0.3 * LITRE_J / HOUR_S  # each kelvin below comfort, while it lasts
    hot_j_per_m3: float = (
        8.0 * LITRE_J
    )  # hot water asked for and not had: a shower of 50 l is worth 0.4 l of fuel
    task_w: float = 0.5 * LITRE_J / HOUR_S  # an hour of a load that people switch, never had
    cycle_w: float = 0.3 * LITRE_J / HOUR_S  # an hour of running that a cycling load is owed and never gets
    jug_j_per_m3: float = 5.0 * LITRE_J  # carrying water from jugs, while they last
    breach_j: float = 1000.0 * LITRE_J  # any limit broken, once for each limit
    cold_w_per_k: float = 100.0 * LITRE_J / HOUR_S  # each kelvin of food above its limit
    food_lost_j: float = 300.0 * LITRE_J  # a store above its limit for longer than the food bears
    lowest_j_per_k: float = 200.0 * LITRE_J  # each kelvin that the house once falls below its lowest
    pipe_w: float = 100.0 * LITRE_J / HOUR_S
    pit_j_per_m3: float = 10e3 * LITRE_J
    dry_j_per_m3: float = 2e3 * LITRE_J  # running water missed once the jugs are empty
    vital_breach_j: float = 100e3 * LITRE_J  # never traded: above all breaches together
    vital_w: float = 10e3 * LITRE_J / HOUR_S
    restore_frac: float = (
        1.0  # share of the fuel to restore every store that counts at the end of the horizon
    )

    def row(self, lhv_j_per_m3: float, lowest_c: float) -> NDArray[np.float64]:
        """The prices as one row of numbers. `lowest_c` is the house's lowest air temperature (-inf: none)."""
        return np.array(
            [
                lhv_j_per_m3, self.start_j, self.refill_j, self.trip_j, self.night_w, self.air_w_per_k,
                self.hot_j_per_m3, self.task_w, self.cycle_w, self.jug_j_per_m3, self.cold_w_per_k,
                self.food_lost_j, self.lowest_j_per_k, self.pipe_w, self.pit_j_per_m3, self.dry_j_per_m3,
                self.vital_w, lowest_c, self.restore_frac, *[self.breach_j] * 5, self.vital_breach_j, ]
        )  # fmt: skip


USUAL_OBJECTIVE = Objective()


@dataclass(frozen=True, slots=True, eq=False)
class Patterns:
    """The patterns allowed. Ages count slots since the last switch; slot 0 begins at the start of the
    horizon.

    A pattern may switch on in slot t only if `may_run[t]` and `may_switch[t]`, after at least `least_off`
    slots off; it stays on only through slots with `may_run`, and only `most_on` slots; it may switch off at
    the start of slot t only if `may_switch[t]`, after at least `least_on` slots on. At most `starts_a_day`
    spells begin on one calendar day. What is on at the end of the horizon may be cut short. In every slot
    that is on, the machine runs at the slot's end or is being refilled: a spell is not planned for a machine
    without fuel.
    """

    may_run: NDArray[np.bool_]  # (slots,)
    may_switch: NDArray[np.bool_]  # (slots,)
    switch_j: NDArray[
        np.float64
    ]  # (slots,) price of switching at the start of the slot (asleep: somebody gets up)
    day: NDArray[np.int64]  # (slots,) calendar day of the slot, 0 for the day of slot 0
    least_on: int
    most_on: int
    least_off: int
    starts_a_day: int

    def __post_init__(self) -> None:
        """Raises InputError for lengths that differ or spells that cannot be."""
        sizes = {len(self.may_run), len(self.may_switch), len(self.switch_j), len(self.day)}
        if len(sizes) != 1 or not 1 <= self.least_on <= self.most_on or self.starts_a_day < 0:
            raise InputError(
                f"patterns with slots {sorted(sizes)}, spells of {self.least_on} to {self.most_on} slots and "
                f"{self.starts_a_day} a day; arrays must have one length and 1 <= shortest <= longest.",
                code="patterns",
            )

    @property
    def slots(self) -> int:
        """Slots of the horizon."""
        return len(self.may_run)

    def allows(self, on: NDArray[np.bool_], was_on: bool = False, age: int = 10**6, started: int = 0) -> bool:
        """Whether a pattern of wants keeps every rule above (fuel apart, which only the engine knows).

        `was_on`, `age`: what came before slot 0; `started`: spells begun before slot 0 on its calendar day.
        """
        if np.any(on & ~self.may_run):
            return False
        switches = np.flatnonzero(on != np.concatenate([[was_on], on[:-1]]))
        starts, stops = switches[on[switches]], switches[~on[switches]]
        ends = np.concatenate([switches, [self.slots]])
        lasted = np.diff(
            ends, prepend=-age
        )  # of each stretch: what came before slot 0 first, then what begins
        ran = lasted[int(not was_on) :: 2]  # stretches that are on; the last may be under way at the end
        may_end = lasted[:-1] >= np.where(on[switches], self.least_off, self.least_on)
        if not (self.may_switch[switches].all() and may_end.all()):
            return False
        if was_on and len(stops) and stops[0] == 0:
            ran = ran[1:]  # over before slot 0, however long it was
        begun = np.bincount(self.day[starts])
        first = self.day[starts[:1]]  # that of slot 0 or a later one; none where nothing begins
        begun[first] += started * (first == self.day[0])
        return bool((ran <= self.most_on).all() and (begun <= self.starts_a_day).all())


def switching_j(patterns: Patterns, on: NDArray[np.bool_], was_on: bool = False) -> float:
    """Price of the moments at which a pattern switches: the part of the cost that the engine does not
    know.
    """
    before = np.concatenate([[was_on], on[:-1]])
    return float(patterns.switch_j[: len(on)][before != on].sum())

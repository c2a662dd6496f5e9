"""What can be lost in an outage, and what adds up: the one list of both, read from the engine's accounts.

What health rides on stands first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.compile import compile_house
from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.kernels.layout import FAR, P_PIPE_LOW
from hearthold.engine.outcomes import Outcomes
from hearthold.house.house import House
from hearthold.physics.pipes import FREEZE_CLOCK_S
from hearthold.plan.problem import without_lost_pipes

Array = NDArray[np.float64]
_A_DROP_M3 = 1e-4  # less water missed than this is rounding, not want


def watched(house: House, fuel: str | None = None) -> CompiledHouse:
    """The house compiled for a study. Pipes that freeze in a cold spell with the heating on as well are no loss of
    an outage.
    """
    return without_lost_pipes(house, compile_house(house, fuel=fuel), house.climate.coldest_hour_c)


class Kind(StrEnum):
    """Kinds of loss."""

    FOOD = "food"
    HOUSE = "house"
    PIPES = "pipes"
    WATER = "water"
    HOT_WATER = "hot water"
    MEDICAL = "medical"
    PIT = "pit"
    FUEL = "fuel"
    ANY = "any"


HARM = (
    Kind.FOOD,
    Kind.HOUSE,
    Kind.PIPES,
    Kind.WATER,
    Kind.MEDICAL,
    Kind.PIT,
)  # what counts as a loss of any kind


@dataclass(frozen=True, slots=True)
class Loss:
    """Something that happens once in an outage or not at all."""

    id: str
    kind: Kind
    means: str


@dataclass(frozen=True, slots=True)
class Account:
    """Something that adds up while an outage lasts; counts have no unit."""

    id: str
    unit: str
    means: str


ACCOUNTS = (
    Account("fuel_m3", "m3", "fuel burned"),
    Account("run_s", "s", "time the machine runs"),
    Account("night_run_s", "s", "time it runs in the quiet hours"),
    Account("starts", "", "starts of the machine"),
    Account("refills", "", "refillings of its tank"),
    Account("fuel_trips", "", "trips for more fuel"),
    Account("overload_trips", "", "times its breaker opens"),
    Account("air_below_s", "s", "time the house is below its lowest temperature"),
    Account("medical_unpowered_s", "s", "time medical devices are without power"),
    Account("unmet_water_m3", "m3", "water wanted and not to be had"),
    Account("unmet_hot_m3", "m3", "hot water wanted and not to be had"),
)
WOKEN = Account("woken", "", "times somebody gets up at night for the machine")


def accounts_of(outcomes: Outcomes, woken: Array) -> tuple[tuple[Account, ...], Array]:
    """The accounts and (accounts, n, k) their course; `outcomes` holds n times k rows, `woken` is (n, k)."""
    found = [_sum(getattr(outcomes, account.id)).reshape(woken.shape) for account in ACCOUNTS]
    return (*ACCOUNTS, WOKEN), np.array([*found, woken])


def losses_of(outcomes: Outcomes, until_s: Array) -> tuple[tuple[Loss, ...], Array]:
    """The losses this house can suffer and (losses, n) when each first comes, inf where it never does.

    `outcomes` holds n times k rows: n outages at each of k checkpoints `until_s`.
    """
    found = list(_losses(outcomes, until_s))
    harm = [first for loss, first in found if loss.kind in HARM]
    if harm:
        loss = Loss("anything", Kind.ANY, "one of the losses that cost money, health or the house")
        found.insert(0, (loss, reduce(np.minimum, harm)))
    return tuple(loss for loss, _ in found), np.array([first for _, first in found]).reshape(
        len(found), len(outcomes) // len(until_s)
    )


def _losses(outcomes: Outcomes, until_s: Array) -> Iterator[tuple[Loss, Array]]:
    house, k = outcomes.house, len(until_s)

    def at_end(values: Array) -> Array:
        return values[k - 1 :: k]

    def passes(values: Array, level: float) -> Array:
        return crossing_s(until_s, values.reshape(-1, k), level)

    for i, name in enumerate(house.medical_ids):
        means = "a medical device without power, beyond its own battery"
        yield Loss(name, Kind.MEDICAL, means), at_end(outcomes.medical_first_s[:, i])
    food = "perishable food to be discarded: two hours in all above its limit"
    for i, name in enumerate(house.cold_ids):
        yield Loss(name, Kind.FOOD, food), at_end(outcomes.food_lost_s[:, i])
    if house.has_house:
        yield Loss("house", Kind.HOUSE, "air below the lowest you allow"), at_end(outcomes.air_first_s)
        if house.world.par[P_PIPE_LOW] > -FAR:  # else drained, or frozen grid or no grid
            pipes = Loss("pipes", Kind.PIPES, "the coldest pipe below freezing for three hours in all")
            yield pipes, passes(outcomes.pipe_below_s, FREEZE_CLOCK_S)
    if house.has_water:
        yield (
            Loss("water", Kind.WATER, "taps dry and stored water used up"),
            passes(outcomes.unmet_water_m3, _A_DROP_M3),
        )
    for i, name in enumerate(house.pit_ids):
        yield Loss(name, Kind.PIT, "runs over"), at_end(outcomes.pit_first_s[:, i])
    if house.has_tank:
        yield (
            Loss("hot_water", Kind.HOT_WATER, "tank below the lowest you allow"),
            at_end(outcomes.tank_first_s),
        )
    if house.world.limits[0].any():  # there is a machine
        yield (
            Loss("fuel", Kind.FUEL, "the machine is wanted and no fuel is left"),
            at_end(outcomes.fuel_out_s),
        )


def crossing_s(until_s: Array, values: Array, levels: float | Array) -> Array:
    """When accounts (n, k) that only grow first pass a level, straight between checkpoints; inf if never.

    One level gives times of shape (n,), m rising levels give (m, n).
    """
    wanted = np.atleast_1d(np.asarray(levels, dtype=float))
    times = np.concatenate([[0.0], until_s])
    course = np.maximum.accumulate(np.column_stack([np.zeros(len(values)), values]), axis=1)
    n, m = len(course), len(wanted)
    passed = np.searchsorted(wanted, course) + np.arange(n)[:, None] * (m + 1)
    after = np.bincount(passed.ravel(), minlength=n * (m + 1)).reshape(n, m + 1).cumsum(axis=1)[:, :m].T
    which, row = np.nonzero(after < course.shape[1])
    k = after[which, row]
    low, high = course[row, k - 1], course[row, k]
    found = np.full((m, n), np.inf)
    found[which, row] = times[k - 1] + (wanted[which] - low) / (high - low) * (times[k] - times[k - 1])
    return found if np.ndim(levels) else found[0]


def _sum(values: Array) -> Array:
    return values.sum(axis=1) if values.ndim == 2 else values

"""Chance of running dry against the fuel that is kept, and the fuel that outages burn.

A house with little fuel does just what a house with much fuel does until its last drop is burned. So one
track with fuel without end serves every stock: it is dry when what has been burned passes the stock.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hearthold.engine.compiled import CompiledHouse
from hearthold.engine.kernels import layout as c
from hearthold.engine.run import with_fuel
from hearthold.sizing.fuel import amount_m3, lots
from hearthold.study.bands import Bands, chance_bands, enough_bands, major_chance_bands
from hearthold.study.estimate import enough, first_at, reach_of
from hearthold.study.gathering import chance, unseen_fracs
from hearthold.study.losses import Kind, Loss, crossing_s
from hearthold.study.outages import Outages
from hearthold.study.result import Enough, FuelRisk, Kept
from hearthold.study.tracks import Tracks
from hearthold.study.weigh import Rounds, gather_both, weigh

if TYPE_CHECKING:
    from hearthold.house.house import House
    from hearthold.house.supply import FuelKind

Array = NDArray[np.float64]
PLENTY_M3 = 1000.0
_CURVE = 320  # amounts looked at, 1.8 % apart: burning comes in spells, so the curve has knees
_LEAST_FRAC = 0.003  # the least of them, of the most that was burned
_ROWS = 12
_SHARES = (0.5, 0.8, 0.9, 0.95, 0.99)
_RARE_FRAC = 0.001
_SHOWN_FRAC = 0.0005  # less than this changes no figure that is shown
CAN_M3 = 0.02  # where the house names no container: about five gallons


def endless(house: CompiledHouse) -> CompiledHouse | None:
    """The same house and tank, stock without end, nobody fetching; None on a gas main or with no machine."""
    if not 0.0 < house.start_fuel_m3 < PLENTY_M3:
        return None
    made = with_fuel(house, PLENTY_M3)
    par = made.world.par.copy()
    par[c.P_TRIPS_MOST] = 0.0
    return replace(made, world=made.world._replace(par=par))


def fuel_risk(house: House, fuel: FuelKind, have_m3: float, rounds: Rounds, outages: Outages) -> FuelRisk:
    """Percentiles and the curve. `rounds` are tracks of the house from `endless`."""
    burned = max(float(t.course_of("fuel_m3").max()) for pair in rounds for t in pair)
    most = max(burned, 1e-6)
    amounts = np.concatenate([[0.0], np.geomspace(most * _LEAST_FRAC, most, _CURVE)])
    parts = gather_both(_dry_at(rounds, amounts), outages)
    dry, at_most = (
        weigh(parts, outages),
        weigh(gather_both(_dry_at(rounds, amounts, ends=True), outages), outages),
    )
    unseen = unseen_fracs(rounds, outages)
    major_bands, year_bands = enough_bands(parts, outages, amounts, _SHARES)
    can_m3 = container_m3(house, fuel)
    return FuelRisk(
        have_m3,
        can_m3,
        _enough(amounts, 1.0 - dry.major_chance, 1.0 - at_most.major_chance, unseen.major, major_bands),
        _enough(amounts, 1.0 - dry.year_chance, 1.0 - at_most.year_chance, unseen.year, year_bands),
        _kept(rounds, outages, _amounts(amounts, dry.year_chance.mean(axis=0), have_m3, can_m3)),
    )


def _enough(
    amounts: Array, enough_frac: Array, least_frac: Array, unseen: float, bands: Bands
) -> tuple[Enough, ...]:
    """Amounts for each share. `least_frac`: how often each is enough if what goes on beyond the tracks runs dry."""
    found = []
    for share, band in zip(_SHARES, bands, strict=True):
        m3 = enough(amounts, enough_frac, share, unseen)
        (careful_m3,) = first_at(amounts, least_frac.mean(axis=0)[None, :], share)
        found.append(Enough(share, m3, band, bool(careful_m3 > m3.high or np.isinf(careful_m3))))
    return tuple(found)


def container_m3(house: House, fuel: FuelKind) -> float:
    """Volume of the cans or cylinders in which a fuel is kept, as liquid."""
    for lot in lots(house):
        held = lot.model_copy(update={"amount_m3": lot.container_m3, "mass_kg": lot.container_mass_kg})
        if lot.fuel == fuel and (lot.container_m3 or lot.container_mass_kg):
            return amount_m3(held)
    return CAN_M3


def _kept(rounds: Rounds, outages: Outages, rows: Array) -> tuple[Kept, ...]:
    parts, most = (gather_both(_dry_at(rounds, rows, ends=ends), outages) for ends in (False, True))
    found, at_most, unseen = weigh(parts, outages), weigh(most, outages), unseen_fracs(rounds, outages)
    bands = _wider(chance_bands(parts, outages), chance_bands(most, outages))
    major_bands = _wider(major_chance_bands(parts, outages), major_chance_bands(most, outages))
    made = []
    for i, amount in enumerate(rows):
        major, year = (
            chance(found.major_chance[:, i], unseen.major),
            chance(found.year_chance[:, i], unseen.year),
        )
        more = float((at_most.major_chance - found.major_chance)[:, i].mean())
        cut = more > max(_SHOWN_FRAC, float(reach_of(found.major_chance[:, i])))
        made.append(Kept(float(amount), major, major_bands[i], year, bands[i], cut))
    return tuple(made)


def _wider(least: Bands, most: Bands) -> Bands:
    """From the lower edges of one to the upper edges of the other."""
    return tuple((low, high) for (low, _), (_, high) in zip(least, most, strict=True))


def _dry_at(rounds: Rounds, amounts: Array, *, ends: bool = False) -> list[tuple[Tracks, Tracks]]:
    """The same tracks with "dry with this much" as their losses. `ends`: those followed to the end are dry by then."""
    losses = tuple(Loss(f"{a:g}", Kind.FUEL, "dry") for a in amounts)

    def of(tracks: Tracks) -> Tracks:
        first = crossing_s(tracks.until_s, tracks.course_of("fuel_m3"), amounts)
        if ends:
            drawn = tracks.scenarios
            last = drawn.level == len(drawn.ends_s) - 1
            first = np.where(last, np.minimum(first, tracks.until_s[-1]), first)
        return replace(tracks, losses=losses, first_s=first)

    return [(of(routine), of(major)) for routine, major in rounds]


def _amounts(amounts: Array, dry_frac: Array, have_m3: float, can_m3: float) -> Array:
    """Rows of the curve: whole cans up to where running dry is rare, and what is at home."""
    rare = amounts[min(int(np.searchsorted(-dry_frac, -_RARE_FRAC)), len(amounts) - 1)]
    cans = max(1, int(np.ceil(rare / can_m3)))
    step = max(1, int(np.ceil(cans / _ROWS)))
    rows: Sequence[float] = [can_m3 * n for n in range(step, cans + step, step)]
    shown = [row for row in rows if row < amounts[-1]]  # beyond lies only what no track of this length burned
    return np.unique(np.round([*shown, have_m3], 6))

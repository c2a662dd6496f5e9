"""Legs: what a set of loads asks of leg A, leg B and the neutral of a 120/240 V split-phase supply.

Convention, everywhere in the program: the current of leg B is measured in leg B's own sense (in step with
the voltage of leg B to neutral, which is opposite to leg A's). A load across both legs then adds the same
current to each, and the neutral carries the difference of the two legs. A 230 V single-phase supply is the
case where every load sits on leg A: the neutral then carries all of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hearthold.errors import InputError
from hearthold.physics.values import Phasors, Values
from hearthold.quantities.glossary import require


class Connection(IntEnum):
    """Where a load sits: on leg A, on leg B (each to neutral), or across both legs."""

    A = 0
    B = 1
    BOTH = 2


@dataclass(frozen=True, slots=True)
class LegCurrents:
    """Phasor currents of the two legs, each in its own leg's sense, at one leg-to-neutral voltage."""

    leg_a_a: Phasors
    leg_b_a: Phasors
    leg_voltage_v: float

    @property
    def neutral_a(self) -> Phasors:
        """Current returning in the neutral: what one leg carries and the other does not."""
        return self.leg_a_a - self.leg_b_a

    @property
    def leg_a_va(self) -> Values:
        """Apparent power drawn from leg A."""
        return np.abs(self.leg_a_a) * self.leg_voltage_v

    @property
    def leg_b_va(self) -> Values:
        """Apparent power drawn from leg B."""
        return np.abs(self.leg_b_a) * self.leg_voltage_v

    @property
    def total_va(self) -> Phasors:
        """Complex power of both legs together: real part W, imaginary part var (lagging positive)."""
        return self.leg_voltage_v * np.conj(self.leg_a_a + self.leg_b_a)

    @property
    def worst_a(self) -> Values:
        """Current in the more heavily loaded leg."""
        return np.maximum(np.abs(self.leg_a_a), np.abs(self.leg_b_a))


# --- kernels ---------------------------------------------------------------------------------------------


def reactive_kernel(power_w: Values, power_factor: Values) -> Values:
    """Lagging reactive power that goes with a real power, in var."""
    return power_w * (1.0 / power_factor**2 - 1.0) ** 0.5


def leg_va_kernel(leg_w: Values, leg_var: Values) -> Values:
    """Apparent power of a leg from its sums of real and reactive power, in VA."""
    return (leg_w**2 + leg_var**2) ** 0.5


def neutral_kernel(a_w: Values, a_var: Values, b_w: Values, b_var: Values, leg_voltage_v: Values) -> Values:
    """Size of the neutral current from the power sums of both legs, in A."""
    return ((a_w - b_w) ** 2 + (a_var - b_var) ** 2) ** 0.5 / leg_voltage_v


def imbalance_kernel(a_va: Values, b_va: Values) -> Values:
    """Difference of the legs over the larger leg, of 1; nothing on either leg counts as balanced."""
    larger = 0.5 * (a_va + b_va + np.abs(a_va - b_va))
    return np.abs(a_va - b_va) / (larger + 1e-300)  # two idle legs give 0, and no other sum is changed


# --- checked functions -----------------------------------------------------------------------------------


def reactive_power_var(power_w: Values, power_factor: Values) -> Values:
    """Lagging reactive power that goes with a real power at a power factor.

    Q = P tan(acos pf). Sinusoidal currents only: a rectifier's distortion is not reactive power.
    Raises: InputError outside the glossary's ranges.

    Source: definition of reactive power (IEEE Std 1459-2010, single-phase sinusoidal).
    """
    require(power_w=power_w, power_factor=power_factor)
    return reactive_kernel(power_w, power_factor)


def leg_currents(
    load_w: ArrayLike, power_factor: ArrayLike, connection: ArrayLike, leg_voltage_v: float
) -> LegCurrents:
    """Phasor sum of many loads on the two legs at nominal voltage.

    load_w and power_factor have shape (..., n): the last axis runs over the loads, the axes before it (time,
    scenarios) stay in the result. connection has shape (n,) and holds Connection values. Each load draws
    I = conj(S) / V at constant power; a load across both legs draws S / (2 V) in each.
    Raises: InputError outside the glossary's ranges, or for a connection that is none of the three.

    Source: Kirchhoff's current law; three-wire single-phase systems, W. H. Kersting, Distribution System
    Modeling and Analysis (2002), chapter on single-phase centre-tapped transformers (from memory).
    """
    watts, factor = np.broadcast_arrays(
        np.asarray(load_w, dtype=float), np.asarray(power_factor, dtype=float)
    )
    place = _checked_connection(connection, watts.shape)
    if watts.size:
        require(load_w=watts, power_factor=factor)
    require(leg_voltage_v=leg_voltage_v)
    drawn_a = (watts - 1j * reactive_kernel(watts, factor)) / leg_voltage_v
    return LegCurrents(
        _leg_sum(drawn_a, place, Connection.A), _leg_sum(drawn_a, place, Connection.B), leg_voltage_v
    )


def imbalance_frac(leg_a_va: Values, leg_b_va: Values) -> Values:
    """How unevenly two legs are loaded: 0 balanced, 1 everything on one leg.

    |A - B| / max(A, B); nothing on either leg counts as balanced. Raises: InputError outside the ranges.

    Source: common practice, no source (makers of small sets commonly ask for 0.25 or less, from memory).
    """
    require(leg_a_va=leg_a_va, leg_b_va=leg_b_va)
    return imbalance_kernel(leg_a_va, leg_b_va)


def _checked_connection(connection: ArrayLike, shape: tuple[int, ...]) -> NDArray[np.int64]:
    place = np.asarray(connection, dtype=np.int64)
    if place.ndim != 1 or not shape or place.shape[0] != shape[-1]:
        raise InputError(
            f"connection has shape {place.shape} for loads of shape {shape}; give one connection for each "
            "load on the last axis.",
            code="shapes_differ",
        )
    if place.size and not np.isin(place, list(Connection)).all():
        raise InputError(
            f"connection holds {sorted(set(place.tolist()))}; allowed 0 (leg A), 1 (leg B), 2 (both legs).",
            code="unknown_connection",
        )
    return place


def _leg_sum(drawn_a: NDArray[np.complex128], place: NDArray[np.int64], leg: Connection) -> Phasors:
    share = (place == leg) + 0.5 * (place == Connection.BOTH)
    summed: Phasors = (drawn_a @ share)[()]
    return summed

"""Feeder: voltages at the far end of a three-wire split-phase cable or cord, and what a lost neutral does.

Leg B is written in its own sense, as in legs.py: voltages and currents of both legs are positive in step.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hearthold.physics.values import Phasors, Values
from hearthold.quantities.glossary import require


@dataclass(frozen=True, slots=True)
class FarEnd:
    """Phasor voltages at the far end: each leg to the far neutral, and the far neutral to the near one."""

    leg_a_v: Phasors
    leg_b_v: Phasors
    neutral_shift_v: Phasors

    @property
    def both_v(self) -> Phasors:
        """Voltage across the two legs, which a 240 V load sees."""
        return self.leg_a_v + self.leg_b_v

    def drop_v(self, source_leg_v: float) -> tuple[Values, Values, Values]:
        """Volts lost by a load on leg A, on leg B and across both; negative where the voltage rises."""
        return (
            source_leg_v - np.abs(self.leg_a_v),
            source_leg_v - np.abs(self.leg_b_v),
            2.0 * source_leg_v - np.abs(self.both_v),
        )


def far_end_of_currents(
    source_leg_v: float, leg_a_a: Phasors, leg_b_a: Phasors, hot_ohm: Phasors, neutral_ohm: Phasors
) -> FarEnd:
    """Leg voltages at the far end of a feeder that carries known leg currents.

    V_a = E - Z_h I_a - Z_n (I_a - I_b); V_b = E - Z_h I_b + Z_n (I_a - I_b); shift = Z_n (I_a - I_b).
    Currents are phasors against the source voltage (a lagging load has a negative imaginary part);
    impedances are those of the whole length, one way. Mutual coupling is taken as part of X. Exact for given
    currents. Raises: InputError outside the glossary's ranges (tested on the size of each phasor).

    Source: Kirchhoff's voltage law on the three-wire circuit; W. H. Kersting, Distribution System Modeling
    and Analysis (2002), three-wire secondary (from memory).
    """
    require(
        source_leg_v=source_leg_v,
        leg_a_a=np.abs(leg_a_a),
        leg_b_a=np.abs(leg_b_a),
        hot_ohm=np.abs(hot_ohm),
        neutral_ohm=np.abs(neutral_ohm),
    )
    shift_v = neutral_ohm * (leg_a_a - leg_b_a)
    return FarEnd(
        source_leg_v - hot_ohm * leg_a_a - shift_v, source_leg_v - hot_ohm * leg_b_a + shift_v, shift_v
    )


def far_end_of_loads(
    source_leg_v: float,
    load_a_va: Phasors,
    load_b_va: Phasors,
    load_both_va: Phasors,
    hot_ohm: Phasors,
    neutral_ohm: Phasors,
    leg_voltage_v: float,
) -> FarEnd:
    """Leg voltages at the far end with loads taken as constant impedances, solved exactly.

    Loads are complex powers (W + j var, lagging positive) at the nominal leg_voltage_v; the loads across both
    legs are given at twice that voltage. With admittances Y = conj(S) / V^2 the two mesh equations
    [1 + (Z_h + Z_n) Y_a + Z_h Y_ab] V_a + [Z_h Y_ab - Z_n Y_b] V_b = E, and the same with a and b exchanged,
    are solved in closed form. A lost neutral is a very large neutral_ohm (1e6 or more): the loads of the two
    legs then divide the whole 240 V between them, and the lighter leg is driven above its rating.
    Good for heaters and lamps; a motor or power supply draws more, not less, at low voltage.
    Raises: InputError outside the glossary's ranges (tested on the size of each phasor).

    Source: Kirchhoff's laws on the three-wire circuit (three-wire Edison system), any circuit textbook.
    """
    require(
        source_leg_v=source_leg_v,
        load_a_va=np.abs(load_a_va),
        load_b_va=np.abs(load_b_va),
        load_both_va=np.abs(load_both_va),
        hot_ohm=np.abs(hot_ohm),
        neutral_ohm=np.abs(neutral_ohm),
        leg_voltage_v=leg_voltage_v,
    )
    y_a = np.conj(load_a_va) / leg_voltage_v**2
    y_b = np.conj(load_b_va) / leg_voltage_v**2
    y_both = np.conj(load_both_va) / (2.0 * leg_voltage_v) ** 2
    leg_a_v, leg_b_v = _two_meshes(source_leg_v, y_a, y_b, y_both, hot_ohm, neutral_ohm)
    return FarEnd(leg_a_v, leg_b_v, neutral_ohm * (y_a * leg_a_v - y_b * leg_b_v))


def _two_meshes(
    source_leg_v: float, y_a: Phasors, y_b: Phasors, y_both: Phasors, hot_ohm: Phasors, neutral_ohm: Phasors
) -> tuple[Phasors, Phasors]:
    own_a = 1.0 + (hot_ohm + neutral_ohm) * y_a + hot_ohm * y_both
    own_b = 1.0 + (hot_ohm + neutral_ohm) * y_b + hot_ohm * y_both
    a_by_b = hot_ohm * y_both - neutral_ohm * y_b
    b_by_a = hot_ohm * y_both - neutral_ohm * y_a
    determinant = own_a * own_b - a_by_b * b_by_a
    return (
        source_leg_v * (own_b - a_by_b) / determinant,
        source_leg_v * (own_a - b_by_a) / determinant,
    )

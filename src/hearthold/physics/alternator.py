"""Alternator: voltage dip when a motor starts, start demand against surge, and frequency."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hearthold.errors import InputError
from hearthold.physics.legs import reactive_kernel
from hearthold.physics.values import Values
from hearthold.quantities.glossary import require

# --- kernels ---------------------------------------------------------------------------------------------


def voltage_dip_kernel(
    start_pu: Values, reactance_frac: Values, running_pu: Values, start_pf: Values, running_pf: Values
) -> Values:
    """Dip of an alternator's terminal voltage, of 1, from the voltage before the start."""
    # |1 + j X Y|^2 = (1 + X b)^2 + (X g)^2 for an admittance Y = g - j b, so no complex numbers are needed
    before_b, before_g = running_pu * (1.0 - running_pf**2) ** 0.5, running_pu * running_pf
    after_b = before_b + start_pu * (1.0 - start_pf**2) ** 0.5
    after_g = before_g + start_pu * start_pf
    before = (1.0 + reactance_frac * before_b) ** 2 + (reactance_frac * before_g) ** 2
    after = (1.0 + reactance_frac * after_b) ** 2 + (reactance_frac * after_g) ** 2
    return 1.0 - (before / after) ** 0.5


def start_demand_kernel(
    running_w: Values, running_var: Values, start_w: Values, start_var: Values
) -> tuple[Values, Values]:
    """Real and apparent power while one motor starts beside running loads, in W and VA."""
    real_w = running_w + start_w
    return real_w, (real_w**2 + (running_var + start_var) ** 2) ** 0.5


# --- starting a motor ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class StartDemand:
    """What a source must give while one motor starts: real power from the engine, VA from the alternator."""

    start_demand_w: Values
    start_demand_va: Values


def voltage_dip_frac(
    start_va: Values,
    generator_va: Values,
    reactance_frac: Values,
    running_va: Values = 0.0,
    start_power_factor: Values = 0.0,
    running_power_factor: Values = 0.0,
) -> Values:
    """Voltage dip at an alternator's terminals when a motor is switched on, before the regulator answers.

    A constant voltage behind the reactance X (per unit on generator_va) feeds the loads as constant
    admittances Y = S*/generator_va: dip = 1 - |1 + jX Y_running| / |1 + jX (Y_running + Y_start)|. With
    both power factors 0 (the default, and nearly the upper bound) this is X s / (1 + X s) for an idle set.
    Use the transient reactance for what lamps and contactors feel, the subtransient one for the first cycles.
    An inverter set limits its current instead: compare with its surge rating. Engine slowing is not in it.
    Raises: InputError outside the glossary's ranges.

    Source: voltage-divider method of IEEE Std 399-1997 (Brown Book), motor starting (from memory).
    """
    require(
        start_va=start_va,
        generator_va=generator_va,
        reactance_frac=reactance_frac,
        running_va=running_va,
        start_power_factor=start_power_factor,
        running_power_factor=running_power_factor,
    )
    return voltage_dip_kernel(
        start_va / generator_va,
        reactance_frac,
        running_va / generator_va,
        start_power_factor,
        running_power_factor,
    )


def largest_start_va(dip_limit_frac: Values, generator_va: Values, reactance_frac: Values) -> Values:
    """Largest motor start an otherwise idle alternator takes within a voltage dip.

    S = S_gen d / (X (1 - d)), the inverse of voltage_dip_frac at power factor 0.
    Raises: InputError outside the glossary's ranges.

    Source: voltage-divider method of IEEE Std 399-1997 (Brown Book), motor starting (from memory).
    """
    require(dip_limit_frac=dip_limit_frac, generator_va=generator_va, reactance_frac=reactance_frac)
    return generator_va * dip_limit_frac / (reactance_frac * (1.0 - dip_limit_frac))


def start_demand(
    running_w: Values, running_power_factor: Values, start_va: Values, start_power_factor: Values
) -> StartDemand:
    """Demand while one motor starts and everything else keeps running: phasor sum at full voltage.

    P = P_run + S pf; S_total = sqrt(P^2 + (Q_run + Q_start)^2). Only one motor starts at a time; several
    starts together are the sum of their start_va. Raises: InputError outside the ranges, and for a running
    load with running power factor 0.

    Source: definition of complex power; one start at a time is common practice, no source.
    """
    require(
        running_w=running_w,
        running_power_factor=running_power_factor,
        start_va=start_va,
        start_power_factor=start_power_factor,
    )
    if np.any(np.asarray(running_power_factor) < 0.05):
        raise InputError(
            "running_power_factor is below 0.05, which leaves the reactive power of a real load without "
            "bound; give the power factor of the running loads (1 for heaters).",
            code="out_of_range",
        )
    running_var = reactive_kernel(running_w, running_power_factor)
    start_var = start_va * (1.0 - start_power_factor**2) ** 0.5
    return StartDemand(*start_demand_kernel(running_w, running_var, start_va * start_power_factor, start_var))


def surge_loading_frac(
    start_demand_w: Values, start_demand_va: Values, surge_w: Values, surge_va: Values
) -> Values:
    """How far a start uses up a source's short-time rating: the worse of engine (W) and alternator (VA).

    max(P / P_surge, S / S_surge); above 1 the source cannot carry the start at full voltage.
    Raises: InputError outside the glossary's ranges.

    Source: common practice, no source.
    """
    require(
        start_demand_w=start_demand_w, start_demand_va=start_demand_va, surge_w=surge_w, surge_va=surge_va
    )
    worst = np.maximum(start_demand_w / surge_w, start_demand_va / surge_va)
    return worst if isinstance(worst, np.ndarray) else float(worst)


# --- frequency -------------------------------------------------------------------------------------------


def frequency_hz(shaft_rev_per_s: Values, pole_count: int) -> Values:
    """Frequency of a synchronous machine from its speed: f = p n / 2, with n in turns a second.

    pole_count is the number of poles, even. Raises: InputError outside the ranges or for an odd number.

    Source: definition of synchronous speed (f = poles x rpm / 120); IEC 60034-1.
    """
    require(shaft_rev_per_s=shaft_rev_per_s, pole_count=pole_count)
    if pole_count % 2:
        raise InputError(
            f"pole_count is {pole_count}; poles come in pairs, so give an even number (2 for 3600 rpm at "
            "60 Hz, 4 for 1800 rpm).",
            code="odd_poles",
        )
    return 0.5 * pole_count * shaft_rev_per_s


def frequency_under_load_hz(rated_hz: Values, droop_frac: Values, load_frac: Values) -> Values:
    """Steady frequency of a set with a drooping governor that is at rated frequency when fully loaded.

    f = f_r (1 + droop (1 - load)). Raises: InputError outside the glossary's ranges.

    Source: ISO 8528-5, definition of frequency droop (from memory).
    """
    require(rated_hz=rated_hz, droop_frac=droop_frac, load_frac=load_frac)
    return rated_hz * (1.0 + droop_frac * (1.0 - load_frac))

"""Low-pressure gas pipe: flow carried on the longest run, drop at a flow, and the smallest pipe that does.

Two published equations for systems below 1.5 psi gauge. The code's own (NFPA 54) decides in North America;
Spitzglass is older and 20 to 30 % stricter in small pipes. Gas work is for a licensed fitter with a permit
and a pressure test; these numbers size a question to ask, not a pipe to cut.
"""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
from numpy.typing import ArrayLike

from hearthold.errors import CannotMeetError
from hearthold.quantities.glossary import require

# the equations are stated in inches, feet, inches of water and cubic feet an hour
_M_PER_IN = 0.0254
_M_PER_FT = 0.3048
_PA_PER_IN_WC = 249.08891
_M3_PER_S_PER_CFH = 0.028316846592 / 3600.0
_PA_S_PER_CP = 0.001
_BASE_R = 520.0  # 60 degF on the Rankine scale, the base temperature of the code's Cr
_POWER = 0.206 / 0.381


def code_flow_kernel(
    gas_pipe_inside_m: float, gas_run_m: float, gas_drop_pa: float, gas_factor: float
) -> float:
    """Flow by the code's low-pressure equation, m3/s."""
    slope = (gas_drop_pa / _PA_PER_IN_WC) / (gas_factor * gas_run_m / _M_PER_FT)
    per_h: float = (19.17 * gas_pipe_inside_m / _M_PER_IN) ** (1.0 / 0.381) * slope**_POWER
    return per_h * _M3_PER_S_PER_CFH


def spitzglass_flow_kernel(
    gas_pipe_inside_m: float, gas_run_m: float, gas_drop_pa: float, gas_gravity: float
) -> float:
    """Flow by the low-pressure Spitzglass equation, m3/s."""
    inside_in, run_ft = gas_pipe_inside_m / _M_PER_IN, gas_run_m / _M_PER_FT
    loss = gas_gravity * run_ft * (1.0 + 3.6 / inside_in + 0.03 * inside_in)
    return 3550.0 * sqrt(gas_drop_pa / _PA_PER_IN_WC * inside_in**5 / loss) * _M3_PER_S_PER_CFH


def gas_factor(gas_gravity: float, gas_viscosity_pa_s: float) -> float:
    """Factor Cr of the code's low-pressure equation: 0.00354 S T (Z/S)^0.152, T = 520 R, Z in centipoise.

    0.6094 for natural gas (S 0.60, 0.012 cP) and 1.2462 for undiluted propane (S 1.50, 0.008 cP).

    Raises: InputError outside the glossary ranges.
    Source: NFPA 54 / IFGC low-pressure sizing equation, definitions of Cr (from memory).
    """
    require(gas_gravity=gas_gravity, gas_viscosity_pa_s=gas_viscosity_pa_s)
    viscosity_cp = gas_viscosity_pa_s / _PA_S_PER_CP
    factor: float = 0.00354 * gas_gravity * _BASE_R * (viscosity_cp / gas_gravity) ** 0.152
    return factor


def code_flow_m3_per_s(
    gas_pipe_inside_m: float, gas_run_m: float, gas_drop_pa: float, gas_factor: float
) -> float:
    """Gas flow by the code's equation: D = Q^0.381 / (19.17 (dH/(Cr L))^0.206), in, ft, in w.c., ft3/h.

    `gas_run_m` is the longest run from meter or second regulator to the farthest appliance with fittings,
    used for every section. Below 1.5 psi gauge only.

    Raises: InputError outside the glossary ranges.
    Source: NFPA 54 (National Fuel Gas Code) / IFGC, low-pressure equation; form seen at an IFGC A.4 excerpt.
    """
    require(gas_pipe_inside_m=gas_pipe_inside_m, gas_run_m=gas_run_m, gas_drop_pa=gas_drop_pa)
    require(gas_factor=gas_factor)
    return code_flow_kernel(gas_pipe_inside_m, gas_run_m, gas_drop_pa, gas_factor)


def code_drop_pa(gas_pipe_inside_m: float, gas_run_m: float, gas_m3_per_s: float, gas_factor: float) -> float:
    """Pressure lost at a flow by the code's equation, the inverse of `code_flow_m3_per_s`.

    Raises: InputError outside the glossary ranges.
    Source: see `code_flow_m3_per_s`.
    """
    require(gas_pipe_inside_m=gas_pipe_inside_m, gas_run_m=gas_run_m, gas_m3_per_s=gas_m3_per_s)
    require(gas_factor=gas_factor)
    at_one_pa = code_flow_kernel(gas_pipe_inside_m, gas_run_m, 1.0, gas_factor)
    drop_pa: float = (gas_m3_per_s / at_one_pa) ** (1.0 / _POWER)
    return drop_pa


def spitzglass_flow_m3_per_s(
    gas_pipe_inside_m: float, gas_run_m: float, gas_drop_pa: float, gas_gravity: float
) -> float:
    """Gas flow by Spitzglass: Q = 3550 sqrt(h D^5 / (S L (1 + 3.6/D + 0.03 D))), ft3/h, in w.c., in, ft.

    Below 1 psi gauge and for pipes up to about 10 in.

    Raises: InputError outside the glossary ranges.
    Source: Spitzglass, low-pressure form, as printed in plumbing codes (seen in two tools' text).
    """
    require(gas_pipe_inside_m=gas_pipe_inside_m, gas_run_m=gas_run_m, gas_drop_pa=gas_drop_pa)
    require(gas_gravity=gas_gravity)
    return spitzglass_flow_kernel(gas_pipe_inside_m, gas_run_m, gas_drop_pa, gas_gravity)


def spitzglass_drop_pa(
    gas_pipe_inside_m: float, gas_run_m: float, gas_m3_per_s: float, gas_gravity: float
) -> float:
    """Pressure lost at a flow by Spitzglass; it goes with the square of the flow.

    Raises: InputError outside the glossary ranges.
    Source: see `spitzglass_flow_m3_per_s`.
    """
    require(gas_pipe_inside_m=gas_pipe_inside_m, gas_run_m=gas_run_m, gas_m3_per_s=gas_m3_per_s)
    require(gas_gravity=gas_gravity)
    at_one_pa = spitzglass_flow_kernel(gas_pipe_inside_m, gas_run_m, 1.0, gas_gravity)
    return (gas_m3_per_s / at_one_pa) ** 2


def gas_heat_w(gas_m3_per_s: float, hhv_j_per_m3: float) -> float:
    """Heat a gas flow carries on its higher heating value, as appliance plates are marked.

    Raises: InputError outside the glossary ranges.
    Source: energy balance.
    """
    require(gas_m3_per_s=gas_m3_per_s, hhv_j_per_m3=hhv_j_per_m3)
    return gas_m3_per_s * hhv_j_per_m3


def gas_flow_m3_per_s(vapor_w: float, hhv_j_per_m3: float) -> float:
    """Gas flow for a heat input on the higher heating value; the inverse of `gas_heat_w`.

    Raises: InputError outside the glossary ranges.
    Source: energy balance.
    """
    require(vapor_w=vapor_w, hhv_j_per_m3=hhv_j_per_m3)
    return vapor_w / hhv_j_per_m3


def smallest_pipe(
    gas_pipe_inside_m: ArrayLike, gas_run_m: float, gas_drop_pa: float, gas_m3_per_s: float, gas_factor: float
) -> int:
    """Index of the smallest of several pipes that carries a flow on the longest run, by the code's equation.

    `gas_pipe_inside_m` is a sequence of inside diameters in any order.

    Raises: CannotMeetError when none does; InputError outside the glossary ranges.
    Source: longest-length method of NFPA 54 / IFGC.
    """
    inside_m = np.asarray(gas_pipe_inside_m, dtype=float)
    require(gas_pipe_inside_m=inside_m, gas_run_m=gas_run_m, gas_drop_pa=gas_drop_pa)
    require(gas_m3_per_s=gas_m3_per_s, gas_factor=gas_factor)
    for index in np.argsort(inside_m):
        if code_flow_kernel(float(inside_m[index]), gas_run_m, gas_drop_pa, gas_factor) >= gas_m3_per_s:
            return int(index)
    raise CannotMeetError(
        f"no pipe up to {inside_m.max():g} m inside carries {gas_m3_per_s:g} m3/s over {gas_run_m:g} m; "
        "shorten the run, raise the pressure with a second regulator, or ask for a larger pipe."
    )


def gas_velocity_m_per_s(gas_pipe_inside_m: float, gas_m3_per_s: float) -> float:
    """Mean speed of the gas in the pipe: 4 Q / (pi D^2); above about 10 m/s it is heard.

    Raises: InputError outside the glossary ranges.
    Source: continuity; the 10 m/s is common practice, no source.
    """
    require(gas_pipe_inside_m=gas_pipe_inside_m, gas_m3_per_s=gas_m3_per_s)
    return 4.0 * gas_m3_per_s / (pi * gas_pipe_inside_m**2)

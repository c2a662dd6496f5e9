"""Tank water heater: one store of hot water that loses heat, is drawn from, and is heated again.

C dT/dt = UA (T_room - T) + rho c F (T_inlet - T) + q

One store is right for cooling and for reheating. While it is drawn, a real tank stays layered: about 0.7 of
it comes out hot before cold water shows. Both figures are given; the truth lies between them.
"""

from __future__ import annotations

from math import inf, log

from hearthold.errors import InputError
from hearthold.physics.twonode import (
    onenode_advance_kernel,
    onenode_crossing_kernel,
    onenode_rate_kernel,
)
from hearthold.quantities.glossary import require

WATER_J_PER_M3_K = (
    4.179e6  # 8.33 lb/gal at 1 Btu/(lb F), the trade's figure; 4.12e6 to 4.20e6 from 60 to 5 degC
)
LAYERED_FRAC = 0.70  # of a tank comes out hot: share in the trade's first-hour formula
TEST_DRAW_M3 = 0.2434018765  # 64.3 gal a day: former US energy-factor test, 10 CFR 430 B App. E (from memory)
TEST_J_PER_M3_K = 4.1366e6  # 8.24 lb/gal at 1 Btu/(lb F), hot water of the same test (from memory)
TEST_RISE_K = 77.0 / 1.8
TEST_STANDBY_K = 67.5 / 1.8  # tank 135 degF in a room of 67.5 degF, same test (from memory)
DAY_S = 86400.0
NEVER_S = 1e9


def tank_rate_kernel(
    tank_m3: float,
    ua_w_per_k: float,
    tank_c: float,
    room_c: float,
    inlet_c: float,
    draw_m3_per_s: float,
    q_w: float,
) -> tuple[float, float]:
    """Decay rate (1/s) and present rate of change (K/s) of a tank that is drawn and heated."""
    flow_w_per_k = WATER_J_PER_M3_K * draw_m3_per_s
    loss = ua_w_per_k + flow_w_per_k
    toward = (ua_w_per_k * room_c + flow_w_per_k * inlet_c) / loss
    return onenode_rate_kernel(WATER_J_PER_M3_K * tank_m3, loss, tank_c, toward, q_w)


def standby_ua_w_per_k(energy_factor_frac: float, recovery_frac: float, heater_w: float) -> float:
    """Standby conductance of a tank from the energy factor on its former US label.

    UA = (1/EF - 1/RE) / (dT_standby (t_day/Q_day - 1/(RE P))), Q_day = 64.3 gal over 77 degF. Electric tanks:
    RE 0.98. Not for the newer uniform energy factor, whose draws differ.

    Raises: InputError outside the glossary, or if the energy factor is not below the recovery efficiency.
    Source: water-heater analysis model, Lutz et al., LBNL (1999), test conditions 10 CFR 430 subpart B
    Appendix E (both from memory).
    """
    require(energy_factor_frac=energy_factor_frac, recovery_frac=recovery_frac, heater_w=heater_w)
    if energy_factor_frac >= recovery_frac:
        raise InputError(
            f"energy_factor_frac {energy_factor_frac:g} must be below recovery_frac {recovery_frac:g}; "
            "a heat-pump tank needs its own standby figure.",
            code="out_of_range",
        )
    day_j = TEST_DRAW_M3 * TEST_J_PER_M3_K * TEST_RISE_K
    lost = 1.0 / energy_factor_frac - 1.0 / recovery_frac
    return lost / (TEST_STANDBY_K * (DAY_S / day_j - 1.0 / (recovery_frac * heater_w)))


def tank_after_c(
    tank_m3: float,
    ua_w_per_k: float,
    tank_c: float,
    room_c: float,
    duration_s: float,
    inlet_c: float = 10.0,
    draw_m3_per_s: float = 0.0,
    heater_w: float = 0.0,
) -> float:
    """Temperature of the mixed tank after a time of standing, drawing or heating at constant rates.

    Raises: InputError outside the glossary.
    Source: one-node heat balance, see the head of this module.
    """
    require(tank_m3=tank_m3, ua_w_per_k=ua_w_per_k, tank_c=tank_c, room_c=room_c, duration_s=duration_s)
    require(inlet_c=inlet_c, draw_m3_per_s=draw_m3_per_s, heater_w=heater_w)
    k, f = tank_rate_kernel(tank_m3, ua_w_per_k, tank_c, room_c, inlet_c, draw_m3_per_s, heater_w)
    return onenode_advance_kernel(k, tank_c, f, duration_s)


def tank_hold_s(tank_m3: float, ua_w_per_k: float, tank_c: float, room_c: float, limit_c: float) -> float:
    """Time for an unheated tank that nobody draws from to cool to the limit: C/UA ln((T0 - Tr)/(T1 - Tr)).

    0 at or below the limit, `math.inf` in a room at or above it.

    Raises: InputError outside the glossary.
    Source: one-node heat balance.
    """
    require(tank_m3=tank_m3, ua_w_per_k=ua_w_per_k, tank_c=tank_c, room_c=room_c, limit_c=limit_c)
    if tank_c <= limit_c:
        return 0.0
    return _reach_s(tank_m3, ua_w_per_k, tank_c, room_c, 0.0, limit_c)


def heat_up_s(
    tank_m3: float, ua_w_per_k: float, tank_c: float, room_c: float, heater_w: float, target_c: float
) -> float:
    """Time to heat the tank to the target against its own losses; `math.inf` if the heater is too weak.

    Raises: InputError outside the glossary.
    Source: one-node heat balance.
    """
    require(tank_m3=tank_m3, ua_w_per_k=ua_w_per_k, tank_c=tank_c, room_c=room_c)
    require(heater_w=heater_w, target_c=target_c)
    if tank_c >= target_c:
        return 0.0
    return _reach_s(tank_m3, ua_w_per_k, tank_c, room_c, heater_w, target_c)


def reheat_j(tank_m3: float, tank_c: float, target_c: float) -> float:
    """Heat that brings the water of a tank to the target, losses left out; 0 if it is there.

    Raises: InputError outside the glossary.
    Source: rho c V dT with the trade's 8.33 Btu per gallon and degree Fahrenheit.
    """
    require(tank_m3=tank_m3, tank_c=tank_c, target_c=target_c)
    return WATER_J_PER_M3_K * tank_m3 * max(0.0, target_c - tank_c)


def recovery_m3_per_s(heater_w: float, inlet_c: float, target_c: float, recovery_frac: float = 1.0) -> float:
    """Flow that a heater can bring from the inlet to the target: RE P / (rho c (T_target - T_inlet)).

    Raises: InputError outside the glossary, or for a target not above the inlet.
    Source: heat balance; trade form gph = W 3.412 / (8.33 dT_F) (printed in trade recovery tables).
    """
    require(heater_w=heater_w, inlet_c=inlet_c, target_c=target_c, recovery_frac=recovery_frac)
    _warmer(target_c, inlet_c, "target_c")
    return recovery_frac * heater_w / (WATER_J_PER_M3_K * (target_c - inlet_c))


def hot_share_frac(tank_c: float, inlet_c: float, delivery_c: float) -> float:
    """Share of hot water in what the tap gives: (T_delivery - T_inlet)/(T_tank - T_inlet), at most 1.

    1 also when the tank is colder than the wanted delivery: all hot, and still too cool.

    Raises: InputError outside the glossary, or for a delivery not above the inlet.
    Source: mixing of two streams.
    """
    require(tank_c=tank_c, inlet_c=inlet_c, delivery_c=delivery_c)
    _warmer(delivery_c, inlet_c, "delivery_c")
    return 1.0 if tank_c <= delivery_c else (delivery_c - inlet_c) / (tank_c - inlet_c)


def usable_layered_m3(tank_m3: float, tank_c: float, inlet_c: float, delivery_c: float) -> float:
    """Water at the tap's temperature from an unheated tank that stays layered: 0.7 V over the hot share.

    0 when the tank is below the delivery temperature.

    Raises: InputError outside the glossary, or for a delivery not above the inlet.
    Source: 0.70 of the tank as in the trade's first-hour formula (trade recovery tables), mixing.
    """
    require(tank_m3=tank_m3)
    share = hot_share_frac(tank_c, inlet_c, delivery_c)
    return 0.0 if tank_c < delivery_c else LAYERED_FRAC * tank_m3 / share


def usable_mixed_m3(tank_m3: float, tank_c: float, inlet_c: float, delivery_c: float) -> float:
    """Water at the tap's temperature from an unheated tank that mixes fully.

    V_tap = V (T0 - Td)/(Td - Ti): the heat above the inlet that leaves the tank is what the tap gives.

    Raises: InputError outside the glossary, or for a delivery not above the inlet.
    Source: heat balance of a stirred tank; own algebra.
    """
    require(tank_m3=tank_m3, tank_c=tank_c, inlet_c=inlet_c, delivery_c=delivery_c)
    _warmer(delivery_c, inlet_c, "delivery_c")
    return tank_m3 * max(0.0, tank_c - delivery_c) / (delivery_c - inlet_c)


def drawn_mixed_m3(tank_m3: float, tank_c: float, inlet_c: float, limit_c: float) -> float:
    """Water drawn from a fully mixed, unheated tank until it is down at the limit: V ln((T0 - Ti)/(T1 - Ti)).

    Raises: InputError outside the glossary, or for a limit not above the inlet.
    Source: heat balance of a stirred tank.
    """
    require(tank_m3=tank_m3, tank_c=tank_c, inlet_c=inlet_c, limit_c=limit_c)
    _warmer(limit_c, inlet_c, "limit_c")
    return tank_m3 * log((tank_c - inlet_c) / (limit_c - inlet_c)) if tank_c > limit_c else 0.0


def _reach_s(
    tank_m3: float, ua_w_per_k: float, tank_c: float, room_c: float, q_w: float, level_c: float
) -> float:
    k, f = tank_rate_kernel(tank_m3, ua_w_per_k, tank_c, room_c, room_c, 0.0, q_w)
    at = onenode_crossing_kernel(k, tank_c, f, level_c, NEVER_S)
    return at if at > 0.0 else inf


def _warmer(value_c: float, inlet_c: float, name: str) -> None:
    if value_c <= inlet_c:
        raise InputError(
            f"{name} {value_c:g} degC must be above inlet_c {inlet_c:g} degC, the cold water.",
            code="out_of_range",
        )

"""Small change of cold: a door opened, jugs of ice moved over, dry ice laid in."""

from __future__ import annotations

from math import exp

from hearthold.errors import InputError
from hearthold.physics.food import FUSION_J_PER_KG
from hearthold.quantities.glossary import require

WATER_J_PER_KG_K = 4190.0  # near 10 degC (handbook value, from memory)
ICE_J_PER_KG_K = 2050.0  # near -10 degC (handbook value, from memory)
SUBLIMATION_J_PER_KG = 571e3  # carbon dioxide at -78.5 degC (handbook value, from memory)
SUBLIMATION_C = -78.5
DRY_ICE_GAS_J_PER_KG_K = 800.0  # carbon dioxide gas, -78 to 0 degC (handbook value, from memory)
AIR_PA = 101325.0
AIR_GAS_J_PER_KG_K = 287.05
KELVIN = 273.15


def saturation_kernel(t_c: float) -> float:
    """Saturation pressure of water vapour over water, Pa."""
    return 610.94 * exp(17.625 * t_c / (t_c + 243.04))


def moist_air_kernel(t_c: float, humidity_frac: float) -> tuple[float, float]:
    """Enthalpy above 0 degC (J per kg of dry air) and density of the dry air (kg/m3), at sea level."""
    vapour_pa = humidity_frac * saturation_kernel(t_c)
    ratio = 0.621945 * vapour_pa / (AIR_PA - vapour_pa)
    dry_kg_per_m3 = (AIR_PA - vapour_pa) / (AIR_GAS_J_PER_KG_K * (t_c + KELVIN))
    return 1006.0 * t_c + ratio * (2.501e6 + 1860.0 * t_c), dry_kg_per_m3


def door_opening_j(
    compartment_m3: float,
    exchange_frac: float,
    room_c: float,
    room_humidity_frac: float,
    compartment_c: float,
) -> float:
    """Heat let in by one opening of the door: the exchanged share of the air, cooled and dried to the inside.

    Q = exchange V rho_inside (h_room - h_inside), inside air saturated. Leaves out the warming of the walls
    while the door stands open. Valid near sea level, rooms of -10 to 50 degC.

    Raises: InputError outside the glossary.
    Source: moist-air enthalpy, ASHRAE Handbook Fundamentals, Psychrometrics; saturation pressure, Alduchov &
    Eskridge (1996) (both from memory).
    """
    require(compartment_m3=compartment_m3, exchange_frac=exchange_frac, room_c=room_c)
    require(room_humidity_frac=room_humidity_frac, compartment_c=compartment_c)
    outside, _ = moist_air_kernel(room_c, room_humidity_frac)
    inside, dry_kg_per_m3 = moist_air_kernel(compartment_c, 1.0)
    return exchange_frac * compartment_m3 * dry_kg_per_m3 * (outside - inside)


def ice_cold_j(ice_kg: float, ice_c: float, final_c: float) -> float:
    """Heat that ice takes up from its own temperature to the final one, melting if that is above 0 degC.

    Q = m (c_ice (0 - t0) + L + c_water t1). Raises: InputError outside the glossary, or for ice above 0 degC.

    Source: heat balance with handbook values of water and ice (from memory).
    """
    require(ice_kg=ice_kg, ice_c=ice_c, final_c=final_c)
    if final_c < ice_c:
        raise InputError(f"final_c {final_c:g} degC is below ice_c {ice_c:g} degC.", code="out_of_range")
    if final_c < 0.0:
        return ice_kg * ICE_J_PER_KG_K * (final_c - ice_c)
    return ice_kg * (-ICE_J_PER_KG_K * ice_c + FUSION_J_PER_KG + WATER_J_PER_KG_K * final_c)


def dry_ice_cold_j(dry_ice_kg: float, final_c: float) -> float:
    """Heat that dry ice takes up as it turns to gas and the gas warms to the box.

    Q = m (571 kJ/kg + 0.8 kJ/(kg K) (t + 78.5)). The gas displaces air: ventilate, never
    in a closed room or car, never with bare hands.

    Raises: InputError outside the glossary.
    Source: heat balance with handbook values of carbon dioxide (from memory).
    """
    require(dry_ice_kg=dry_ice_kg, final_c=final_c)
    return dry_ice_kg * (SUBLIMATION_J_PER_KG + DRY_ICE_GAS_J_PER_KG_K * (final_c - SUBLIMATION_C))


def cold_lasts_s(cold_j: float, ua_w_per_k: float, room_c: float, compartment_c: float) -> float:
    """How long a stock of cold covers the heat through the walls: Q / (UA (T_room - T_box)).

    Raises: InputError outside the glossary, or for a room that is not warmer than the box.
    Source: steady heat balance.
    """
    require(cold_j=cold_j, ua_w_per_k=ua_w_per_k, room_c=room_c, compartment_c=compartment_c)
    if room_c <= compartment_c:
        raise InputError(
            f"room_c {room_c:g} degC is not warmer than compartment_c {compartment_c:g} degC; no cold is "
            "lost.",
            code="out_of_range",
        )
    return cold_j / (ua_w_per_k * (room_c - compartment_c))

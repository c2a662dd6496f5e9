"""What a house loses and what heats it: leakage, degree days and fuel, stoves, burners that need current."""

from __future__ import annotations

from math import sqrt

from hearthold.errors import InputError
from hearthold.quantities.glossary import require

AIR_J_PER_M3_K = (
    1206.0  # density 1.2 kg/m3 times 1005 J/(kg K): standard air, ASHRAE Fundamentals (from memory)
)
AIR_KG_PER_M3 = 1.2
BLOWER_PA = 50.0
LEAKAGE_PA = 4.0  # reference pressure of effective leakage area: ASTM E779 (from memory)
FLOW_EXPONENT = 0.65  # usual for houses: ASTM E779, ASHRAE Fundamentals (from memory)
STOREY_M = 2.5
SEASON_DIVISOR = 20.0  # natural air change is about the 50 Pa figure over 20: common practice (from memory)


def leakage_w_per_k(house_m3: float, air_change_per_s: float) -> float:
    """Heat loss of air leakage per kelvin: rho c V n, for standard air (sea level).

    Raises: InputError outside the glossary.
    Source: ASHRAE Handbook Fundamentals, Residential load calculation, sensible factor 1.2 kJ/(m3 K) (from
    memory).
    """
    require(house_m3=house_m3, air_change_per_s=air_change_per_s)
    return AIR_J_PER_M3_K * house_m3 * air_change_per_s


def natural_air_change_per_s(blower_m3_per_s: float, house_m3: float) -> float:
    """Air change of a heating season from a blower-door flow at 50 Pa: n50 / 20.

    Good to about a factor of 1.5: shelter, height and climate are left out.

    Raises: InputError outside the glossary.
    Source: common practice (attributed to Kronvall and Persily, from memory).
    """
    require(blower_m3_per_s=blower_m3_per_s, house_m3=house_m3)
    return blower_m3_per_s / house_m3 / SEASON_DIVISOR


def normalized_leakage(blower_m3_per_s: float, heated_area_m2: float, house_height_m: float) -> float:
    """Normalized leakage, a number: NL = 1000 (ELA / A) (H / 2.5 m)^0.3, ELA at 4 Pa from the flow at 50 Pa.

    ELA = Q50 (4/50)^0.65 / sqrt(2 * 4 Pa / rho).

    Raises: InputError outside the glossary.
    Source: ASHRAE Standard 119 and ASTM E779 (from memory).
    """
    require(blower_m3_per_s=blower_m3_per_s, heated_area_m2=heated_area_m2, house_height_m=house_height_m)
    at_reference = blower_m3_per_s * (LEAKAGE_PA / BLOWER_PA) ** FLOW_EXPONENT
    ela_m2 = at_reference / sqrt(2.0 * LEAKAGE_PA / AIR_KG_PER_M3)
    found: float = 1000.0 * ela_m2 / heated_area_m2 * (house_height_m / STOREY_M) ** 0.3
    return found


def degree_heat_j(ua_w_per_k: float, degree_time_k_s: float) -> float:
    """Heat of a season: UA times degree-time (1 F day = 48 000 K s, 1 K day = 86 400 K s).

    Raises: InputError outside the glossary.
    Source: degree-day method, ASHRAE Handbook Fundamentals, Energy estimating (from memory).
    """
    require(ua_w_per_k=ua_w_per_k, degree_time_k_s=degree_time_k_s)
    return ua_w_per_k * degree_time_k_s


def degree_fuel_m3(
    ua_w_per_k: float, degree_time_k_s: float, fuel_heat_j_per_m3: float, efficiency_frac: float
) -> float:
    """Fuel of a season: heat over heating value and efficiency (both on the higher heating value).

    Raises: InputError outside the glossary.
    Source: degree-day method, ASHRAE Handbook Fundamentals, Energy estimating (from memory).
    """
    require(fuel_heat_j_per_m3=fuel_heat_j_per_m3, efficiency_frac=efficiency_frac)
    return degree_heat_j(ua_w_per_k, degree_time_k_s) / (fuel_heat_j_per_m3 * efficiency_frac)


def ua_from_fuel_w_per_k(
    heating_fuel_m3: float, degree_time_k_s: float, fuel_heat_j_per_m3: float, efficiency_frac: float
) -> float:
    """Heat loss of a house from the fuel it burned over a known season: the degree-day method turned round.

    Take out what went to hot water and cooking first. Needs degree_time_k_s above 0.

    Raises: InputError outside the glossary, or for a season without degree days.
    Source: degree-day method, ASHRAE Handbook Fundamentals, Energy estimating (from memory).
    """
    require(heating_fuel_m3=heating_fuel_m3, degree_time_k_s=degree_time_k_s)
    require(fuel_heat_j_per_m3=fuel_heat_j_per_m3, efficiency_frac=efficiency_frac)
    if degree_time_k_s <= 0.0:
        raise InputError(
            "degree_time_k_s is 0; take a season in which the house was heated.", code="out_of_range"
        )
    return heating_fuel_m3 * fuel_heat_j_per_m3 * efficiency_frac / degree_time_k_s


def wood_heat_j(
    wood_kg: float, wood_moisture_frac: float, dry_wood_j_per_kg: float, efficiency_frac: float
) -> float:
    """Heat that a load of wood gives to the house: m (1 - moisture) H_dry efficiency.

    Moisture is water over wet mass; the efficiency is the stove's overall one on the higher heating value,
    which already carries the loss of steam up the chimney.

    Raises: InputError outside the glossary.
    Source: common practice; energy balance on dry wood as stove test standards define it (from memory).
    """
    require(wood_kg=wood_kg, wood_moisture_frac=wood_moisture_frac)
    require(dry_wood_j_per_kg=dry_wood_j_per_kg, efficiency_frac=efficiency_frac)
    return wood_kg * (1.0 - wood_moisture_frac) * dry_wood_j_per_kg * efficiency_frac


def stove_w(
    wood_kg: float, wood_moisture_frac: float, dry_wood_j_per_kg: float, efficiency_frac: float, burn_s: float
) -> float:
    """Mean heat output of a stove over one burn of the load.

    Raises: InputError outside the glossary.
    Source: `wood_heat_j` over the time of the burn.
    """
    require(burn_s=burn_s)
    return wood_heat_j(wood_kg, wood_moisture_frac, dry_wood_j_per_kg, efficiency_frac) / burn_s


def wood_kg_for_heat(
    heat_j: float, wood_moisture_frac: float, dry_wood_j_per_kg: float, efficiency_frac: float
) -> float:
    """Wet mass of wood that gives that heat to the house, kg: the inverse of `wood_heat_j`.

    Raises: InputError outside the glossary.
    Source: common practice; energy balance on dry wood (from memory).
    """
    require(heat_j=heat_j)
    return heat_j / wood_heat_j(1.0, wood_moisture_frac, dry_wood_j_per_kg, efficiency_frac)


def burner_duty_frac(heat_load_w: float, burner_output_w: float) -> float:
    """Share of the time a boiler or furnace fires: load over output, at most 1 (1: it cannot keep up).

    Raises: InputError outside the glossary.
    Source: steady heat balance.
    """
    require(heat_load_w=heat_load_w, burner_output_w=burner_output_w)
    return min(1.0, heat_load_w / burner_output_w)


def burner_current_w(
    heat_load_w: float, burner_output_w: float, firing_current_w: float, standing_current_w: float = 0.0
) -> float:
    """Mean electrical power of a fuel burner that covers a load: fans, pumps and controls.

    P = standing + duty firing. Without this current a burner gives no heat, whatever is in the tank.

    Raises: InputError outside the glossary.
    Source: steady balance.
    """
    require(firing_current_w=firing_current_w, standing_current_w=standing_current_w)
    return standing_current_w + burner_duty_frac(heat_load_w, burner_output_w) * firing_current_w

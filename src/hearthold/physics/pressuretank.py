"""Pressure tank with a captive air charge: water held at a pressure, and water left when the pump is dead.

Boyle's law on the air charge: (p_pre + p_atm) V = (p + p_atm) (V - w). The precharge is always an argument,
because printed tables often take it equal to cut-in while practice sets it 2 psi below.
"""

from __future__ import annotations

from hearthold.errors import InputError
from hearthold.physics.pump import fill_s
from hearthold.quantities.glossary import require

STANDARD_ATMOSPHERE_PA = 101325.0  # exact by definition (ISO 2533)
BELOW_CUT_IN_PA = 13789.514586336722  # 2 psi, the usual setting below cut-in


def water_kernel(vessel_m3: float, precharge_pa: float, gauge_pa: float, atmosphere_pa: float) -> float:
    """Water in the tank at a gauge pressure, m3; none at or below the precharge."""
    if gauge_pa <= precharge_pa:
        return 0.0
    return vessel_m3 * (1.0 - (precharge_pa + atmosphere_pa) / (gauge_pa + atmosphere_pa))


def pressure_kernel(vessel_m3: float, precharge_pa: float, water_m3: float, atmosphere_pa: float) -> float:
    """Gauge pressure with that much water in the tank, Pa; needs water_m3 below vessel_m3."""
    return (precharge_pa + atmosphere_pa) * vessel_m3 / (vessel_m3 - water_m3) - atmosphere_pa


def stored_water_m3(
    vessel_m3: float, precharge_pa: float, vessel_pa: float, atmosphere_pa: float = STANDARD_ATMOSPHERE_PA
) -> float:
    """Water held at a gauge pressure, which is also what runs out of the tap before the tank is empty.

    w = V (1 - (p_pre + p_atm)/(p + p_atm)), 0 at or below the precharge. Valid for slow (isothermal)
    change and a tank whose charge is known; a waterlogged tank holds less.

    Raises: InputError outside the glossary ranges.
    Source: Boyle's law; drawdown form as in well-trade articles (factor 0.30 at 30/50 psi, precharge 28).
    """
    require(vessel_m3=vessel_m3, precharge_pa=precharge_pa, vessel_pa=vessel_pa, atmosphere_pa=atmosphere_pa)
    return water_kernel(vessel_m3, precharge_pa, vessel_pa, atmosphere_pa)


def vessel_pressure_pa(
    vessel_m3: float,
    precharge_pa: float,
    vessel_water_m3: float,
    atmosphere_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Gauge pressure from the water held, the inverse of `stored_water_m3`.

    p = (p_pre + p_atm) V / (V - w) - p_atm.

    Raises: InputError if the water is not less than the tank, or outside the glossary ranges.
    Source: Boyle's law.
    """
    require(vessel_m3=vessel_m3, precharge_pa=precharge_pa, atmosphere_pa=atmosphere_pa)
    require(vessel_water_m3=vessel_water_m3)
    if vessel_water_m3 >= vessel_m3:
        raise InputError(
            f"vessel_water_m3 is {vessel_water_m3:g} m3 and must be below vessel_m3 ({vessel_m3:g} m3); "
            "the air charge needs room.",
            code="tank_overfull",
        )
    return pressure_kernel(vessel_m3, precharge_pa, vessel_water_m3, atmosphere_pa)


def usual_precharge_pa(cut_in_pa: float) -> float:
    """Precharge as the trade sets it, 2 psi below cut-in.

    Raises: InputError outside the glossary ranges.
    Source: common practice, no source (stated in several well-trade articles).
    """
    require(cut_in_pa=cut_in_pa)
    return max(0.0, cut_in_pa - BELOW_CUT_IN_PA)


def drawdown_m3(
    vessel_m3: float,
    cut_in_pa: float,
    cut_out_pa: float,
    precharge_pa: float,
    atmosphere_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Water given between pump stop and pump start.

    V (p_pre + p_atm) (1/(p_in + p_atm) - 1/(p_out + p_atm)); a precharge above cut-in empties the tank
    before the pump starts, and then only what was held counts.

    Raises: InputError if cut-out is not above cut-in, or outside the glossary ranges.
    Source: Boyle's law; well-trade tables, for example 119 gal at 30/50 psi gives 36.8 gal (precharge 30).
    """
    _require_band(cut_in_pa, cut_out_pa)
    full_m3 = stored_water_m3(vessel_m3, precharge_pa, cut_out_pa, atmosphere_pa)
    return full_m3 - stored_water_m3(vessel_m3, precharge_pa, cut_in_pa, atmosphere_pa)


def water_above_m3(
    vessel_m3: float,
    precharge_pa: float,
    vessel_pa: float,
    outlet_pa: float = 0.0,
    atmosphere_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Water still to be had before the pressure falls to `outlet_pa`; the whole store at 0.

    Give cut-in for the water until the pump is called, or the height of the highest tap as pressure for
    the water that still reaches it.

    Raises: InputError outside the glossary ranges.
    Source: Boyle's law.
    """
    require(outlet_pa=outlet_pa)
    held_m3 = stored_water_m3(vessel_m3, precharge_pa, vessel_pa, atmosphere_pa)
    kept_m3 = stored_water_m3(vessel_m3, precharge_pa, outlet_pa, atmosphere_pa)
    return max(0.0, held_m3 - kept_m3)


def vessel_for_drawdown_m3(
    wanted_drawdown_m3: float,
    cut_in_pa: float,
    cut_out_pa: float,
    precharge_pa: float,
    atmosphere_pa: float = STANDARD_ATMOSPHERE_PA,
) -> float:
    """Whole tank volume that gives a wanted drawdown; the inverse of `drawdown_m3`.

    Raises: InputError if cut-out is not above cut-in or not above the precharge, or outside the ranges.
    Source: Boyle's law.
    """
    require(wanted_drawdown_m3=wanted_drawdown_m3)
    per_m3 = drawdown_m3(1.0, cut_in_pa, cut_out_pa, precharge_pa, atmosphere_pa)
    if per_m3 <= 0.0:
        raise InputError(
            f"precharge_pa is {precharge_pa:g} Pa and must be below cut_out_pa ({cut_out_pa:g} Pa); "
            "no tank gives water above its stop pressure.",
            code="precharge",
        )
    return wanted_drawdown_m3 / per_m3


def shortest_run_s(cycle_m3: float, pump_m3_per_s: float) -> float:
    """Run of the pump that refills the drawdown with every tap shut; trade practice asks for 60 s or more.

    Raises: InputError outside the glossary ranges.
    Source: volume balance; one minute of run a cycle is common practice, no source.
    """
    require(cycle_m3=cycle_m3)
    return fill_s(cycle_m3, pump_m3_per_s)


def cycles_per_day(daily_use_m3: float, cycle_m3: float, draw_share_frac: float = 0.0) -> float:
    """Pump starts for a day's use drawn at one rate: use (1 - q/p) / V.

    `draw_share_frac` is q/p, the rate at the tap over the pump's flow: water that runs while the pump runs
    does not come out of the tank. At 0 (a trickle) it is the most starts.

    Raises: InputError outside the glossary ranges.
    Source: volume balance of a cycle.
    """
    require(daily_use_m3=daily_use_m3, cycle_m3=cycle_m3, draw_share_frac=draw_share_frac)
    return daily_use_m3 * (1.0 - draw_share_frac) / cycle_m3


def _require_band(cut_in_pa: float, cut_out_pa: float) -> None:
    require(cut_in_pa=cut_in_pa, cut_out_pa=cut_out_pa)
    if cut_out_pa <= cut_in_pa:
        raise InputError(
            f"cut_out_pa is {cut_out_pa:g} Pa and must be above cut_in_pa ({cut_in_pa:g} Pa); "
            "read both from the pressure switch.",
            code="pressure_band",
        )

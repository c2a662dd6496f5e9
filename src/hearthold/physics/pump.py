"""Water pumps: head, power, flow on a curve, filling, cycling, and what the well allows.

Cycling is one formula for a pressure tank that is drawn down and for a pit that fills up, so it lives here.
"""

from __future__ import annotations

from math import inf, pi, sqrt

from hearthold.errors import InputError
from hearthold.quantities.glossary import require

GRAVITY_M_PER_S2 = 9.80665  # standard gravity, exact by definition (BIPM SI Brochure)
WATER_DENSITY_KG_PER_M3 = 999.7  # at 10 degC, the temperature of well water (NIST, from memory)


def water_power_kernel(flow_m3_per_s: float, head_m: float, density_kg_per_m3: float) -> float:
    """Hydraulic power, W."""
    return density_kg_per_m3 * GRAVITY_M_PER_S2 * flow_m3_per_s * head_m


def flow_on_curve_kernel(
    static_head_m: float, shutoff_head_m: float, curve_m_per_flow2: float, friction_m_per_flow2: float
) -> float:
    """Flow where H0 - k Q^2 meets Hs + r Q^2, m3/s; nothing flows above the shut-off head."""
    spare_m = shutoff_head_m - static_head_m
    if spare_m <= 0.0:
        return 0.0
    return sqrt(spare_m / (curve_m_per_flow2 + friction_m_per_flow2))


def starts_per_s_kernel(cycle_m3: float, draw_m3_per_s: float, pump_m3_per_s: float) -> float:
    """Starts a second at a steady draw below the pump's flow: q (p - q) / (V p)."""
    return draw_m3_per_s * (pump_m3_per_s - draw_m3_per_s) / (cycle_m3 * pump_m3_per_s)


def pressure_head_m(gauge_pa: float, water_density_kg_per_m3: float = WATER_DENSITY_KG_PER_M3) -> float:
    """Height of water that a gauge pressure stands for: p / (rho g).

    Valid for any liquid of the density given; 1 psi is about 0.703 m (2.31 ft) of water.

    Raises: InputError outside the glossary ranges.
    Source: hydrostatic identity; any fluid mechanics text.
    """
    require(gauge_pa=gauge_pa, water_density_kg_per_m3=water_density_kg_per_m3)
    return gauge_pa / (water_density_kg_per_m3 * GRAVITY_M_PER_S2)


def total_dynamic_head_m(lift_m: float, gauge_pa: float, friction_head_m: float = 0.0) -> float:
    """Total dynamic head: lift + delivery pressure as head + friction.

    Lift counts from the *pumping* water level, which stands lower than the level at rest.

    Raises: InputError outside the glossary ranges.
    Source: TDH = lift + 2.31 psi + friction in feet, trade form of the energy equation (from memory).
    """
    require(lift_m=lift_m, gauge_pa=gauge_pa, friction_head_m=friction_head_m)
    return lift_m + pressure_head_m(gauge_pa) + friction_head_m


def hydraulic_power_w(
    flow_m3_per_s: float, head_m: float, water_density_kg_per_m3: float = WATER_DENSITY_KG_PER_M3
) -> float:
    """Power in the water: P = rho g Q H.

    Raises: InputError outside the glossary ranges.
    Source: hydraulic identity; in trade units hp = gpm x ft / 3960.
    """
    require(flow_m3_per_s=flow_m3_per_s, head_m=head_m, water_density_kg_per_m3=water_density_kg_per_m3)
    return water_power_kernel(flow_m3_per_s, head_m, water_density_kg_per_m3)


def electrical_power_w(flow_m3_per_s: float, head_m: float, wire_to_water_frac: float) -> float:
    """Electrical power of pump and motor: rho g Q H / eta.

    `wire_to_water_frac` covers pump, motor and cable together; a wrong guess of it is the main error.

    Raises: InputError outside the glossary ranges.
    Source: hydraulic identity; the efficiency is an argument.
    """
    require(wire_to_water_frac=wire_to_water_frac)
    return hydraulic_power_w(flow_m3_per_s, head_m) / wire_to_water_frac


def energy_per_volume_j_per_m3(head_m: float, wire_to_water_frac: float) -> float:
    """Electrical energy for each cubic metre pumped: rho g H / eta.

    Raises: InputError outside the glossary ranges.
    Source: hydraulic identity.
    """
    require(head_m=head_m, wire_to_water_frac=wire_to_water_frac)
    return WATER_DENSITY_KG_PER_M3 * GRAVITY_M_PER_S2 * head_m / wire_to_water_frac


def flow_at_head_m3_per_s(
    static_head_m: float,
    shutoff_head_m: float,
    rated_head_m: float,
    rated_m3_per_s: float,
    friction_at_rated_m: float = 0.0,
) -> float:
    """Flow a centrifugal pump delivers against a static head, from two points of its curve.

    Pump H0 - (H0 - Hr) (Q/Qr)^2 meets system Hs + hf (Q/Qr)^2. Zero above the shut-off head.
    Valid as an estimate between no flow and about 1.2 times the rated flow; a real curve is flatter near
    no flow. Not for piston or helical-rotor pumps, whose flow hardly falls with head.

    Raises: InputError if the rated head is not below the shut-off head, or outside the glossary ranges.
    Source: parabolic pump curve against a turbulent system curve, common practice, no source.
    """
    require(static_head_m=static_head_m, shutoff_head_m=shutoff_head_m, rated_head_m=rated_head_m)
    require(rated_m3_per_s=rated_m3_per_s, friction_at_rated_m=friction_at_rated_m)
    if rated_head_m >= shutoff_head_m:
        raise InputError(
            f"rated_head_m is {rated_head_m:g} m and must be below shutoff_head_m ({shutoff_head_m:g} m); "
            "read both from the same pump curve.",
            code="pump_curve",
        )
    square = rated_m3_per_s**2
    curve, friction = (shutoff_head_m - rated_head_m) / square, friction_at_rated_m / square
    return flow_on_curve_kernel(static_head_m, shutoff_head_m, curve, friction)


def hazen_williams_head_m(
    flow_m3_per_s: float, pipe_run_m: float, pipe_inside_m: float, pipe_smoothness: float = 140.0
) -> float:
    """Head lost in a full water pipe: h = 10.67 L Q^1.852 / (C^1.852 D^4.8704).

    Valid for water at 5 to 25 degC, turbulent flow, pipes above about 15 mm; fittings go into the length.

    Raises: InputError outside the glossary ranges.
    Source: Hazen and Williams, Hydraulic Tables, 1905; SI constant 10.67 from memory.
    """
    require(flow_m3_per_s=flow_m3_per_s, pipe_run_m=pipe_run_m)
    require(pipe_inside_m=pipe_inside_m, pipe_smoothness=pipe_smoothness)
    per_m: float = 10.67 * (flow_m3_per_s / pipe_smoothness) ** 1.852 / pipe_inside_m**4.8704
    return per_m * pipe_run_m


def fill_s(fill_m3: float, pump_m3_per_s: float, draw_m3_per_s: float = 0.0) -> float:
    """Time to fill a volume while some is drawn: V / (p - q); infinite when the draw takes all.

    Raises: InputError outside the glossary ranges.
    Source: volume balance.
    """
    require(fill_m3=fill_m3, pump_m3_per_s=pump_m3_per_s, draw_m3_per_s=draw_m3_per_s)
    spare_m3_per_s = pump_m3_per_s - draw_m3_per_s
    if fill_m3 == 0.0:
        return 0.0
    return fill_m3 / spare_m3_per_s if spare_m3_per_s > 0.0 else inf


def starts_per_day(cycle_m3: float, draw_m3_per_s: float, pump_m3_per_s: float) -> float:
    """Pump starts in 24 h of one steady draw (or inflow): 86400 q (p - q) / (V p).

    Highest at q = p/2, where it is 86400 p / (4 V). Zero when the draw keeps the pump running without end.

    Raises: InputError outside the glossary ranges.
    Source: cycle time V/q + V/(p - q); wet-well rule V = p t / 4 of pumping-station practice (from memory).
    """
    require(cycle_m3=cycle_m3, draw_m3_per_s=draw_m3_per_s, pump_m3_per_s=pump_m3_per_s)
    if draw_m3_per_s >= pump_m3_per_s:
        return 0.0
    return 86400.0 * starts_per_s_kernel(cycle_m3, draw_m3_per_s, pump_m3_per_s)


def casing_storage_m3(casing_inside_m: float, water_column_m: float) -> float:
    """Water standing in a round casing: pi/4 D^2 h; a 6 in casing holds about 1.5 gal a foot.

    Raises: InputError outside the glossary ranges.
    Source: geometry.
    """
    require(casing_inside_m=casing_inside_m, water_column_m=water_column_m)
    return pi / 4.0 * casing_inside_m**2 * water_column_m


def longest_pumping_s(standing_water_m3: float, well_yield_m3_per_s: float, pump_m3_per_s: float) -> float:
    """Time until the pump has drawn the well down to its lowest level; infinite if the well keeps up.

    t = S / (p - y). The yield is taken as constant, which is careful while the level is still high only if
    it was measured at the low level.

    Raises: InputError outside the glossary ranges.
    Source: volume balance of the well.
    """
    require(standing_water_m3=standing_water_m3, well_yield_m3_per_s=well_yield_m3_per_s)
    require(pump_m3_per_s=pump_m3_per_s)
    net_m3_per_s = pump_m3_per_s - well_yield_m3_per_s
    return standing_water_m3 / net_m3_per_s if net_m3_per_s > 0.0 else inf


def pumped_m3(
    standing_water_m3: float, well_yield_m3_per_s: float, pump_m3_per_s: float, duration_s: float
) -> float:
    """Most water a spell can draw from the well: the lesser of p t and S + y t.

    Raises: InputError outside the glossary ranges.
    Source: volume balance of the well.
    """
    require(standing_water_m3=standing_water_m3, well_yield_m3_per_s=well_yield_m3_per_s)
    require(pump_m3_per_s=pump_m3_per_s, duration_s=duration_s)
    return min(pump_m3_per_s * duration_s, standing_water_m3 + well_yield_m3_per_s * duration_s)


def recovery_s(standing_water_m3: float, well_yield_m3_per_s: float) -> float:
    """Rest the well needs to stand full again after it was drawn down: S / y; infinite if it gives nothing.

    Raises: InputError outside the glossary ranges.
    Source: volume balance of the well.
    """
    require(standing_water_m3=standing_water_m3, well_yield_m3_per_s=well_yield_m3_per_s)
    if standing_water_m3 == 0.0:
        return 0.0
    return standing_water_m3 / well_yield_m3_per_s if well_yield_m3_per_s > 0.0 else inf

"""Bridges to water, engines, gas pipe and propane in the units of the trade."""

from hearthold.physics import gaspipe, pit, pressuretank, propane, pump, willans
from hearthold.quantities.units import convert, si


def drawdown_gal(tank_gal, cut_in_psi, cut_out_psi, precharge_psi):
    found_m3 = pressuretank.drawdown_m3(
        si(tank_gal, "gal", "volume"),
        si(cut_in_psi, "psi", "pressure"),
        si(cut_out_psi, "psi", "pressure"),
        si(precharge_psi, "psi", "pressure"),
    )
    return convert(found_m3, "m3", "gal", "volume")


def head_of_pressure_ft(psi):
    return convert(pump.pressure_head_m(si(psi, "psi", "pressure")), "m", "ft", "length")


def water_hp(gpm, head_ft):
    found_w = pump.hydraulic_power_w(si(gpm, "gpm", "flow"), si(head_ft, "ft", "length"))
    return convert(found_w, "W", "hp", "power")


def lift_energy_kwh_per_acre_ft(head_ft):
    """An acre-foot is 43 560 ft3."""
    per_m3 = pump.energy_per_volume_j_per_m3(si(head_ft, "ft", "length"), 1.0)
    return convert(per_m3 * 43560.0 * si(1.0, "ft3", "volume"), "J", "kWh", "energy")


def friction_ft_per_100_ft(gpm, inside_in, smoothness):
    found_m = pump.hazen_williams_head_m(
        si(gpm, "gpm", "flow"), si(100.0, "ft", "length"), si(inside_in, "in", "length"), smoothness
    )
    return convert(found_m, "m", "ft", "length")


def casing_gal(inside_in, column_ft):
    found_m3 = pump.casing_storage_m3(si(inside_in, "in", "length"), si(column_ft, "ft", "length"))
    return convert(found_m3, "m3", "gal", "volume")


def cycle_minutes_at_half_flow(volume_gal, pump_gpm):
    volume_m3, flow = si(volume_gal, "gal", "volume"), si(pump_gpm, "gpm", "flow")
    return 1440.0 / pump.starts_per_day(volume_m3, flow / 2.0, flow)


def pit_gal_per_in(inside_in):
    area_m2 = pit.round_area_m2(si(inside_in, "in", "length"))
    per_in_m3 = pit.volume_between_m3(area_m2, 0.2 + si(1.0, "in", "length"), 0.2)
    return convert(per_in_m3, "m3", "gal", "volume")


def diesel_between_ends_gal_per_h(rated_kw, quarter_gal_per_h, full_gal_per_h):
    """Half and three-quarter load from a line through quarter and full load (the heating value cancels)."""
    per_gal_j = 1.36e8
    ends_w = [rated_kw * 250.0, rated_kw * 1000.0]
    burned_w = [quarter_gal_per_h * per_gal_j / 3600.0, full_gal_per_h * per_gal_j / 3600.0]
    line = willans.line_from_points(ends_w, burned_w)
    return [willans.fuel_power_w(line, rated_kw * x) * 3600.0 / per_gal_j for x in (500.0, 750.0)]


def set_gal_per_h(rated_kw, full_load_frac, no_load_frac, load_frac, lhv_kwh_per_gal):
    line = willans.line_from_efficiency(rated_kw * 1000.0, full_load_frac, no_load_frac)
    lhv_j_per_m3 = si(lhv_kwh_per_gal, "kWh", "energy") / si(1.0, "gal", "volume")
    found = willans.fuel_m3_per_s(line, rated_kw * 1000.0 * load_frac, lhv_j_per_m3)
    return convert(found, "m3/s", "gal/h", "flow")


def claimed_efficiency(tank_gal, run_h, output_kw, lhv_kwh_per_gal):
    lhv_j_per_m3 = si(lhv_kwh_per_gal, "kWh", "energy") / si(1.0, "gal", "volume")
    found = willans.claim(si(tank_gal, "gal", "volume"), run_h * 3600.0, output_kw * 1000.0, lhv_j_per_m3)
    return found.efficiency_frac


def two_point_set(idle_gal_per_h, per_kwh_gal, output_kw, lhv_kwh_per_gal):
    """Efficiency at a load, and idle fuel over the fuel at that load, from a measured line."""
    per_gal_j = si(lhv_kwh_per_gal, "kWh", "energy")
    line = willans.WillansLine(idle_gal_per_h * per_gal_j / 3600.0, per_kwh_gal * lhv_kwh_per_gal)
    output_w = output_kw * 1000.0
    return [willans.line_efficiency_frac(line, output_w), willans.no_load_share_frac(line, output_w)]


def gas_pipe_cfh(inside_in, run_ft, drop_in_wc, gas_factor):
    sizes = inside_in if isinstance(inside_in, list) else [inside_in]
    found = [
        convert(
            gaspipe.code_flow_m3_per_s(
                si(x, "in", "length"),
                si(run_ft, "ft", "length"),
                si(drop_in_wc, "in w.c.", "pressure"),
                gas_factor,
            ),
            "m3/s",
            "ft3/h",
            "flow",
        )
        for x in sizes
    ]
    return found if isinstance(inside_in, list) else found[0]


def propane_pipe_kbtu_per_h(inside_in, run_ft, btu_per_ft3):
    return [x * btu_per_ft3 / 1000.0 for x in gas_pipe_cfh(inside_in, run_ft, 0.5, 1.2462)]


def smallest_gas_pipe_in(inside_in, run_ft, flow_cfh):
    index = gaspipe.smallest_pipe(
        [si(x, "in", "length") for x in inside_in],
        si(run_ft, "ft", "length"),
        si(0.5, "in w.c.", "pressure"),
        si(flow_cfh, "ft3/h", "flow"),
        0.6094,
    )
    return inside_in[index]


def propane_tank_btu_per_h(diameter_in, length_in, fill_factor, outdoor_f):
    """One unit of the printed factor is 1 Btu/(h in2) at 20 degF above the floor."""
    factor = (
        fill_factor
        * si(1.0, "Btu/h", "power")
        / (si(1.0, "in", "length") ** 2 * si(20.0, "F", "temperature_difference"))
    )
    found_w = propane.tank_vapor_w(
        si(diameter_in, "in", "length"),
        si(length_in, "in", "length"),
        factor,
        si(outdoor_f, "F", "temperature"),
    )
    return convert(found_w, "W", "Btu/h", "power")


def cylinder_btu_per_h(propane_lb, outdoor_f, floor_f):
    found_w = propane.cylinder_vapor_w(
        si(propane_lb, "lb", "mass"),
        si(outdoor_f, "F", "temperature"),
        192.44,
        25.418,
        si(floor_f, "F", "temperature"),
    )
    return convert(found_w, "W", "Btu/h", "power")


def propane_boiling_f(absolute_psi):
    return convert(propane.saturation_c(si(absolute_psi, "psi", "pressure")), "C", "F", "temperature")


def propane_pressure_psia(propane_f):
    found_pa = propane.vapor_pressure_pa(si(propane_f, "F", "temperature"))
    return convert(found_pa, "Pa", "psi", "pressure")

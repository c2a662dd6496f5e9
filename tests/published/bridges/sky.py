"""Bridges to battery, sun, weather and outage indices."""

from math import exp

from hearthold.physics import battery, sun, weather
from hearthold.quantities.units import convert, si


def battery_hours(capacity_kwh, load_kw, discharge_frac, idle_w):
    rate_w = battery.store_rate_w(load_kw * 1000.0, 0.0, idle_w, discharge_frac, 1.0)
    full_j = si(capacity_kwh, "kWh", "energy")
    return battery.time_to_empty_s(full_j, rate_w, full_j) / 3600.0


def cold_battery_share(cell_c):
    return battery.usable_capacity_j(3.6e6, 1.0, cell_c) / 3.6e6


def sun_above_air_mj_per_m2(latitude_deg, day_of_year):
    return sun.extraterrestrial_j_per_m2(latitude_deg, day_of_year) / 1e6


def daylight_h(latitude_deg, day_of_year, horizon_deg):
    return sun.day_length_s(latitude_deg, day_of_year, horizon_deg) / 3600.0


def equation_of_time_min(day_of_year):
    return sun.equation_of_time_s(day_of_year) / 60.0


def zenith_deg(latitude_deg, declination_deg, hour_angle_deg):
    return 90.0 - sun.elevation_deg(latitude_deg, declination_deg, hour_angle_deg)


def panel_mj_per_m2(latitude_deg, tilt_deg, month_number, level_mj_per_m2, reflectance):
    clear = sun.clearness(latitude_deg, month_number, level_mj_per_m2 * 1e6)
    return sun.plane_of_panel_j_per_m2(latitude_deg, tilt_deg, month_number, clear, reflectance) / 1e6


def heating_degree_days_f(daily_mean_f):
    means_c = [si(x, "F", "temperature") for x in daily_mean_f]
    return weather.heating_degree_days_k(means_c, si(65.0, "F", "temperature")) * 1.8


def cooling_degree_days_f(daily_mean_f):
    means_c = [si(x, "F", "temperature") for x in daily_mean_f]
    return weather.cooling_degree_days_k(means_c, si(65.0, "F", "temperature")) * 1.8


def eia_caidi_min(year, with_major):
    """Mean length of an outage of the streams that are made of a year's national SAIDI and SAIFI."""
    from hearthold.reference.outages import national_indices, outage_model
    from hearthold.study.fromindices import from_both

    made = from_both(national_indices(year), outage_model("us_average"))
    streams = made.streams if with_major else (made.routine,)
    rate = sum(s.usual_per_year for s in streams)
    lost_s = sum(s.usual_per_year * float(s.median_s[0]) * exp(float(s.sigma[0]) ** 2 / 2.0) for s in streams)
    return convert(lost_s / rate, "s", "min", "time")

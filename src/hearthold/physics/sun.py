"""Where the sun stands, how long the day is, and what a sloped panel gets from a month's mean sun.

Angles at the edge are degrees; scalars and arrays both work. The monthly way needs only latitude, slope and
the clearness of the month (or the sun on the level ground): it describes a mean day, not the dark days of a
storm, on which a tenth to a third of it is all to count on (from memory).
"""

from __future__ import annotations

from math import pi

import numpy as np
from numpy.typing import NDArray

from hearthold.physics.values import Values
from hearthold.quantities.glossary import require

SOLAR_CONSTANT_W_PER_M2 = 1361.0  # total solar irradiance, Kopp and Lean 2011 (Duffie and Beckman use 1367)
STANDARD_SUN_W_PER_M2 = 1000.0
SUNRISE_HORIZON_DEG = -0.833  # refraction and half the disc, NOAA
# day of each month whose extraterrestrial sun is nearest the month's mean (Klein 1977)
MEAN_DAY_OF_MONTH = (17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344)


def declination_deg(day_of_year: Values) -> Values:
    """Angle of the sun north of the equator, by Spencer's series in the day angle.

    Fractions of a day are allowed. Within 0.035 deg of his tables, and within 0.3 deg in any one year
    because of leap years.

    Raises: InputError outside the glossary ranges.
    Source: Spencer, Search 2, 1971; coefficients as in Iqbal, An Introduction to Solar Radiation, 1983, eq.
    1.3.1.
    """
    require(day_of_year=day_of_year)
    a = _day_angle(day_of_year)
    series = 0.006918 - 0.399912 * np.cos(a) + 0.070257 * np.sin(a) - 0.006758 * np.cos(2 * a)
    series += 0.000907 * np.sin(2 * a) - 0.002697 * np.cos(3 * a) + 0.00148 * np.sin(3 * a)
    return _plain(np.degrees(series))


def equation_of_time_s(day_of_year: Values) -> Values:
    """Solar time less mean time, by Spencer's series; within about 35 s.

    Raises: InputError outside the glossary ranges.
    Source: Spencer, Search 2, 1971; first and last coefficient as in his original, not as often reprinted.
    """
    require(day_of_year=day_of_year)
    a = _day_angle(day_of_year)
    series = 0.0000075 + 0.001868 * np.cos(a) - 0.032077 * np.sin(a)
    series += -0.014615 * np.cos(2 * a) - 0.040849 * np.sin(2 * a)
    return _plain(series * 43200.0 / pi)  # radians of hour angle to seconds


def distance_factor(day_of_year: Values) -> Values:
    """Sun above the air over its yearly mean, (r0/r)^2, by Spencer's series; within 0.0001.

    Raises: InputError outside the glossary ranges.
    Source: Spencer, Search 2, 1971; Iqbal 1983, eq. 1.2.1.
    """
    require(day_of_year=day_of_year)
    a = _day_angle(day_of_year)
    series = 1.00011 + 0.034221 * np.cos(a) + 0.00128 * np.sin(a)
    return _plain(series + 0.000719 * np.cos(2 * a) + 0.000077 * np.sin(2 * a))


def solar_hour_angle_deg(day_of_year: Values, utc_hour: Values, longitude_deg: float) -> Values:
    """Turn of the earth since solar noon, -180 to 180 deg, afternoon positive.

    Raises: InputError outside the glossary ranges.
    Source: 15 deg an hour, 4 minutes of time a degree of longitude; Iqbal 1983, section 1.4.
    """
    require(utc_hour=utc_hour, longitude_deg=longitude_deg)
    hours = np.asarray(utc_hour) + np.asarray(equation_of_time_s(day_of_year)) / 3600.0
    turned = 15.0 * (hours - 12.0) + longitude_deg
    return _plain((turned + 180.0) % 360.0 - 180.0)


def elevation_deg(latitude_deg: float, declination_deg: Values, hour_angle_deg: Values) -> Values:
    """Height of the sun's centre above the horizon, without refraction.

    sin(h) = sin(lat) sin(dec) + cos(lat) cos(dec) cos(w). Refraction lifts a low sun by up to half a degree.

    Raises: InputError outside the glossary ranges.
    Source: Duffie and Beckman, Solar Engineering of Thermal Processes, eq. 1.6.5.
    """
    require(latitude_deg=latitude_deg, declination_deg=declination_deg, hour_angle_deg=hour_angle_deg)
    lat, dec, turn = np.radians(latitude_deg), np.radians(declination_deg), np.radians(hour_angle_deg)
    sine = np.sin(lat) * np.sin(dec) + np.cos(lat) * np.cos(dec) * np.cos(turn)
    return _plain(np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0))))


def azimuth_deg(latitude_deg: float, declination_deg: Values, hour_angle_deg: Values) -> Values:
    """Bearing of the sun, degrees clockwise from north (0 to 360); at the zenith it has no meaning.

    Raises: InputError outside the glossary ranges.
    Source: spherical trigonometry; Duffie and Beckman, section 1.6.
    """
    require(latitude_deg=latitude_deg, declination_deg=declination_deg, hour_angle_deg=hour_angle_deg)
    lat, dec, turn = np.radians(latitude_deg), np.radians(declination_deg), np.radians(hour_angle_deg)
    east = -np.cos(dec) * np.sin(turn)
    north = np.cos(lat) * np.sin(dec) - np.sin(lat) * np.cos(dec) * np.cos(turn)
    return _plain(np.degrees(np.arctan2(east, north)) % 360.0)


def sunset_hour_angle_deg(latitude_deg: float, declination_deg: Values, horizon_deg: float = 0.0) -> Values:
    """Hour angle at which the sun's centre stands at `horizon_deg`; 0 in polar night, 180 in polar day.

    cos(ws) = (sin(h) - sin(lat) sin(dec)) / (cos(lat) cos(dec)).

    Raises: InputError outside the glossary ranges.
    Source: Duffie and Beckman, eq. 1.6.10, with a horizon height as NOAA uses.
    """
    require(latitude_deg=latitude_deg, declination_deg=declination_deg, horizon_deg=horizon_deg)
    lat, dec = np.radians(latitude_deg), np.radians(declination_deg)
    across = np.maximum(np.cos(lat) * np.cos(dec), 1e-12)  # the poles: all day or all night
    cosine = (np.sin(np.radians(horizon_deg)) - np.sin(lat) * np.sin(dec)) / across
    return _plain(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))))


def day_length_s(
    latitude_deg: float, day_of_year: Values, horizon_deg: float = SUNRISE_HORIZON_DEG
) -> Values:
    """Time from sunrise to sunset, with refraction and the disc unless `horizon_deg` says otherwise.

    Within about two minutes of an almanac below 60 deg of latitude; hills are not in it.

    Raises: InputError outside the glossary ranges.
    Source: see `sunset_hour_angle_deg`.
    """
    half_deg = sunset_hour_angle_deg(latitude_deg, declination_deg(day_of_year), horizon_deg)
    return half_deg * 480.0  # 2 x 240 s a degree


def extraterrestrial_j_per_m2(latitude_deg: float, day_of_year: Values) -> Values:
    """Sun above the air on a level square metre in a day.

    H0 = 86400/pi Gsc E0 (cos(lat) cos(dec) sin(ws) + ws sin(lat) sin(dec)).

    Raises: InputError outside the glossary ranges.
    Source: Duffie and Beckman, eq. 1.10.3.
    """
    dec_deg = declination_deg(day_of_year)
    sunset = np.radians(sunset_hour_angle_deg(latitude_deg, dec_deg))
    lat, dec = np.radians(latitude_deg), np.radians(dec_deg)
    share = np.cos(lat) * np.cos(dec) * np.sin(sunset) + sunset * np.sin(lat) * np.sin(dec)
    scale = 86400.0 / pi * SOLAR_CONSTANT_W_PER_M2
    return _plain(np.maximum(0.0, scale * np.asarray(distance_factor(day_of_year)) * share))


def monthly_diffuse_frac(clearness_frac: Values, sunset_deg: Values) -> Values:
    """Sky light over all light in a month's mean day, from its clearness.

    Two curves, one for winter (sunset hour angle up to 81.4 deg) and one for the rest of the year.

    `sunset_deg` is the sunset hour angle of the mean day. Valid for clearness 0.3 to 0.8 (held at the ends).

    Raises: InputError outside the glossary ranges.
    Source: Erbs, Klein and Duffie, Solar Energy 28, 1982; Duffie and Beckman, eq. 2.12.1 (from memory).
    """
    require(clearness_frac=clearness_frac, sunset_deg=sunset_deg)
    k = np.clip(np.asarray(clearness_frac, dtype=float), 0.3, 0.8)
    winter = 1.391 - 3.560 * k + 4.189 * k**2 - 2.137 * k**3
    other = 1.311 - 3.022 * k + 3.427 * k**2 - 1.821 * k**3
    return _plain(np.where(np.asarray(sunset_deg) <= 81.4, winter, other))


def beam_ratio(latitude_deg: float, tilt_deg: float, declination_deg: Values) -> Values:
    """Direct sun on a panel facing the equator over that on the level, for a month's mean day (Rb).

    Both day integrals run over the hours when the sun is up *and* in front of the panel. Levels off at 20
    where the sun hardly rises, because the ratio of two small numbers says nothing.

    Raises: InputError outside the glossary ranges.
    Source: Liu and Jordan 1962, Klein 1977; Duffie and Beckman, eq. 2.19.3.
    """
    require(latitude_deg=latitude_deg, tilt_deg=tilt_deg, declination_deg=declination_deg)
    north = latitude_deg >= 0.0
    leaning_deg = latitude_deg - tilt_deg if north else latitude_deg + tilt_deg
    sunset_deg = sunset_hour_angle_deg(latitude_deg, declination_deg)
    behind_deg = sunset_hour_angle_deg(leaning_deg, declination_deg)
    level = _day_integral(latitude_deg, declination_deg, np.asarray(sunset_deg))
    panel = _day_integral(leaning_deg, declination_deg, np.minimum(sunset_deg, behind_deg))
    ratio = panel / np.maximum(level, 1e-9)
    return _plain(np.clip(ratio, 0.0, 20.0))


def plane_of_panel_j_per_m2(
    latitude_deg: float,
    tilt_deg: float,
    month_number: Values,
    clearness_frac: Values,
    ground_reflectance_frac: float = 0.2,
) -> Values:
    """Sun on a panel facing the equator on a month's mean day.

    Direct x Rb + sky (1 + cos s)/2 + all light x reflectance (1 - cos s)/2. Isotropic sky: a few per cent
    low against measured slopes. For panels within about 30 deg of the equator's side; others get less.

    Raises: InputError outside the glossary ranges.
    Source: Liu and Jordan 1962 as extended by Klein, Solar Energy 19, 1977; Duffie and Beckman, eq. 2.19.1.
    """
    require(month_number=month_number, clearness_frac=clearness_frac)
    require(ground_reflectance_frac=ground_reflectance_frac)
    mean_day = mean_day_of_month(month_number)
    dec_deg = declination_deg(mean_day)
    level = np.asarray(extraterrestrial_j_per_m2(latitude_deg, mean_day)) * np.asarray(clearness_frac)
    sky = np.asarray(monthly_diffuse_frac(clearness_frac, sunset_hour_angle_deg(latitude_deg, dec_deg)))
    slope = np.cos(np.radians(tilt_deg))
    direct = (1.0 - sky) * np.asarray(beam_ratio(latitude_deg, tilt_deg, dec_deg))
    ground = ground_reflectance_frac * (1.0 - slope) / 2.0
    return _plain(level * (direct + sky * (1.0 + slope) / 2.0 + ground))


def mean_day_of_month(month_number: Values) -> Values:
    """Day of the year that stands for a month in the monthly way (17 January, 16 February, ...).

    Raises: InputError outside the glossary ranges.
    Source: Klein, Solar Energy 19, 1977; Duffie and Beckman, table 1.6.1.
    """
    require(month_number=month_number)
    index = np.asarray(month_number, dtype=int) - 1
    return _plain(np.asarray(MEAN_DAY_OF_MONTH, dtype=float)[index])


def clearness(latitude_deg: float, month_number: Values, level_j_per_m2: Values) -> Values:
    """Clearness of a month from the sun measured on the level ground: H / H0; 0 in polar night.

    Raises: InputError outside the glossary ranges.
    Source: definition; Duffie and Beckman, eq. 2.9.1.
    """
    require(level_j_per_m2=level_j_per_m2)
    above = np.asarray(extraterrestrial_j_per_m2(latitude_deg, mean_day_of_month(month_number)))
    return _plain(np.where(above > 1e4, np.asarray(level_j_per_m2) / np.maximum(above, 1e4), 0.0))


def panel_energy_j(panel_peak_w: float, plane_j_per_m2: Values, performance_frac: float) -> Values:
    """Energy from panels in a day: rated power x sun hours x performance ratio.

    The ratio covers heat, wiring, inverter and dirt, 0.75 to 0.86 without snow; with snow on them panels give
    nothing. Valid only while load or battery can take the power.

    Raises: InputError outside the glossary ranges.
    Source: definition of the performance ratio, IEC 61724-1.
    """
    require(panel_peak_w=panel_peak_w, plane_j_per_m2=plane_j_per_m2, performance_frac=performance_frac)
    return panel_peak_w * performance_frac * plane_j_per_m2 / STANDARD_SUN_W_PER_M2


def _day_angle(day_of_year: Values) -> NDArray[np.float64]:
    return np.asarray(2.0 * pi * (np.asarray(day_of_year, dtype=float) - 1.0) / 365.0)


def _day_integral(
    latitude_deg: float, dec_deg: Values, until_deg: Values | NDArray[np.float64]
) -> NDArray[np.float64]:
    """Integral of the sine of the sun's height from noon to an hour angle, radians."""
    lat, dec, turn = np.radians(latitude_deg), np.radians(dec_deg), np.radians(until_deg)
    found = np.cos(lat) * np.cos(dec) * np.sin(turn) + turn * np.sin(lat) * np.sin(dec)
    return np.asarray(found)


def _plain(found: NDArray[np.float64] | np.float64) -> Values:
    """A float for a scalar, the array otherwise."""
    return float(found) if np.ndim(found) == 0 else np.asarray(found)

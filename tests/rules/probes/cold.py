"""Warmth and pipes, both ways."""

from tests.rules.houses import CALM, changed, item, probe

NO_STOVE = changed(CALM, heat={"stove_output_w": 0.0})
NO_HEAT = item(NO_STOVE, "circuits", "boiler", panel="main")
SWINGS = {"daily_range": 11.0}
BLOWER = changed(CALM, heat={"stove_blower_load": "range", "stove_without_blower_frac": 0.7})

PROBES = [
    probe(
        "wood-short-of-outage",
        changed(CALM, heat={"stove_wood_s": 6 * 3600.0}),
        "6 h",
        "12 hours of fire",
        quiet=changed(CALM, heat={"stove_wood_s": 13 * 3600.0}),
        air_c=-5.0,
    ),
    probe("house-falls-below-limit", NO_HEAT, "50 °F (10 °C)", air_c=-15.0, quiet_air_c=12.0),
    probe(
        "house-falls-below-limit",
        CALM,
        "5 °F (-15 °C)",
        "50 °F (10 °C)",
        "12 h",
        air_c=-15.0,
        quiet_air_c=12.0,
        severity="consider",
    ),
    probe("pipes-at-risk", NO_HEAT, "-13 °F (-25 °C)", "12 h", air_c=-25.0, quiet_air_c=5.0),
    probe("pipes-at-risk", CALM, "-13 °F (-25 °C)", air_c=-25.0, quiet_air_c=5.0, severity="consider"),
    probe(  # coldest hour -19.5 - 5.5; thermostat half a kelvin below 20: -25 + 0.4 (19.5 + 25) = -7.2, by hand
        "pipes-freeze-while-heated",
        changed(CALM, heat={"pipe_ratio": 0.4, "set_c": 20.0}, climate=SWINGS),
        "-13 °F (-25 °C)",
        "19 °F (-7.2 °C)",
        air_c=-19.5,
        quiet_air_c=-5.0,
    ),
    probe(  # at the day's mean -14.5 + 0.5 (19.5 + 14.5) = 2.5, at its coldest hour -20 + 0.5 (19.5 + 20) = -0.25
        "pipes-freeze-while-heated",
        changed(CALM, heat={"pipe_ratio": 0.5, "set_c": 20.0}, climate=SWINGS),
        "-4 °F (-20 °C)",
        quiet=changed(CALM, heat={"pipe_ratio": 0.51, "set_c": 20.0}, climate=SWINGS),
        air_c=-14.5,
        quiet_air_c=-14.5,
    ),
    probe("cold-snap-on-pipes", CALM, "5 °F (-15 °C)", "20 °F (-6.7 °C)", air_c=-15.0, quiet_air_c=-5.0),
    probe("heater-not-fed", item(CALM, "circuits", "boiler", panel="main"), "Boiler circuit"),
    probe("no-other-heat", NO_STOVE, "Boiler as the only heat"),
    probe(
        "no-heat-known",
        changed(NO_STOVE, heat={"heater_load": None}, climate={"mean": (2.0,) * 12}),
        "36 °F (2 °C)",
        quiet=changed(CALM, climate={"mean": (2.0,) * 12}),
    ),
    probe("stove-blower-unfed", BLOWER, "70 %", "8,000 W", "5,600 W"),
    probe("stove-and-alarm", changed(CALM, safety={"co_alarms": 0}), "no carbon monoxide alarm"),
]

"""Every factor of units.toml against pint, which keeps its own definitions (from CODATA, NIST and the BIPM).

A Btu is the International Table one on both sides.
"""

import pint
import pytest

from hearthold.quantities import units

REGISTRY = pint.UnitRegistry()
# Our spelling -> pint's expression, where they differ. None: no unit that pint knows (money).
SPELLING = {
    "hp": "horsepower", "Btu/h": "Btu_it/hour", "BTU/h": "Btu_it/hour", "kBtu/h": "1000 * Btu_it/hour",
    "kWh/day": "kWh/day", "kWh/yr": "kWh/(365.2425*day)", "kWh/year": "kWh/(365.2425*day)",
    "Wh/day": "Wh/day",
    "VA": "volt*ampere", "kVA": "kilovolt*ampere", "A": "ampere", "amp": "ampere", "amps": "ampere",
    "Ω": "ohm", "mohm": "milliohm", "BTU": "Btu_it", "Btu": "Btu_it", "therm": "100000 * Btu_it",
    "month": "365.2425*day/12",
    "months": "365.2425*day/12", "min": "minute", "h": "hour", "in": "inch", "m2": "meter**2",
    "m²": "meter**2",
    "cmil": "circular_mil", "ft2": "foot**2", "sq ft": "foot**2", "ft²": "foot**2", "mm2": "mm**2",
    "mm²": "mm**2", "m3": "meter**3", "m³": "meter**3", "US gal": "gallon", "imp gal": "imperial_gallon",
    "ft3": "foot**3", "cu ft": "foot**3", "ft³": "foot**3", "qt": "quart", "lbs": "pound", "lb": "pound",
    "oz": "ounce", "t": "metric_ton", "Pa": "pascal", "psi gauge": "psi", "in w.c.": "inch_H2O",
    "gal": "gallon", "m3/s": "meter**3/second", "m3/h": "meter**3/hour", "L/s": "liter/second",
    "L/min": "liter/minute", "L/h": "liter/hour", "L/day": "liter/day", "gpm": "gallon/minute",
    "gal/min": "gallon/minute", "gal/h": "gallon/hour", "gph": "gallon/hour", "gal/day": "gallon/day",
    "ft3/h": "foot**3/hour", "Btu/(h F)": "Btu_it/hour/delta_degF", "Btu/h/F": "Btu_it/hour/delta_degF",
    "W/K": "watt/kelvin", "kW/K": "kilowatt/kelvin", "J/K": "joule/kelvin", "kJ/K": "kilojoule/kelvin",
    "MJ/K": "megajoule/kelvin", "Wh/K": "watt*hour/kelvin", "of 1": "dimensionless", "%": "percent",
    "/s": "1/second", "/h": "1/hour", "/yr": "1/(365.2425*day)", "year": "365.2425*day",
    "years": "365.2425*day", "rpm": "1/minute", "Hz": "1/second",
    "VA/W": "volt*ampere/watt", "kVA/hp": "kilovolt*ampere/horsepower", "ohm/km": "ohm/kilometer",
    "ohm/m": "ohm/meter", "ohm/kft": "ohm/(1000*foot)", "mohm/m": "milliohm/meter",
    "W/(K kg)": "watt/kelvin/kg",
    "mV/A/m": "millivolt/ampere/meter", "kg/m3": "kg/meter**3", "kg/L": "kg/liter", "lb/gal": "pound/gallon",
    "lb/ft3": "pound/foot**3", "J/(kg K)": "joule/kg/kelvin", "kJ/(kg K)": "kilojoule/kg/kelvin",
    "Btu/(lb F)": "Btu_it/pound/delta_degF", "J/kg": "joule/kg", "kJ/kg": "kilojoule/kg", "kWh/kg": "kWh/kg",
    "Btu/lb": "Btu_it/pound", "J/m3": "joule/meter**3", "kWh/gal": "kWh/gallon", "Btu/gal": "Btu_it/gallon",
    "Btu/ft3": "Btu_it/foot**3", "J/(m2 K)": "joule/meter**2/kelvin",
    "kJ/(m2 K)": "kilojoule/meter**2/kelvin",
    "W/m3": "watt/meter**3", "kWh/yr/ft3": "kWh/(365.2425*day)/foot**3",
    "/gal": "1/gallon", "per gal": "1/gallon", "/L": "1/liter", "per L": "1/liter", "/m3": "1/meter**3",
    "/kWh": "1/kWh", "per kWh": "1/kWh", "/kg": "1/kg", "per kg": "1/kg", "/lb": "1/pound",
    "per lb": "1/pound",
    "USD": None,
}  # fmt: skip
SI = {
    "usd": None, "c": "kelvin", "k": "kelvin", "frac": "dimensionless", "w": "watt", "va": "volt*ampere",
    "v": "volt", "a": "ampere", "ohm": "ohm", "j": "joule", "s": "second", "m": "meter", "m2": "meter**2",
    "m3": "meter**3", "kg": "kg", "pa": "pascal", "m3_per_s": "meter**3/second", "w_per_k": "watt/kelvin",
    "j_per_k": "joule/kelvin", "per_m3": "1/meter**3", "per_j": "1/joule", "per_kg": "1/kg",
    "va_per_w": "volt*ampere/watt", "ohm_per_m": "ohm/meter", "hz": "1/second", "per_s": "1/second",
    "kg_per_m3": "kg/meter**3", "j_per_kg_k": "joule/kg/kelvin", "j_per_kg": "joule/kg",
    "j_per_m3": "joule/meter**3", "j_per_m2_k": "joule/meter**2/kelvin", "w_per_k_kg": "watt/kelvin/kg",
    "w_per_m3": "watt/meter**3",
}  # fmt: skip
SCALES = [d for d in units.dimensions().values() if d.name not in ("temperature", "temperature_difference")]
CASES = [(d, unit) for d in SCALES for unit in d.units if SPELLING.get(unit, unit) is not None]


@pytest.mark.parametrize(("dim", "unit"), CASES, ids=[f"{d.name}-{u}" for d, u in CASES])
def test_factor(dim, unit):
    """1e-8: pint's and our digits of exact definitions. A year is the Gregorian 365.2425 days."""
    theirs = REGISTRY.parse_expression(f"1.0 * ({SPELLING.get(unit, unit)})") * REGISTRY.Quantity(1.0)
    assert units.si(1.0, unit, dim.name) == pytest.approx(theirs.to(SI[dim.si]).magnitude, rel=1e-8)


@pytest.mark.parametrize("value", [-40.0, -8.0, 0.0, 32.0, 212.0])
@pytest.mark.parametrize(
    ("ours", "theirs"), [("F", "degF"), ("°F", "degF"), ("degF", "degF"), ("C", "degC"), ("K", "kelvin")]
)
def test_temperature(value, ours, theirs):
    expected = REGISTRY.Quantity(value, theirs).to("degC").magnitude
    assert units.si(value, ours, "temperature") == pytest.approx(expected, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(
    ("ours", "theirs"), [("F", "delta_degF"), ("°F", "delta_degF"), ("C", "delta_degC"), ("K", "kelvin")]
)
def test_temperature_difference(ours, theirs):
    expected = REGISTRY.Quantity(9.0, theirs).to("kelvin").magnitude
    assert units.si(9.0, ours, "temperature_difference") == pytest.approx(expected, rel=1e-12)


def test_no_dimension_is_left_out():
    compared = {d.name for d, _ in CASES}
    assert {d.name for d in SCALES} - compared == {"money"}

"""Units at the edge: what a householder writes becomes SI, and what is unclear is refused with a remedy."""

import contextlib
import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import InputError
from hearthold.quantities import units

PAIRS = [(d.name, unit) for d in units.dimensions().values() for unit in d.units]
SEEDED = settings(max_examples=60, derandomize=True, deadline=None)


@pytest.mark.parametrize(
    ("text", "dimension", "si_value"),
    [
        # Factors: NIST SP 811 (2008) Appendix B.8; the arithmetic is by hand.
        ("1.5 hp", "power", 1118.5498),
        ("1-1/2 hp", "power", 1118.5498),
        ("1 1/2 hp", "power", 1118.5498),
        ("1/2 hp", "power", 372.84994),
        ("5 h 30 min", "time", 19800.0),
        ("1h30min", "time", 5400.0),
        ("2 days 6 h 15 min", "time", 195300.0),
        ("6 ft 2 in", "length", 1.8796),
        (".75 hp", "power", 559.27490),
        ("1.2e1 kW", "power", 12000.0),
        (1300, "power", 1300.0),
        ("1300", "power", 1300.0),
        ("5 kWh/day", "power", 5 * 3.6e6 / 86400),
        ("80 gal", "volume", 80 * 3.785411784e-3),
        ("15 cu ft", "volume", 15 * 0.028316846592),
        ("15  cu   ft", "volume", 15 * 0.028316846592),
        ("-8 F", "temperature", -22.0 - 2.0 / 9.0),
        ("\u22128 F", "temperature", -22.0 - 2.0 / 9.0),
        ("-8 F", "temperature_difference", -40.0 / 9.0),
        ("273.15 K", "temperature", 0.0),
        ("60 psi", "pressure", 413685.44),
        ("60 PSI", "pressure", 413685.44),
        ("50 %", "fraction", 0.5),
        (0.5, "fraction", 0.5),
        ("1.45 /L", "money_per_volume", 1450.0),
        ("3.785411784 /gal", "money_per_volume", 1000.0),
        ("12A", "current", 12.0),
        ("-1-1/2 hp", "power", -1118.5498),
        ("-1/2 hp", "power", -372.84994),
    ],
)
def test_parse(text, dimension, si_value):
    assert units.parse(text, dimension) == pytest.approx(si_value, rel=1e-7, abs=1e-9)


@pytest.mark.parametrize("dimension", [d.name for d in units.dimensions().values() if not d.plain])
@pytest.mark.parametrize("bare", [12, 12.5, "12"])
def test_a_bare_number_is_refused_where_units_compete(dimension, bare):
    with pytest.raises(InputError, match="has no unit; write for example") as caught:
        units.parse(bare, dimension)
    assert caught.value.code == "no_unit"


@pytest.mark.parametrize("dimension", [d.name for d in units.dimensions().values() if d.plain])
def test_a_bare_number_takes_the_plain_unit(dimension):
    dim = units.dimensions()[dimension]
    assert units.parse(3, dimension) == units.parse(f"3 {dim.plain}", dimension) == dim.to_si(3.0, dim.plain)


def test_volume_and_temperature_are_among_those_refused():
    refused = {d.name for d in units.dimensions().values() if not d.plain}
    assert {"volume", "temperature", "pressure", "length", "time", "mass", "flow"} <= refused


@pytest.mark.parametrize(
    ("text", "dimension", "words"),
    [
        ("10 gal", "power", '"gal" is a unit of volume, and this is a power; use one of W, kW'),
        ("10 W", "current", '"W" is a unit of power, and this is a current; use one of A, mA'),
        ("10 psi", "temperature", '"psi" is a unit of pressure, and this is a temperature'),
        ("10 furlong", "length", '"furlong" is not a unit of length known here; use one of m, cm'),
        ("10 gals", "volume", 'Did you mean "gal"?'),
        ("5 mW", "power", '"mW" is not a unit of power known here'),
        ("1,5 hp", "power", "write the decimal with a point"),
        ("1,500 W", "power", "thousands without a comma"),
    ],
)
def test_a_wrong_unit_is_told_with_the_right_ones(text, dimension, words):
    with pytest.raises(InputError, match=re.escape(words)):
        units.parse(text, dimension)


@pytest.mark.parametrize("value", [None, True, False, [], {}, [1], (1, "W"), b"1 W"])
def test_what_is_no_quantity_is_refused(value):
    with pytest.raises(InputError, match=r'needs a quantity such as "1200 W" or "1\.5 hp"'):
        units.parse(value, "power")


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, "1e999 W", 10**400, -(10**400)])
def test_what_is_not_finite_is_refused(value):
    with pytest.raises(InputError, match="must be a finite number"):
        units.parse(value, "power")


@pytest.mark.parametrize("text", ["", "  ", "W", "twelve W", "nan W", "inf", "--3 W", "\u0663 W"])
def test_text_without_a_number_is_refused(text):
    with pytest.raises(InputError, match="has no number to read; write for example"):
        units.parse(text, "power")


@pytest.mark.parametrize("text", ["1/0 hp", "1-1/0 hp"])
def test_division_by_zero_is_refused(text):
    with pytest.raises(InputError, match="divides by zero"):
        units.parse(text, "power")


@pytest.mark.parametrize(("dimension", "unit"), PAIRS, ids=[f"{d}-{u}" for d, u in PAIRS])
def test_every_unit_reads_back_from_print(dimension, unit):
    """Every unit can be written after a number, whatever its letters, and means its own factor."""
    assert units.parse(f"2.5 {unit}", dimension) == units.si(2.5, unit, dimension)


@SEEDED
@given(st.sampled_from(PAIRS), st.floats(-1e9, 1e9))
def test_round_trip(pair, value):
    dimension, unit = pair
    back = units.in_unit(units.si(value, unit, dimension), unit, dimension)
    assert back == pytest.approx(value, rel=1e-12, abs=1e-9)


@SEEDED
@given(st.sampled_from(list(units.dimensions().values())), st.floats(-1e6, 1e6), st.data())
def test_convert_goes_through_si(dim, value, data):
    one, two = (data.draw(st.sampled_from(list(dim.units))) for _ in range(2))
    there = units.convert(value, one, two, dim.name)
    scale = max(abs(dim.from_si(0.0, two)), abs(there), 1.0)
    assert units.convert(there, two, one, dim.name) == pytest.approx(
        value, rel=1e-9, abs=1e-9 * scale * dim.units[two] / dim.units[one]
    )


@SEEDED
@given(st.text(max_size=30), st.sampled_from(list(units.dimensions())))
def test_any_text_is_read_or_refused_as_input(text, dimension):
    with contextlib.suppress(InputError):
        assert math.isfinite(units.parse(text, dimension))


def test_case_is_folded_only_where_no_prefix_is_at_stake():
    assert units.parse("2 KW", "power") == 2000.0
    assert units.parse("2 Gal", "volume") == pytest.approx(2 * 3.785411784e-3)
    for text, dimension in (
        ("2 mW", "power"),
        ("2 MV", "voltage"),
        ("2 MM", "length"),
        ("2 Mbar", "pressure"),
    ):
        with pytest.raises(InputError, match="is not a unit of"):
            units.parse(text, dimension)


def test_plain_units_are_units():
    """A plain unit is one of its dimension's units, and no factor is zero."""
    for dim in units.dimensions().values():
        assert not dim.plain or dim.plain in dim.units
        assert set(dim.add) <= set(dim.units)
        assert all(factor > 0.0 for factor in dim.units.values())


def test_suffixes_are_those_of_the_dimensions():
    assert {"w", "va", "j", "s", "m3", "pa", "c", "k", "w_per_k", "frac"} <= units.si_suffixes()


def test_example_reads_back():
    for dim in units.dimensions().values():
        text = units.example(dim).split(" or ")[0].strip('"')
        assert math.isfinite(units.parse(text, dim.name))


@pytest.mark.parametrize("text", ["5 h 90 min", "30 min 5 h", "1.5 h 30 min", "-1 h 30 min", "1 h 1 h"])
def test_a_second_unit_is_a_part_of_the_first(text):
    with pytest.raises(InputError, match="the second is no part of one"):
        units.parse(text, "time")


def test_only_times_and_lengths_are_said_in_two():
    with pytest.raises(InputError, match='"kW 300 W" is not a unit of power'):
        units.parse("1 kW 300 W", "power")


@pytest.mark.parametrize("dimension", units.dimensions().values(), ids=lambda d: d.name)
def test_an_example_can_be_written_as_it_stands(dimension):
    """What a message offers is read, and is of a size that a house has: no 10 m3 of fuel, no outage of 10 s."""
    for text in re.findall(r'"([^"]+)"', units.example(dimension)):
        units.parse(text, dimension.name)
    told = {"volume": '"10 gal" or "40 L"', "time": '"90 min" or "14 h"', "energy": '"5 kWh"'}
    if dimension.name in told:
        assert units.example(dimension) == told[dimension.name]


@pytest.mark.parametrize("dimension", ["energy", "volume", "time", "length"])
def test_a_written_nothing_needs_no_unit(dimension):
    assert units.parse("0", dimension) == 0.0


def test_nothing_on_a_thermometer_does():
    with pytest.raises(InputError, match="0 has no unit"):
        units.parse("0", "temperature")

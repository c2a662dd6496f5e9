"""Whatever is done to a house file, only HouseFileError comes out: never another exception, never a hang."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hearthold.errors import HouseFileError
from hearthold.house.reader import house_from_bytes

GOOD = {p.stem: p.read_bytes() for p in (Path(__file__).parents[2] / "examples").glob("*.toml")}
FUZZ = settings(
    max_examples=250, derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
VALUES = (
    '0', '-1', '1e300', 'nan', 'inf', '-inf', 'true', '""', '"x"', '[]', '[[]]', '{}', '1979-05-27',
    '07:32:00', '"1e999 W"', '"-5 ft"', '"1/0 hp"', '"\\u0000"', '"0 AWG"', '"A"', '"24:00"',
    '9999999999999999999999', '"10 furlongs"', '"5 kWh/day"', "'''\nlong\n'''", "[1, 'a']",
    '{ a = 1 }', '"50 %"', '"🔥"',
)  # fmt: skip
names = st.sampled_from(sorted(GOOD))


def read(data):
    """Read it; a house or located faults are fine, everything else is not."""
    faults = ()
    try:
        house_from_bytes(data, "fuzzed.toml")
    except HouseFileError as problem:
        faults = problem.faults or (None,)
    for fault in faults:
        assert fault is not None
        assert fault.path == "fuzzed.toml"
        assert fault.key
        assert fault.problem
        assert fault.line is None or fault.line >= 1


@FUZZ
@given(st.binary(max_size=300))
def test_random_bytes(data):
    read(data)


@FUZZ
@given(names, st.data())
def test_bytes_changed(name, data):
    good = bytearray(GOOD[name])
    for _ in range(data.draw(st.integers(1, 6))):
        good[data.draw(st.integers(0, len(good) - 1))] = data.draw(st.integers(0, 255))
    read(bytes(good))


@FUZZ
@given(names, st.data())
def test_lines_deleted_doubled_and_moved(name, data):
    lines = GOOD[name].splitlines(keepends=True)
    for _ in range(data.draw(st.integers(1, 5))):
        at = data.draw(st.integers(0, len(lines) - 1))
        deed = data.draw(st.sampled_from(("delete", "double", "move")))
        line = lines[at] if deed == "double" else lines.pop(at)
        if deed != "delete":
            lines.insert(data.draw(st.integers(0, len(lines))), line)
    read(b"".join(lines))


@FUZZ
@given(names, st.data())
def test_values_swapped(name, data):
    lines = GOOD[name].decode("utf-8").splitlines()
    keyed = [n for n, line in enumerate(lines) if " = " in line and not line.startswith("#")]
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.sampled_from(keyed))
        other = lines[data.draw(st.sampled_from(keyed))].partition(" = ")[2]
        value = data.draw(st.one_of(st.sampled_from(VALUES), st.just(other)))
        lines[at] = f"{lines[at].partition(' = ')[0]} = {value}"
    read("\n".join(lines).encode("utf-8"))


@FUZZ
@given(names, st.data())
def test_file_cut_short(name, data):
    read(GOOD[name][: data.draw(st.integers(0, len(GOOD[name])))])


@pytest.mark.parametrize("name", sorted(GOOD))
def test_the_untouched_file_is_read(name):
    assert house_from_bytes(GOOD[name], name).loads

"""Every form that a nameplate takes, against the code's tables and arithmetic by hand."""

import pytest
from homes import EUROPEAN, with_load

from hearthold.house.nameplate import motor_running_w
from hearthold.reference import motors

HP_W = 745.6998715822702  # NIST SP 811 (2008) B.8, horsepower (550 ft lbf/s)


def the_load(lines, circuit="kitchen", **given):
    return with_load(lines, circuit, **given).load_by_id["x"]


@pytest.mark.parametrize(
    ("lines", "running_w", "running_a"),
    [
        ("running = 600", 600.0, 5.0),
        ('running = "0.6 kW"', 600.0, 5.0),
        ("running = 600\npower_factor = 0.8", 600.0, 6.25),
        ("amps = 5\nvolts = 120", 600.0, 5.0),
        ("amps = 5\nvolts = 120\npower_factor = 0.8", 480.0, 5.0),
        ("amps = 5\nvolts = 115\npower_factor = 0.8", 460.0, 5.0),
        ('energy = "876.582 kWh/yr"\nduty = "50 %"', 200.0, 200.0 / 120.0),
        ('energy = "2.4 kWh/day"\nduty = 0.5', 200.0, 200.0 / 120.0),
        ("running = 600\namps = 99\nvolts = 120", 600.0, 5.0),  # watts come before amps
    ],
)
def test_running(lines, running_w, running_a):
    load = the_load(lines)
    assert load.running_w == pytest.approx(running_w, rel=1e-5)
    assert load.running_a == pytest.approx(running_a, rel=1e-5)
    assert load.low_w == load.high_w == load.running_w


@pytest.mark.parametrize(
    ("size", "volts", "full_load_a"),
    [
        # NEC 2023 Table 430.248, single-phase motors, 115 V and 230 V.
        ("1/4", 115, 5.8), ("1/3", 115, 7.2), ("1/2", 115, 9.8), ("3/4", 115, 13.8), ("1", 115, 16.0),
        ("1/2", 230, 4.9), ("3/4", 230, 6.9), ("1", 230, 8.0), ("1-1/2", 230, 10.0), ("2", 230, 12.0),
        ("3", 230, 17.0), ("5", 230, 28.0), ("7-1/2", 230, 40.0), ("10", 230, 50.0),
    ],
)  # fmt: skip
def test_horsepower_draws_the_tables_full_load_current(size, volts, full_load_a):
    circuit = "kitchen" if volts == 115 else "pump"
    load = the_load(f'horsepower = "{size}"\nvolts = {volts}\npower_factor = 0.75', circuit)
    assert load.running_va / volts == pytest.approx(full_load_a, rel=1e-9)
    assert load.running_w == pytest.approx(full_load_a * volts * 0.75, rel=1e-9)


@pytest.mark.parametrize(
    "written", ['"1/2"', '"1/2 hp"', "0.5", '".5 hp"', '"372.84994 W"', '"0.37284994 kW"']
)
def test_one_size_in_many_spellings(written):
    load = the_load(f"horsepower = {written}\nvolts = 115")
    assert load.running_va == pytest.approx(9.8 * 115.0, rel=1e-6)


def test_shaft_kilowatts_lie_between_two_table_sizes():
    """0.55 kW = 0.7376 hp; on the straight line between 4.9 A (1/2 hp) and 6.9 A (3/4 hp) of NEC 430.248."""
    load = the_load('horsepower = "0.55 kW"\npower_factor = 0.7', base=EUROPEAN)
    amps = 4.9 + (550.0 / HP_W - 0.5) / 0.25 * (6.9 - 4.9)
    assert load.running_w == pytest.approx(amps * 230.0 * 0.7, rel=1e-6)


def test_a_larger_motor_never_draws_less():
    sizes = [
        0.05,
        0.1,
        1 / 6,
        0.2,
        1 / 4,
        0.3,
        1 / 3,
        0.34,
        0.4,
        0.5,
        0.51,
        0.74,
        0.75,
        1,
        2.5,
        9,
        10,
        11,
        20,
        50,
    ]
    draws = [motor_running_w(hp, 240.0, 0.8) for hp in sizes]
    assert draws == sorted(draws)
    assert len(set(draws)) == len(draws)


def test_motors_beyond_the_table_grow_in_proportion():
    assert motor_running_w(20.0, 240.0, 1.0) == pytest.approx(2 * 50.0 * 230.0)
    assert motor_running_w(1 / 12, 120.0, 1.0) == pytest.approx(0.5 * 4.4 * 115.0, rel=1e-3)


def test_a_motor_without_more_words_is_not_a_resistor():
    """A motor known by horsepower alone starts like one and has the power factor of one."""
    load = the_load('horsepower = "1/2"\nvolts = 115')
    assert load.start_kind == "capacitor_start"
    assert load.power_factor == motors.running_power_factor("capacitor_start") < 0.9
    # 1/2 hp of shaft from 9.8 A at 115 V: between 40 and 75 per cent efficient (handbooks, from memory).
    assert 0.4 < 0.5 * HP_W / load.running_w < 0.75
    assert load.start_va > 3.0 * load.running_va


@pytest.mark.parametrize(
    ("letter", "kva_per_hp"),
    [
        # NEC 2023 Table 430.7(B): upper end of the band, kVA per horsepower with the rotor locked.
        ("A", 3.14), ("C", 3.99), ("F", 5.59), ("G", 6.29), ("J", 7.99), ("L", 9.99), ("U", 22.39),
        ("V", 22.4),  # open band: its lower end
    ],
)  # fmt: skip
def test_code_letter_and_horsepower_give_the_start(letter, kva_per_hp):
    load = the_load(f'horsepower = "1/2"\nvolts = 115\ncode_letter = "{letter}"')
    assert load.start_va == pytest.approx(max(kva_per_hp * 500.0, load.running_va), rel=1e-6)


def test_locked_rotor_amps_of_a_letter():
    """Half a horsepower, letter L, 115 V: 9.99 kVA/hp x 0.5 / 115 V = 43.4 A (NEC 430.7(B), by hand)."""
    load = the_load('horsepower = "1/2"\nvolts = 115\ncode_letter = "L"')
    assert load.start_va / 115.0 == pytest.approx(43.43, abs=0.01)


@pytest.mark.parametrize(
    ("lra", "volts", "circuit"), [(34, 240, "pump"), (40, 120, "kitchen"), (40, 115, "kitchen")]
)
def test_locked_rotor_amps_times_volts(lra, volts, circuit):
    load = the_load(f"running = 500\nvolts = {volts}\nlra = {lra}", circuit)
    assert load.start_va == lra * volts
    assert load.is_motor


def test_a_stated_start_comes_before_all_others():
    load = the_load('horsepower = "1/2"\nvolts = 115\nlra = 40\ncode_letter = "L"\nstart = "3 kVA"')
    assert load.start_va == 3000.0


def test_locked_rotor_amps_come_before_the_letter():
    load = the_load('horsepower = "1/2"\nvolts = 115\nlra = 40\ncode_letter = "L"')
    assert load.start_va == 4600.0


def test_a_start_is_never_below_running():
    assert the_load("running = 600\nstart = 100").start_va == 600.0


def test_count_multiplies_running_but_not_the_start_of_one():
    one = the_load("running = 100\nvolts = 120\nlra = 5")
    ten = the_load("running = 100\nvolts = 120\nlra = 5\ncount = 10")
    assert ten.running_w == 10 * one.running_w == 1000.0
    assert ten.start_va == one.start_va == 600.0


def test_a_load_without_volts_takes_those_of_its_circuit():
    assert the_load("running = 500", "kitchen").voltage_v == 120.0
    assert the_load("running = 500", "pump").voltage_v == 240.0
    assert the_load("running = 500", base=EUROPEAN).voltage_v == 230.0

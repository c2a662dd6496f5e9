"""Each check of two parts of the file against each other, with a file that fails it and one that does not."""

import pytest
from homes import AMERICAN, EUROPEAN, faults

MACHINE = """\
[generator]
name = "Machine"
receptacle = "L14-30"
[[generator.on]]
fuel = "gasoline"
running = "5 kW"
start = "6 kW"
[fuel]
preferred = "gasoline"
[[fuel.stock]]
fuel = "gasoline"
amount = "10 gal"
"""
MEDICAL = '[[medical]]\nload = "box"\nhours_per_day = 8\n'
COLD = '[[cold]]\nid = "freezer"\nkind = "chest_freezer"\nload = "box"\n'
PIT = '[[pit]]\nid = "sump"\nname = "Sump"\nkind = "sump"\nload = "well"\n'
PIT += 'headroom = "20 gal"\ncycle = "8 gal"\ninflow = "6 gal/h"\npump = "30 gpm"\n'
HEAT = '[heat]\nfloor_area = "150 m2"\nheater = { load = "box", output = "20 kW" }\n'
STOVE = '[heat]\nfloor_area = "150 m2"\nstove = { output = "5 kW", blower_load = "box" }\n'
WATER = '[water]\npump_load = "well"\nflow = "9 gpm"\ncut_in = "40 psi"\ncut_out = "60 psi"\n'
HOT = '[hot_water]\nload = "box"\nvolume = "50 gal"\nset = "52 C"\nlowest = "40 C"\ninlet = "10 C"\n'
HOOKUP = '[hookup]\nkind = "manual_transfer"\ninlet = "L14-30"\npanel_spaces = 3\n'
READING = '[[reading]]\nstore = "freezer"\nvalue = "-12 C"\n'
WISHES = '[wishes]\nshortest_spell = "1 h"\nlongest_spell = "2 h"\n'

# name: (text added, what of it is spoiled, with what, key told, what is told)
SPOILED = {
    "medical_load": (
        MEDICAL,
        '"box"',
        '"bux"',
        "medical[1].load = 'bux'",
        'names no load of this file. Did you mean "box"?',
    ),
    "cold_load": (COLD, '"box"', '"bux"', "cold[1].load = 'bux'", "names no load of this file."),
    "pit_load": (
        PIT,
        '"well"',
        '"wall"',
        "pit[1].load = 'wall'",
        'names no load of this file. Did you mean "well"?',
    ),
    "heater_load": (HEAT, '"box"', '"bux"', "heat.heater.load = 'bux'", "names no load of this file."),
    "blower_load": (STOVE, '"box"', '"bux"', "heat.stove.blower_load = 'bux'", "names no load of this file."),
    "pump_load": (WATER, '"well"', '"wall"', "water.pump_load = 'wall'", "names no load of this file."),
    "hot_water_load": (HOT, '"box"', '"bux"', "hot_water.load = 'bux'", "names no load of this file."),
    "reading_store": (
        COLD + READING,
        '"freezer"\nvalue',
        '"frizer"\nvalue',
        "reading[1].store = 'frizer'",
        'names no store of this file. Did you mean "freezer"?',
    ),
    "reading_age": (
        COLD + READING + 'age = "119 min"\n',
        '"119 min"',
        '"3 h"',
        "reading[1].age = 3 h",
        "is too old to start from: at most 2 h. Read the thermometer again, or take the entry out.",
    ),
    "battery": (
        HOOKUP,
        "manual_transfer",
        "battery_inverter",
        "hookup.kind = 'battery_inverter'",
        "needs a battery, and the file has none. Add a [battery] section",
    ),
    "receptacle": (
        MACHINE,
        '"L14-30"',
        '"L14-31"',
        "generator.receptacle = 'L14-31'",
        'is not a connector of the reference table. Did you mean "L14-30"?',
    ),
    "inlet": (
        HOOKUP,
        '"L14-30"',
        '"M6"',
        "hookup.inlet = 'M6'",
        "is not a connector of the reference table.",
    ),
    "preferred_fuel": (
        MACHINE,
        'preferred = "gasoline"',
        'preferred = "diesel"',
        "fuel.preferred = 'diesel'",
        "is not a fuel of this generator. It burns: gasoline.",
    ),
    "no_fuel": (
        MACHINE,
        MACHINE[MACHINE.index("[fuel]") :],
        "",
        "fuel",
        "is missing. A generator needs a [fuel] section with preferred = ...",
    ),
    "stock_without_amount": (
        MACHINE,
        'amount = "10 gal"\n',
        "",
        "fuel.stock[1]",
        'says no amount. Give amount = "15 gal", mass = "40 lb", or mains = true.',
    ),
    "start_below_running": (
        MACHINE,
        '"6 kW"',
        '"4 kW"',
        "generator.on[1].start = 4000 W",
        "is below running = 5000 W. The starting (surge) figure is the larger one.",
    ),
    "panel_spaces": (
        HOOKUP,
        "panel_spaces = 3",
        "panel_spaces = 2",
        "hookup.panel_spaces = 2",
        "are fewer than the 3 that the essential circuits take.",
    ),
    "pressures_swapped": (
        WATER,
        '"40 psi"',
        '"65 psi"',
        "water.cut_in",
        "must be below cut_out. Are the two swapped?",
    ),
    "pressures_equal": (WATER, '"40 psi"', '"60 psi"', "water.cut_in", "must be below cut_out."),
    "heat_swapped": (
        HEAT,
        "heater =",
        'set = "15 C"\nlowest = "18 C"\nheater =',
        "heat.lowest",
        "must be below set.",
    ),
    "hot_water_swapped": (HOT, '"40 C"', '"55 C"', "hot_water.lowest", "must be below set."),
    "inlet_swapped": (HOT, '"10 C"', '"45 C"', "hot_water.inlet", "must be below lowest."),
    "spells_swapped": (WISHES, '"1 h"', '"3 h"', "wishes.shortest_spell", "must be below longest_spell."),
    "house_class": (
        HEAT,
        "floor_area",
        'house_class = "leaky_farm"\nfloor_area',
        "heat.house_class = 'leaky_farm'",
        'is not a house class of the reference table. Did you mean "leaky_farmhouse"?',
    ),
    "region": (
        '[outages]\nregion = "us_average"\n',
        "us_average",
        "us_averige",
        "outages.region = 'us_averige'",
        'is not a region of the reference table. Did you mean "us_average"?',
    ),
    "cord_wire": (
        HOOKUP + 'cord = { wire = "10 AWG", length = "25 ft" }\n',
        '"10 AWG"',
        '"11 AWG"',
        "hookup.cord.wire = '11 AWG'",
        "is not among the copper sizes of the tables.",
    ),
    "feeder_metal": (
        HOOKUP + 'feeder = { wire = "8 AWG", length = "25 ft" }\n',
        '"8 AWG"',
        '"18 AWG"',
        "hookup.feeder.wire = '18 AWG'",
        "is not among the copper sizes of the tables.",
    ),
    "two_colds_of_one_name": (
        COLD + COLD.replace('freezer"\nkind', 'two"\nkind'),
        '"two"',
        '"freezer"',
        "cold[2].id = 'freezer'",
        "is already the id of cold[1]. Give each its own id.",
    ),
    "two_pits_of_one_name": (
        PIT + PIT.replace('"sump"\nname = "Sump"', '"two"\nname = "Second"'),
        '"two"',
        '"sump"',
        "pit[2].id = 'sump'",
        "is already the id of pit[1]. Give each its own id.",
    ),
    "two_pits_called_alike": (
        PIT + PIT.replace('"sump"\nname = "Sump"', '"two"\nname = "Second"'),
        '"Second"',
        '"Sump"',
        "pit[2].name = 'Sump'",
        "is already the name of pit[1]. Give each its own name.",
    ),
}


@pytest.mark.parametrize("case", SPOILED.values(), ids=SPOILED)
def test_an_added_part(case):
    part, old, new, key, told = case
    assert faults(extra=part) == (), "the unspoiled part must read"
    assert old in part
    at = part.rindex(old)
    (found,) = faults(extra=part[:at] + new + part[at + len(old) :])
    assert f": {key}" in found
    assert told in found


# name: (base, text replaced, text instead, key told, what is told)
CHANGED = {
    "two_loads_of_one_name": (
        AMERICAN,
        'id = "box"',
        'id = "well"',
        "load[2].id = 'well'",
        "is already the id of load[1].",
    ),
    "two_circuits_called_alike": (
        AMERICAN,
        'name = "Kitchen"',
        'name = "Pump"',
        "circuit[2].name = 'Pump'",
        "is already the name of circuit[1]. Give each its own name.",
    ),
    "circuit_of_a_load": (
        AMERICAN,
        'circuit = "kitchen"',
        'circuit = "kitchin"',
        "load[2].circuit = 'kitchin'",
        'names no circuit of this file. Did you mean "kitchen"?',
    ),
    "multiwire_partner": (
        AMERICAN,
        "breaker = 15",
        'breaker = 15\nmultiwire_with = "bath"',
        "circuit[2].multiwire_with = 'bath'",
        "names no circuit of this file.",
    ),
    "unknown_kind": (
        AMERICAN,
        "well_half_hp_three_wire",
        "well_half_hp_four_wire",
        "load[1].kind = 'well_half_hp_four_wire'",
        "is not a kind of the load catalogue. Did you mean",
    ),
    "kind_of_the_other_system": (
        AMERICAN,
        '"chest_freezer"',
        '"chest_freezer_230"',
        "load[2].kind = 'chest_freezer_230'",
        "is not made for split_120_240. Choose a kind for this supply.",
    ),
    "american_kind_in_europe": (
        EUROPEAN,
        '"borehole_0_55_kw"',
        '"well_half_hp_three_wire"',
        "load[1].kind = 'well_half_hp_three_wire'",
        "is not made for single_230.",
    ),
    "unknown_way_to_start": (
        AMERICAN,
        'id = "box"',
        'id = "box"\nstart_kind = "soft"',
        "load[2].start_kind = 'soft'",
        "is not a way to start of the reference table.",
    ),
    "says_nothing": (
        AMERICAN,
        'kind = "chest_freezer"',
        "",
        "load[2]",
        "says neither what kind it is nor what it draws. Give a kind of the catalogue, or running watts",
    ),
    "label_alone": (
        AMERICAN,
        'kind = "chest_freezer"',
        'energy = "300 kWh/yr"',
        "load[2]",
        "says neither what kind",
    ),
    "amps_without_volts": (
        AMERICAN,
        'kind = "chest_freezer"',
        "amps = 3",
        "load[2]",
        "gives amps without volts.",
    ),
    "code_letter_alone": (
        AMERICAN,
        'kind = "chest_freezer"',
        'kind = "chest_freezer"\ncode_letter = "G"',
        "load[2]",
        "gives a code letter without horsepower.",
    ),
    "locked_rotor_without_volts": (
        AMERICAN,
        'kind = "chest_freezer"',
        "running = 300\nlra = 20",
        "load[2]",
        "gives locked-rotor amps without volts.",
    ),
    "full_voltage_on_one_pole": (
        AMERICAN,
        "poles = 2\n",
        "",
        "load[1].circuit = 240 V",
        'cannot hang on circuit "pump", which has one pole (120 V). Give the circuit poles = 2',
    ),
    "stated_voltage_on_one_pole": (
        AMERICAN,
        'id = "box"',
        'id = "box"\nvolts = 240',
        "load[2].volts = 240 V",
        'cannot hang on circuit "kitchen", which has one pole',
    ),
    "voltage_of_industry": (
        AMERICAN,
        'id = "well"',
        'id = "well"\nvolts = 480',
        "load[1].volts = 480 V",
        "is not a voltage of split_120_240. Use 120 or 240.",
    ),
    "voltage_too_low": (
        AMERICAN,
        'id = "box"',
        'id = "box"\nvolts = 12',
        "load[2].volts = 12 V",
        "is not a voltage of split_120_240. Use 120 or 240.",
    ),
    "three_phase_voltage": (
        EUROPEAN,
        'id = "well"',
        'id = "well"\nvolts = 400',
        "load[1].volts = 400 V",
        "is not a voltage of single_230. Use 230.",
    ),
    "american_voltage_in_europe": (
        EUROPEAN,
        'id = "box"',
        'id = "box"\nvolts = 120',
        "load[2].volts = 120 V",
        "is not a voltage of single_230. Use 230.",
    ),
    "two_poles_in_europe": (
        EUROPEAN,
        "breaker = 20",
        "breaker = 20\npoles = 2",
        "circuit[1].poles = 2",
        "means 240 V across two legs, which this supply does not have. Use poles = 1.",
    ),
    "both_legs_on_one_pole": (
        AMERICAN,
        "breaker = 15",
        'breaker = 15\nleg = "AB"',
        "circuit[2].leg = 'AB'",
        "needs two poles.",
    ),
    "one_leg_on_two_poles": (
        AMERICAN,
        "breaker = 20",
        'breaker = 20\nleg = "A"',
        "circuit[1].leg = 'A'",
        "is one leg, and the circuit has two poles.",
    ),
    "second_leg_in_europe": (
        EUROPEAN,
        "breaker = 15",
        'breaker = 15\nleg = "B"',
        "circuit[2].leg = 'B'",
        "does not exist on a single-phase supply.",
    ),
    "wire_between_sizes": (
        AMERICAN,
        "14 AWG",
        "13 AWG",
        "circuit[2].wire = '13 AWG'",
        "is not among the copper sizes of the tables. Write",
    ),
    "aluminium_too_thin": (
        AMERICAN,
        '"14 AWG"',
        '"14 AWG"\nmaterial = "aluminium"',
        "circuit[2].wire = '14 AWG'",
        "is not among the aluminium sizes of the tables.",
    ),
    "metric_in_america": (
        AMERICAN,
        "14 AWG",
        "2.5 mm2",
        "circuit[2].wire = '2.5 mm2'",
        "is not how sizes are told on split_120_240.",
    ),
    "gauge_in_europe": (
        EUROPEAN,
        "1.5 mm2",
        "12 AWG",
        "circuit[2].wire = '12 AWG'",
        "is not how sizes are told on single_230.",
    ),
}


@pytest.mark.parametrize("case", CHANGED.values(), ids=CHANGED)
def test_a_changed_part(case):
    base, old, new, key, told = case
    assert faults(base=base) == ()
    (found,) = faults((old, new), base=base)
    assert f": {key}" in found
    assert told in found


@pytest.mark.parametrize(
    ("lines", "base"),
    [
        ("running = 300", AMERICAN),
        ("amps = 3\nvolts = 120", AMERICAN),
        ('horsepower = "1/3"', AMERICAN),
        ('energy = "300 kWh/yr"\nduty = "30 %"', AMERICAN),
        ('horsepower = "1/3"\ncode_letter = "G"', AMERICAN),
        ("running = 300\nlra = 20\nvolts = 115", AMERICAN),
        ("amps = 3\nvolts = 240", EUROPEAN),
        ('horsepower = "0.55 kW"', EUROPEAN),
    ],
)
def test_a_load_that_says_enough_without_a_kind(lines, base):
    text = f'[[load]]\nid = "x"\ncircuit = "kitchen"\n{lines}\n'
    assert faults(extra=text, base=base) == ()


@pytest.mark.parametrize(
    ("circuit", "load", "fits"),
    [
        # NEC 240.4(D): 14 AWG copper 15 A, 12 AWG 20 A, 10 AWG 30 A.
        ('breaker = 15\nwire = "14 AWG"', "running = 100", True),
        ('breaker = 20\nwire = "14 AWG"', "running = 100", False),
        ('breaker = 20\nwire = "12 AWG"', "running = 100", True),
        ('breaker = 25\nwire = "12 AWG"', "running = 100", False),
        ('breaker = 30\nwire = "10 AWG"', "running = 100", True),
        ('breaker = 35\nwire = "10 AWG"', "running = 100", False),
        # NEC Table 310.16: 8 AWG copper 50 A at 75 C, 40 A at 60 C (NM-B, 334.80).
        ('breaker = 50\nwire = "8 AWG"\ncable = "THHN"', "running = 100", True),
        ('breaker = 60\nwire = "8 AWG"\ncable = "THHN"', "running = 100", False),
        ('breaker = 40\nwire = "8 AWG"\ncable = "NM-B"', "running = 100", True),
        ('breaker = 50\nwire = "8 AWG"\ncable = "NM-B"', "running = 100", False),
        # NEC 240.4(B): 6 AWG copper at 60 C carries 55 A, between the standard 50 and 60 A.
        ('breaker = 60\nwire = "6 AWG"\ncable = "NM-B"', "running = 100", True),
        ('breaker = 70\nwire = "6 AWG"\ncable = "NM-B"', "running = 100", False),
        # NEC 240.4(D)(4): 12 AWG aluminium 15 A.
        ('breaker = 15\nwire = "12 AWG"\nmaterial = "aluminium"', "running = 100", True),
        ('breaker = 20\nwire = "12 AWG"\nmaterial = "aluminium"', "running = 100", False),
        # NEC 240.4(G) and 430.52: a circuit of motors alone may have a larger one.
        ('breaker = 20\nwire = "14 AWG"', 'horsepower = "1/2"', True),
        ('breaker = 20\nwire = "14 AWG"', "running = 500\nvolts = 120\nlra = 40", True),
        # 1/2 hp at 115 V runs at 9.8 A (Table 430.248): at most 39.2 A, so 35 A and not 40 A.
        ('breaker = 35\nwire = "14 AWG"', 'horsepower = "1/2"', True),
        # a freezer only plugs in: its circuit is no motor circuit, and 240.4(D) holds.
        ('breaker = 20\nwire = "14 AWG"', 'kind = "chest_freezer"', False),
    ],
)
def test_breaker_against_wire(circuit, load, fits):
    text = f'[[circuit]]\nid = "c"\nname = "C"\nlength = "30 ft"\n{circuit}\n'
    text += f'[[load]]\nid = "x"\ncircuit = "c"\n{load}\n'
    found = faults(extra=text)
    if fits:
        assert found == ()
        return
    assert len(found) == 1
    assert "circuit[3].breaker" in found[0]
    assert "is too large for" in found[0]
    assert "call an electrician" in found[0]
    assert "your local code decides" in found[0]


@pytest.mark.parametrize(("breaker_a", "most_a"), [(40, 39.2), (60, 39.2)])
def test_a_motor_is_no_reason_for_any_breaker(breaker_a, most_a):
    """NEC 430.52(C)(1) Exception 2(c): never beyond 400 % of the table's 9.8 A."""
    text = f'[[circuit]]\nid = "c"\nname = "C"\nlength = "30 ft"\nbreaker = {breaker_a}\nwire = "14 AWG"\n'
    (found,) = faults(extra=text + '[[load]]\nid = "x"\ncircuit = "c"\nhorsepower = "1/2"\n')
    assert f"more than the motors on it ever need: at most {most_a} A" in found


def test_one_plain_load_ends_the_exception_for_motors():
    text = '[[circuit]]\nid = "c"\nname = "C"\nlength = "30 ft"\nbreaker = 20\nwire = "14 AWG"\n'
    motor = '[[load]]\nid = "x"\ncircuit = "c"\nhorsepower = "1/2"\n'
    lamp = '[[load]]\nid = "y"\ncircuit = "c"\nrunning = 60\n'
    assert faults(extra=text + motor) == ()
    assert len(faults(extra=text + motor + lamp)) == 1


@pytest.mark.parametrize(("breaker_a", "fits"), [(20, True), (27, True), (32, False)])
def test_metric_wire_carries_the_printed_current(breaker_a, fits):
    """IEC 60364-5-52 Table B.52.2, method C, two loaded PVC conductors of copper, 2.5 mm2: 27 A."""
    text = '[[circuit]]\nid = "c"\nname = "C"\nlength = "9 m"\nwire = "2.5 mm2"\n'
    found = faults(extra=f"{text}breaker = {breaker_a}\n", base=EUROPEAN)
    assert (found == ()) is fits
    assert fits or "IEC 60364-5-52, method C; your local rules decide" in found[0]


@pytest.mark.parametrize(
    ("lines", "key"),
    [("running = 5001", "running"), ('horsepower = "7.5"', "horsepower"), ("amps = 45\nvolts = 120", "amps")],
)
def test_a_load_bigger_than_the_machine(lines, key):
    text = f'{MACHINE}[[load]]\nid = "x"\ncircuit = "kitchen"\n{lines}\n'
    (found,) = faults(extra=text)
    assert f": load[3].{key} = " in found
    assert 'is more than the machine gives running (5000 W), so "x" can never run on it.' in found


def test_a_load_as_big_as_the_machine_or_not_fed_is_fine():
    load = '[[load]]\nid = "x"\ncircuit = "kitchen"\nrunning = 5000\n'
    assert faults(extra=MACHINE + load) == ()
    main = '[[circuit]]\nid = "m"\nname = "M"\nbreaker = 50\nwire = "6 AWG"\nlength = "9 m"\n'
    big = '[[load]]\nid = "x"\ncircuit = "m"\nrunning = 9000\n'
    assert faults(extra=MACHINE + main + big) == ()


def test_the_better_fuel_decides_what_is_too_big():
    more = '[[generator.on]]\nfuel = "propane"\nrunning = "4 kW"\n'
    load = '[[load]]\nid = "x"\ncircuit = "kitchen"\nrunning = 4500\n'
    assert faults(extra=MACHINE + more + load) == ()


def test_pieces_of_one_load_count_together_against_the_machine():
    load = '[[load]]\nid = "x"\ncircuit = "kitchen"\nrunning = 600\ncount = '
    assert faults(extra=f"{MACHINE}{load}8\n") == ()
    assert len(faults(extra=f"{MACHINE}{load}9\n")) == 1


def test_mains_gas_needs_no_amount():
    text = MACHINE.replace('amount = "10 gal"', "mains = true")
    assert faults(extra=text) == ()
    assert faults(extra=MACHINE.replace('amount = "10 gal"', 'mass = "40 lb"')) == ()


@pytest.mark.parametrize("store", ["house", "hot_water", "freezer"])
def test_a_reading_may_be_of_any_store(store):
    assert faults(extra=COLD + READING.replace('"freezer"\nvalue', f'"{store}"\nvalue')) == ()


def test_panel_spaces_matter_only_where_circuits_are_moved():
    assert faults(extra='[hookup]\nkind = "interlock"\npanel_spaces = 2\n') == ()


def test_two_circuits_of_one_name_leave_the_other_name_dangling():
    found = faults(('id = "kitchen"\nname', 'id = "pump"\npoles = 2\nname'))
    assert len(found) == 2
    assert "circuit[2].id = 'pump': is already the id of circuit[1]." in found[0]
    assert "load[2].circuit = 'kitchen': names no circuit of this file." in found[1]


def test_a_currency_without_a_rate_asks_for_it():
    """ISO 4217: XAU is gold, which no table of ours turns into dollars."""
    (found,) = faults(extra='[prices]\ncurrency = "XAU"\n')
    assert "prices.currency = 'XAU': has no rate in the table" in found
    assert "Add for_a_dollar = how many XAU one US dollar is." in found
    assert faults(extra='[prices]\ncurrency = "XAU"\nfor_a_dollar = 0.00038\n') == ()
    assert faults(extra='[prices]\ncurrency = "EUR"\n') == ()

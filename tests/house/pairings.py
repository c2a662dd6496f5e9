"""Parts of a house file that go together, and how each pair of them can be spoiled."""

from homes import AMERICAN, EUROPEAN

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
        "reading[1].age = '3 h'",
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
        "is not a connector of the reference table. Known, with their trade names: 5-15,",
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
        "generator.on[1].start = '4 kW'",
        "is 4000 W, below running (5000 W). The starting (surge) figure is the larger one.",
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
    "tank_without_boiler": (
        HOT,
        "volume",
        'heated_by = "boiler"\nvolume',
        "heat.heater",
        "is missing. A boiler heats the hot water",
    ),
    "element_of_a_flame": (
        HOT,
        'load = "box"',
        'heated_by = "gas_pilot"\nelement = "4.5 kW"',
        "hot_water.load",
        "is missing. An electric element has a load",
    ),
    "output_of_an_element": (
        HOT,
        "volume",
        'output = "9 kW"\nvolume',
        "hot_water.output = '9 kW'",
        "is of a boiler, a flame or a heat pump, and an element heats this tank.",
    ),
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
    "kind_that_is_part_of_longer_ones": (
        AMERICAN,
        "well_half_hp_three_wire",
        "cpap",
        "load[1].kind = 'cpap'",
        'Did you mean "cpap_with_humidifier" or "cpap_without_humidifier"? Search with: hearthold loads WORD',
    ),
    "kind_like_nothing": (
        AMERICAN,
        "well_half_hp_three_wire",
        "qqq",
        "load[1].kind = 'qqq'",
        "is not a kind of the load catalogue. Search with: hearthold loads WORD",
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
        "load[1].circuit = 'pump'",
        'hangs a load of 240 V on circuit "pump", which has one pole (120 V). Give the circuit poles = 2',
    ),
    "stated_voltage_on_one_pole": (
        AMERICAN,
        'id = "box"',
        'id = "box"\nvolts = 240',
        "load[2].volts = 240",
        'hangs a load of 240 V on circuit "kitchen", which has one pole',
    ),
    "voltage_of_industry": (
        AMERICAN,
        'id = "well"',
        'id = "well"\nvolts = 480',
        "load[1].volts = 480",
        "which is not a voltage of split_120_240. Use 120 or 240.",
    ),
    "voltage_too_low": (
        AMERICAN,
        'id = "box"',
        'id = "box"\nvolts = 12',
        "load[2].volts = 12",
        "which is not a voltage of split_120_240. Use 120 or 240.",
    ),
    "three_phase_voltage": (
        EUROPEAN,
        'id = "well"',
        'id = "well"\nvolts = 400',
        "load[1].volts = 400",
        "which is not a voltage of single_230. Use 230.",
    ),
    "american_voltage_in_europe": (
        EUROPEAN,
        'id = "box"',
        'id = "box"\nvolts = 120',
        "load[2].volts = 120",
        "which is not a voltage of single_230. Use 230.",
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

"""Each check of two parts of the file against each other, with a file that fails it and one that does not."""

from datetime import date

import pytest
from homes import AMERICAN, EUROPEAN, faults
from pairings import CHANGED, COLD, MACHINE, READING, SPOILED

from hearthold.errors import HouseFileError
from hearthold.house.reader import house_from_text


@pytest.mark.parametrize("case", SPOILED.values(), ids=SPOILED)
def test_an_added_part(case):
    part, old, new, key, told = case
    assert faults(extra=part) == (), "the unspoiled part must read"
    assert old in part
    at = part.rindex(old)
    (found,) = faults(extra=part[:at] + new + part[at + len(old) :])
    assert f": {key}" in found
    assert told in found


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


def test_a_load_bigger_than_the_machine_may_stay_off():
    """A range on the panel for essentials does not make a file unusable: a rule tells it."""
    assert faults(extra=f'{MACHINE}[[load]]\nid = "x"\ncircuit = "kitchen"\nrunning = 9000\n') == ()


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


def test_a_name_that_is_near_to_none_is_answered_with_those_there_are():
    (found,) = faults(extra='[[medical]]\nload = "zzzz"\nhours_per_day = 8\n')
    assert "names no load of this file. Known: well, box." in found


RECORD = (
    ("2024-12-15T05:00:00", "9 h"),
    ("2024-12-14T19:10:00", "22 h"),
    ("2020-01-01T00:00:00", "100 days"),
)


def test_past_outages_that_overlap_or_never_end_are_faults_of_the_file():
    rows = "".join(f'[[past_outage]]\nstart = {start}\nlength = "{length}"\n' for start, length in RECORD)
    told = faults(extra=rows)
    assert [line.split(": ", 1)[1] for line in told] == [
        "past_outage[2].length = '22 h': runs into the outage of 2024-12-15 05:00. Correct one, or make them one.",
        "past_outage[3].length = '100 days': lasts 2400 h; allowed: above 0 and at most 90 days. Correct its length.",
    ]


def test_an_outage_to_come_is_a_fault_only_by_the_day():
    text = AMERICAN + '[[past_outage]]\nstart = 2027-07-02T16:00:00\nlength = "9 h"\n'
    assert house_from_text(text).past_outages[0].length_s == 9 * 3600.0
    assert house_from_text(text, today=date(2027, 7, 3)).name
    with pytest.raises(HouseFileError, match="lies after today, 2026-11-29"):
        house_from_text(text, today=date(2026, 11, 29))


@pytest.mark.parametrize(
    "key",
    [
        "generator.last_oil",
        "generator.last_exercised",
        "generator.start_battery_bought",
        "fuel.stock[1].bought",
    ],
)
def test_what_was_done_does_not_lie_in_the_future(key):
    section, _, name = key.rpartition(".")
    text = AMERICAN + MACHINE
    head = "[generator]\n" if section == "generator" else "[[fuel.stock]]\n"
    text = text.replace(head, f"{head}{name} = 2036-05-01\n")
    assert house_from_text(text).name
    assert house_from_text(text, today=date(2036, 5, 1)).name  # today is not after today
    with pytest.raises(HouseFileError, match="lies after today, 2026-11-29") as caught:
        house_from_text(text, today=date(2026, 11, 29))
    assert caught.value.faults[0].key == key

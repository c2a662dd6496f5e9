"""Gaps of a load: the file speaks first, the catalogue fills the rest, and what was filled is listed."""

import pytest
from homes import home, with_load

from hearthold.house.loads import Pattern, Priority
from hearthold.quantities.source import Standing
from hearthold.reference import loads as catalogue

DAY_S = 86400.0


def notes(house, load_id="x"):
    """Figures assumed for one load."""
    head = f"load {load_id}: "
    return {a.item.removeprefix(head): a for a in house.assumptions if a.item.startswith(head)}


def the_load(lines):
    return with_load(lines).load_by_id["x"]


def test_a_kind_fills_everything_and_says_so():
    row, house = catalogue.load("chest_freezer"), with_load('kind = "chest_freezer"')
    load, told = house.load_by_id["x"], notes(house)
    assert (load.running_w, load.low_w, load.high_w) == (row.running_w, row.low_w, row.high_w)
    assert (load.start_va, load.start_kind, load.power_factor) == (
        row.start_va,
        row.start_kind,
        row.power_factor,
    )
    assert (load.duty_frac, load.pattern, load.name) == (row.duty_frac, Pattern(row.pattern), row.name)
    assert set(told) == {"running_w", "start_va", "energy_day"}
    assert told["running_w"].source == row.source
    assert (told["running_w"].low, told["running_w"].value, told["running_w"].high) == (100.0, 160.0, 300.0)
    assert told["energy_day"].value == pytest.approx(row.duty_frac * row.running_w * 24 / 1000)


@pytest.mark.parametrize(
    ("lines", "silent"),
    [
        ("", {"running_w", "start_va", "energy_day"}),
        ("running = 130", {"start_va", "energy_day"}),
        ("start = 900", {"running_w", "energy_day"}),
        ("volts = 120\nlra = 14", {"running_w", "energy_day"}),
        ('energy = "330 kWh/yr"', {"running_w", "start_va"}),
        ("duty = 0.3", {"running_w", "start_va"}),
        ("running = 130\nstart = 900", {"energy_day"}),
        ('running = 130\nenergy = "330 kWh/yr"', {"start_va"}),
        ('running = 130\nstart = 900\nenergy = "330 kWh/yr"', set()),
        ("running = 130\nstart = 900\nduty = 0.3", set()),
        ('amps = 2\nvolts = 120\nstart = 900\nuse = [{ from = "08:00", to = "09:00" }]', set()),
    ],
)
def test_only_what_the_file_does_not_say_is_assumed(lines, silent):
    assert set(notes(with_load(f'kind = "chest_freezer"\n{lines}'))) == silent


@pytest.mark.parametrize(
    ("lines", "silent"),
    [
        ("running = 60", {"duty"}),
        ("running = 60\nduty = 0.2", set()),
        ('horsepower = "1/2"\nvolts = 115', {"start_va", "duty"}),
        ('horsepower = "1/2"\nvolts = 115\ncode_letter = "L"\nduty = 0', set()),
    ],
)
def test_without_a_kind_too(lines, silent):
    assert set(notes(with_load(lines))) == silent


def test_every_assumption_has_a_range_about_its_value_and_a_source():
    house = home(extra='[[load]]\nid = "x"\ncircuit = "kitchen"\nrunning = 60\n')
    assert len(house.assumptions) >= 5
    for note in house.assumptions:
        assert note.low <= note.value <= note.high
        assert note.source.text
        assert note.unit
        assert note.source.standing is not Standing.GIVEN


def test_a_start_too_small_to_matter_is_not_told():
    """Below 500 VA no start decides anything: the list stays short enough to be read."""
    assert "start_va" not in notes(with_load('kind = "led_house"\nrunning = 40'))


def test_energy_of_a_label_is_of_one_piece():
    lines = 'kind = "chest_freezer"\nrunning = 100\nenergy = "1.2 kWh/day"'
    one, three = the_load(lines), the_load(f"{lines}\ncount = 3")
    assert one.energy_day_j == pytest.approx(1.2 * 3.6e6)
    assert three.energy_day_j == pytest.approx(3 * 1.2 * 3.6e6)
    assert one.duty_frac == pytest.approx(0.5)
    assert three.duty_frac == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("lines", "duty", "kwh_per_day"),
    [
        ("running = 100\nduty = 0.25", 0.25, 0.6),
        ('running = 100\nenergy = "0.6 kWh/day"', 0.25, 0.6),
        ('running = 100\nenergy = "0.6 kWh/day"\nduty = 0.5', 0.5, 0.6),
        ('running = 100\nenergy = "9.6 kWh/day"', 1.0, 9.6),  # more than running could give: duty stops at 1
        ('running = 100\nenergy = "0.6 kWh/day"\nduty = 0', 0.0, 0.6),
        ('running = 100\nuse = [{ from = "06:00", to = "12:00" }]', 0.25, 0.6),
        ('running = 100\nuse = [{ from = "21:00", to = "03:00" }]', 0.25, 0.6),
        ('running = 100\nuse = [{ from = "00:00", to = "24:00" }]', 1.0, 2.4),
        ('running = 100\nuse = [{ from = "06:00", to = "06:00" }]', 1.0, 2.4),
        (
            'running = 100\nuse = [{ from = "06:00", to = "09:00" }, { from = "18:00", to = "21:00" }]',
            0.25,
            0.6,
        ),
        ("running = 100", 0.02, 0.048),
    ],
)
def test_duty_and_energy_a_day(lines, duty, kwh_per_day):
    load = the_load(lines)
    assert load.duty_frac == pytest.approx(duty)
    assert load.energy_day_j == pytest.approx(kwh_per_day * 3.6e6)


def test_a_label_alone_gives_watts_with_a_duty():
    """An energy label of 350.6328 kWh a year is a mean of 40 W; on for 40 % of the time, so 100 W."""
    load = the_load('energy = "350.6328 kWh/yr"\nduty = "40 %"')
    assert load.running_w == pytest.approx(100.0, rel=1e-6)


@pytest.mark.parametrize(
    ("lines", "pattern"),
    [
        ('kind = "chest_freezer"', Pattern.CYCLING),
        ('kind = "clothes_washer"', Pattern.SCHEDULED),
        ('kind = "chest_freezer"\npattern = "continuous"', Pattern.CONTINUOUS),
        ("running = 60", Pattern.ON_DEMAND),
        ('running = 60\nuse = [{ from = "06:00", to = "09:00" }]', Pattern.SCHEDULED),
        ('running = 60\npattern = "cycling"\nuse = [{ from = "06:00", to = "09:00" }]', Pattern.CYCLING),
    ],
)
def test_pattern(lines, pattern):
    assert the_load(lines).pattern is pattern


def test_times_of_use_are_kept_in_seconds_of_the_day():
    load = the_load('running = 60\nuse = [{ from = "21:30", to = "03:00" }]')
    assert load.use == ((77400.0, 10800.0),)


@pytest.mark.parametrize(
    ("lines", "priority"),
    [
        ('kind = "chest_freezer"', Priority.ESSENTIAL),
        ('kind = "clothes_washer"', Priority.DEFER),
        ('kind = "cpap_with_humidifier"', Priority.VITAL),
        ('kind = "clothes_washer"\npriority = "vital"', Priority.VITAL),
        ("running = 60", Priority.COMFORT),
        ('running = 60\npriority = "Defer"', Priority.DEFER),
    ],
)
def test_priority_from_the_catalogue_or_the_file(lines, priority):
    assert the_load(lines).priority is priority


def test_priorities_are_ranked():
    assert [p.rank for p in Priority] == [0, 1, 2, 3]


def test_a_soft_starter_takes_away_most_of_the_start():
    """Soft starters of fixed-speed compressors: 50 to 70 % less inrush (trade practice, from memory)."""
    hard = the_load('kind = "central_ac_3_ton"\nrunning = 1500\nvolts = 120\nlra = 80')
    soft = the_load('kind = "central_ac_3_ton"\nrunning = 1500\nvolts = 120\nlra = 80\nsoft_start = true')
    assert hard.start_va == 80 * 120
    assert soft.start_kind == "soft_start"
    assert 0.3 <= soft.start_va / hard.start_va <= 0.6


def test_stated_watts_scale_the_start_by_the_way_it_starts():
    """A compressor starts at 4 to 8 times its running apparent power (trade note, table start_kinds)."""
    load = the_load('kind = "chest_freezer"\nrunning = 100')
    assert 4.0 <= load.start_va / load.running_va <= 8.0


def test_names_and_groups():
    assert the_load("running = 60").name == "x"
    assert the_load("running = 60").group == "other"
    assert the_load('running = 60\nname = "Lamp"').name == "Lamp"
    assert the_load('kind = "chest_freezer"').group == "cold"

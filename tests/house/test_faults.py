"""Each kind of fault is one line: file, line, key counted from 1, value, what is allowed, what to do."""

import pytest
from homes import AMERICAN, changed, faults

from hearthold.errors import HouseFileError
from hearthold.house.reader import house_from_text


def line_of(text, start):
    """Line, counted from 1, of the first line that begins so."""
    return next(n for n, line in enumerate(text.split("\n"), start=1) if line.startswith(start))


# name: (text replaced, text instead, start of the line told, key told, what is told)
ONE = {
    "unknown_key": (
        "count = 2",
        "count = 2\ncuont = 3",
        "cuont",
        "people.cuont = 3",
        'is not a key known here. Did you mean "count"? Keys here: count, awake_from,',
    ),
    "unknown_key_with_a_dash": (
        'system = "s',
        'time-zone = "UTC"\nsystem = "s',
        "time-zone",
        "site.time-zone = 'UTC'",
        'is not a key known here. Did you mean "time_zone"?',
    ),
    "unknown_key_with_a_space": (
        "count = 2",
        'count = 2\n"can lift" = 3',
        '"can lift"',
        "people.can lift = 3",
        'is not a key known here. Did you mean "can_lift"?',
    ),
    "unit_suffix_in_the_key": (
        "count = 2",
        'count = 2\ncan_lift_kg = "20 kg"',
        "can_lift_kg",
        "people.can_lift_kg = '20 kg'",
        'is not a key known here. Did you mean "can_lift"?',
    ),
    "unknown_section": (
        "[people]",
        "[poeple]\ncount = 1\n[people]",
        "[poeple]",
        "poeple",
        'is not a key known here. Did you mean "people"?',
    ),
    "wrong_unit": (
        'length = "100 ft"',
        'length = "100 lb"',
        "length",
        "circuit[1].length = '100 lb'",
        '"lb" is a unit of mass, and this is a length; use one of m, cm, mm, km, ft, in, yd.',
    ),
    "unknown_unit": (
        'length = "100 ft"',
        'length = "100 feet"',
        "length",
        "circuit[1].length = '100 feet'",
        '"feet" is not a unit of length known here; use one of m, cm, mm, km, ft, in, yd.',
    ),
    "no_unit": (
        'length = "100 ft"',
        "length = 100",
        "length",
        "circuit[1].length = 100",
        '100 has no unit; write for example "50 ft" or "15 m"',
    ),
    "negative": (
        'length = "100 ft"',
        'length = "-100 ft"',
        "length",
        "circuit[1].length = '-100 ft'",
        "is outside the allowed 0 to 9843 ft.",
    ),
    "out_of_range": (
        'length = "100 ft"',
        'length = "100 km"',
        "length",
        "circuit[1].length = '100 km'",
        "is outside the allowed 0 to 3 km.",
    ),
    "out_of_range_bare": (
        "breaker = 20",
        "breaker = 20000",
        "breaker",
        "circuit[1].breaker = 20000",
        "is outside the allowed 1 to 1000 A.",
    ),
    "not_finite": (
        "breaker = 20",
        "breaker = inf",
        "breaker",
        "circuit[1].breaker = inf",
        "must be a finite number.",
    ),
    "plain_out_of_range": (
        "latitude = 44.0",
        "latitude = 80.0",
        "latitude",
        "site.latitude = 80.0",
        "must be at most 72.",
    ),
    "not_a_number": ("latitude = 44.0", "latitude = nan", "latitude", "site.latitude = nan", "must be at"),
    "count_zero": ("count = 2", "count = 0", "count", "people.count = 0", "must be at least 1."),
    "count_half": ("count = 2", "count = 2.5", "count", "people.count = 2.5", "needs a whole number."),
    "count_true": (
        "count = 2",
        "count = true",
        "count",
        "people.count = true",
        "needs a number, not true or false.",
    ),
    "count_huge": (
        "count = 2",
        "count = 0x" + "f" * 5000,
        "count",
        "people.count = a number of more than 90 digits",
        "must be at most 60.",
    ),
    "missing_key": (
        'system = "split_120_240"\n',
        "",
        "[site]",
        "site.system",
        "is missing. Add system = ... to site.",
    ),
    "missing_key_in_a_row": (
        'wire = "14 AWG"\n',
        "",
        "[[circuit]]#2",
        "circuit[2].wire",
        "is missing. Add wire = ... to circuit[2].",
    ),
    "missing_section": (
        "[people]\ncount = 2\n",
        "",
        "",
        "people",
        "is missing. Add a [people] section with count.",
    ),
    "wrong_type_text": (
        "count = 2",
        'count = "two"',
        "count",
        "people.count = 'two'",
        "needs a whole number.",
    ),
    "wrong_type_number": (
        'name = "Pump"',
        "name = 5",
        "name = 5",
        "circuit[1].name = 5",
        "needs text in quotes.",
    ),
    "wrong_type_bool": (
        "count = 2",
        'count = 2\n[wishes]\nrun_at_night = "perhaps"',
        "run_at_night",
        "wishes.run_at_night = 'perhaps'",
        "needs true or false.",
    ),
    "list_for_text": (
        "count = 2",
        "count = 2\n[[medical]]\nload = []\nhours_per_day = 8",
        "load",
        "medical[1].load",
        "needs text in quotes.",
    ),
    "list_expected": (
        "mean = [-8, -7, -2, 5, 12, 17, 20, 19, 14, 8, 2, -5]",
        "mean = 5",
        "mean",
        "climate.mean = 5",
        "needs a list in square brackets.",
    ),
    "too_few": ("-8, -7, ", "", "mean", "climate.mean", "has 10 entries; needs 12."),
    "too_many": ("-8, -7, ", "1, 2, 3, ", "mean", "climate.mean", "has 13 entries; needs 12."),
    "too_long": (
        'name = "Pump"',
        f'name = "{"x" * 200}"',
        'name = "xxx',
        "circuit[1].name = 'xxx",
        "has 200 characters; at most 120 are allowed.",
    ),
    "empty_text": (
        'name = "Pump"',
        'name = " "',
        'name = " "',
        "circuit[1].name = ' '",
        "must not be empty.",
    ),
    "unknown_word": (
        "poles = 2",
        'poles = 2\nmaterial = "coper"',
        "material",
        "circuit[1].material = 'coper'",
        'is not one of the words allowed: copper or aluminium. Did you mean "copper"?',
    ),
    "unknown_enum": (
        'system = "split_120_240"',
        'system = "split_120"',
        "system",
        "site.system = 'split_120'",
        'split_120_240 or single_230. Did you mean "split_120_240"?',
    ),
    "bad_clock": (
        "count = 2",
        'count = 2\nawake_from = "25:00"',
        "awake_from",
        "people.awake_from = '25:00'",
        'needs a time of day such as "06:30".',
    ),
    "bad_clock_minutes": (
        "count = 2",
        'count = 2\nawake_from = "24:30"',
        "awake_from",
        "people.awake_from = '24:30'",
        'needs a time of day such as "06:30".',
    ),
    "bad_clock_number": (
        "count = 2",
        "count = 2\nawake_from = 6",
        "awake_from",
        "people.awake_from = 6",
        'needs a time of day such as "06:30".',
    ),
    "bad_wire": (
        'wire = "12 AWG"',
        'wire = "12"',
        "wire",
        "circuit[1].wire = '12'",
        'is not written as expected. Write a conductor size such as "12 AWG", "2/0 AWG" or "2.5 mm2".',
    ),
    "bad_id": (
        'id = "pump"',
        'id = "the pump"',
        'id = "the',
        "circuit[1].id = 'the pump'",
        "is not written as expected. Use letters, digits, dot, dash and underscore, at most 40, no spaces.",
    ),
    "bad_code_letter": (
        'id = "well"',
        'id = "well"\ncode_letter = "O"',
        "code_letter",
        "load[1].code_letter = 'O'",
        "Write the motor's code letter, A to V without I, O and Q.",
    ),
    "bad_country": (
        "latitude = 44.0",
        'latitude = 44.0\ncountry = "USA"',
        "country",
        "site.country = 'USA'",
        "Write the two-letter code of the country",
    ),
    "bad_zone": (
        "latitude = 44.0",
        'latitude = 44.0\ntime_zone = "Mars/Base"',
        "time_zone",
        "site.time_zone = 'Mars/Base'",
        'is not a time zone; write an IANA name such as "America/New_York".',
    ),
    "bad_unit_letter": ('unit = "C"', 'unit = "K"', "unit", "climate.unit = 'K'", 'Write "C" or "F".'),
    "no_climate": (
        "mean = [-8, -7, -2, 5, 12, 17, 20, 19, 14, 8, 2, -5]\n",
        "",
        "[climate]",
        "climate",
        "needs twelve monthly means (mean = [...]) or a weather_file.",
    ),
    "mean_in_the_other_unit": (
        "17, 20, 19",
        "63, 68, 66",
        "[climate]",
        "climate",
        "has a monthly mean outside -60 to 45 C; is the unit right?",
    ),
    "bad_date": (
        "count = 2",
        'count = 2\n[[past_outage]]\nstart = "soon"\nlength = "2 h"',
        "start",
        "past_outage[1].start = 'soon'",
        "is not a date that can be read. Write date and time without quotes",
    ),
    "number_for_a_date": (
        "count = 2",
        'count = 2\n[[past_outage]]\nstart = 2021\nlength = "2 h"',
        "start",
        "past_outage[1].start = 2021",
        "needs a date without quotes, such as 2025-11-30.",
    ),
    "format_of_tomorrow": (
        "[house]",
        "format = 2\n[house]",
        "format",
        "format = 2",
        "is not one of the words allowed: 1.",
    ),
    "zero_horsepower": (
        'id = "well"',
        'id = "well"\nhorsepower = "0 hp"',
        "horsepower",
        "load[1].horsepower = '0 hp'",
        "must be more than 0.",
    ),
    "horsepower_in_amps": (
        'id = "well"',
        'id = "well"\nhorsepower = "3 A"',
        "horsepower",
        "load[1].horsepower = '3 A'",
        '"A" is a unit of current, and this is a power',
    ),
    "divided_by_zero": (
        'id = "well"',
        'id = "well"\nhorsepower = "1/0"',
        "horsepower",
        "load[1].horsepower = '1/0'",
        "1/0 divides by zero.",
    ),
}


@pytest.mark.parametrize("case", ONE.values(), ids=ONE)
def test_one_fault_is_one_line(case):
    old, new, start, key, told = case
    text = changed((old, new))
    found = faults((old, new))
    assert len(found) == 1
    where = (
        f":{line_of_second(text)}" if start.endswith("#2") else f":{line_of(text, start)}" if start else ""
    )
    assert found[0].startswith(f"house.toml{where}: {key}")
    assert told in found[0]


def line_of_second(text):
    lines = [n for n, line in enumerate(text.split("\n"), start=1) if line == "[[circuit]]"]
    return lines[1]


@pytest.mark.parametrize(
    "written", ["Manual transfer", "manual-transfer", " MANUAL_TRANSFER ", "manual_transfer"]
)
def test_case_spaces_and_dashes_of_a_word_are_folded(written):
    assert faults(extra=f'[hookup]\nkind = "{written}"\n') == ()


@pytest.mark.parametrize("written", ["Vital", "VITAL", " vital "])
def test_priorities_are_folded_too(written):
    assert faults(('id = "box"', f'id = "box"\npriority = "{written}"')) == ()


def test_every_fault_is_told_in_file_order():
    found = faults(
        ("count = 2", "count = 0"), ("breaker = 20", "breaker = -1"), ('name = "Kitchen"', "name = 1")
    )
    assert [line.split(": ")[1].split(" = ")[0] for line in found] == [
        "people.count", "circuit[1].breaker", "circuit[2].name",
    ]  # fmt: skip


def test_a_missing_list_of_tables_is_asked_for_with_double_brackets():
    text = AMERICAN[: AMERICAN.index("[[load]]")]
    with pytest.raises(
        HouseFileError, match=r"load: is missing\. Add a \[\[load\]\] section with id, circuit\."
    ):
        house_from_text(text)


def test_a_missing_climate_is_asked_for_with_what_it_says():
    head, tail = AMERICAN.split("[climate]")
    with pytest.raises(
        HouseFileError,
        match=r"climate: is missing\. Add a \[climate\] section with twelve monthly means .* or a weather_file\.",
    ):
        house_from_text(head + tail[tail.index("[[circuit]]") :])


def test_a_breaker_of_nothing_is_refused():
    with pytest.raises(
        HouseFileError, match=r"circuit\[2\]\.breaker = 0: is outside the allowed 1 to 1000 A\."
    ):
        house_from_text(AMERICAN.replace("breaker = 15", "breaker = 0"))


def test_a_missing_inner_table_is_asked_for_by_its_whole_name():
    machine = '[generator]\nname = "x"\nreceptacle = "L14-30"\n[fuel]\npreferred = "gasoline"\n'
    (found,) = faults(extra=machine)
    assert "generator.on: is missing. Add a [[generator.on]] section with fuel, running." in found


def test_a_fault_inside_an_inline_table_is_told_with_its_line():
    extra = '[hookup]\nkind = "cords"\ncord = { wire = "10 AWG", cable = "rope", length = "25 ft" }\n'
    (found,) = faults(extra=extra)
    assert "hookup.cord.cable = 'rope'" in found
    assert found.startswith(f"house.toml:{AMERICAN.count(chr(10)) + 3}:")


def test_a_fault_deep_in_lists_is_counted_from_one():
    extra = (
        '[generator]\nname = "x"\nreceptacle = "L14-30"\n[fuel]\npreferred = "gasoline"\n'
        '[[generator.on]]\nfuel = "gasoline"\nrunning = "5 kW"\n'
        '[[generator.on]]\nfuel = "propane"\nrunning = "5 kW"\n'
        'printed = [{ load = "50 %", hours = "9 h" },\n  { load = "150 %", hours = "5 h" }]\n'
    )
    (found,) = faults(extra=extra)
    assert "generator.on[2].printed[2].load = '150 %': is outside the allowed 0 to 100 %." in found
    assert found.startswith(f"house.toml:{AMERICAN.count(chr(10)) + 13}:")


def test_a_table_where_a_value_belongs_and_a_value_where_a_table_belongs():
    assert "needs a table of keys" in faults(('[people]\ncount = 2', "")
        , base="people = 3\n" + AMERICAN)[0]  # fmt: skip
    (found,) = faults(("count = 2", "count = { a = 1 }"))
    assert "people.count: needs a whole number." in found


def test_long_values_are_cut_short():
    (found,) = faults(("count = 2", f'count = 2\nodd = "{"y" * 5000}"'))
    assert "yyy..." in found
    assert len(found) < 400


def test_too_many_loads():
    rows = "".join(f'[[load]]\nid = "n{i}"\ncircuit = "kitchen"\nrunning = 1\n' for i in range(400))
    (found,) = faults(extra=rows)
    assert "load: has 402 entries; at most 400 are allowed." in found

"""Each kind of fault is one line: file, line, key counted from 1, value, what is allowed, what to do."""

import pytest
from homes import AMERICAN, changed, faults
from single_faults import ONE

from hearthold.errors import HouseFileError
from hearthold.house.reader import house_from_text


def line_of(text, start):
    """Line, counted from 1, of the first line that begins so."""
    return next(n for n, line in enumerate(text.split("\n"), start=1) if line.startswith(start))


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

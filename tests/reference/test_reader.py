"""The reader refuses a broken table and says where it is broken."""

from pathlib import Path

import pytest

from hearthold.errors import TableError
from hearthold.quantities.source import Standing
from hearthold.reference.parsing import column_units, parse_table
from hearthold.reference.reader import read_place, table

GOOD = """
[table]
title = "Wire"
meaning = "resistance by size"
source = "invented for this test"
standing = "seen"
systems = ["split_120_240"]
key = ["size_awg"]

[table.columns.size_awg]
unit = "AWG"
meaning = "size"

[table.columns.metal]
unit = "text"
meaning = "metal"
required = false
choices = ["cu", "al"]

[table.columns.resistance_ohm_per_kft]
unit = "ohm/kft"
meaning = "resistance"
range = [0.1, 10.0]
monotone = "strict_down"

[[row]]
size_awg = "12"
resistance_ohm_per_kft = 2.0

[[row]]
size_awg = "10"
metal = "cu"
resistance_ohm_per_kft = 1.2
standing = "memory"
note = "rounded"
"""

GRID = GOOD[: GOOD.index("[[row]]")] + (
    '[grid]\ncolumns = ["size_awg", "metal", "resistance_ohm_per_kft", "standing"]\n'
    'rows = [["12", "", 2.0, "seen"], ["10", "cu", 1.2, "memory"]]\n'
)


def broken(old, new, text=GOOD):
    assert old in text
    return text.replace(old, new, 1)


def test_a_good_table_is_read_with_units_and_standing():
    found = parse_table("wire.toml", GOOD)
    row = found.row("10")
    assert found.name == "wire"
    assert row.si("resistance_ohm_per_kft") == pytest.approx(1.2 / 304.8, rel=1e-12)
    assert row.source("resistance_ohm_per_kft").standing is Standing.MEMORY
    assert found.row("12").source().standing is Standing.SEEN
    assert row.note == "rounded"
    assert row.systems == ("split_120_240",)


def test_a_grid_reads_like_blocks():
    blocks, grid = parse_table("wire.toml", GOOD), parse_table("wire.toml", GRID)
    assert [dict(r.cells) for r in blocks] == [dict(r.cells) for r in grid]
    assert "metal" not in grid.row("12")


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (broken('source = "invented for this test"\n', ""), r"wire\.toml: the head lacks source"),
        (broken('source = "invented for this test"', 'source = " "'), r"wire\.toml: source is empty"),
        (
            broken('standing = "seen"', 'standing = "rumour"'),
            r"standing is 'rumour'; use one of seen, computed",
        ),
        (
            broken('unit = "ohm/kft"', 'unit = "ohm/furlong"'),
            r"column resistance_ohm_per_kft: unknown unit 'ohm/furl",
        ),
        (
            broken('unit = "ohm/kft"', 'unit = "ohm/km"'),
            r"the name must end in ohm_per_km, its unit being ohm/km",
        ),
        (broken("\nresistance_ohm_per_kft = 2.0", ""), r"row 1: column resistance_ohm_per_kft is missing"),
        (broken('size_awg = "12"\n', 'size_awg = "12"\ncolour = "red"\n'), r"row 1: unknown column colour"),
        (
            broken("= 2.0", "= 20.0"),
            r"row 1, column resistance_ohm_per_kft: 20 ohm/kft is outside 0\.1 to 10",
        ),
        (broken("= 2.0", '= "two"'), r"row 1, column resistance_ohm_per_kft: 'two' is not a number"),
        (broken("= 2.0", "= true"), r"True is not a number"),
        (broken("= 2.0", "= nan"), r"nan ohm/kft is outside"),
        (
            broken("= 2.0", "= 1.0"),
            r"row 2, column resistance_ohm_per_kft: 1\.2 follows 1, but it is strict_down",
        ),
        (broken('size_awg = "10"', 'size_awg = "12"'), r"row 2: 12 is named twice"),
        (broken('metal = "cu"', 'metal = "tin"'), r"row 2, column metal: 'tin' is not one of cu, al"),
        (broken('size_awg = "10"', "size_awg = 10"), r"row 2, column size_awg: 10 is not text"),
        (broken('key = ["size_awg"]', 'key = ["size"]'), r"key names size, which is no column"),
        (broken('title = "Wire"', 'title = "Wire"\nauthor = "me"'), r"unknown key author in the head"),
        (
            broken('monotone = "strict_down"', 'monotone = "sideways"'),
            r"monotone is 'sideways'; use one of up",
        ),
        (broken("split_120_240", "single_100"), r"unknown voltage system single_100"),
        (broken('note = "rounded"', 'seen = ["colour"]'), r"row 2: seen names colour"),
        (GOOD[: GOOD.index("[[row]]")], r"wire\.toml: no rows"),
        (GOOD + "\n[", r"wire\.toml: not readable as TOML"),
        (broken('["12", "", 2.0, "seen"]', '["12", 2.0]', GRID), r"grid row 1: 2 cells for 4 columns"),
        (
            broken('meaning = "size"\n', 'meaning = "size"\nmoniker = "x"\n'),
            r"column size_awg: .*unknown key moniker",
        ),
    ],
)
def test_a_broken_table_is_refused_with_its_place(text, message):
    with pytest.raises(TableError, match=message):
        parse_table("wire.toml", text)


def test_rows_outside_the_group_are_not_compared():
    grouped = broken('monotone = "strict_down"', 'monotone = "strict_down"\nwithin = ["metal"]')
    assert len(parse_table("wire.toml", broken("= 2.0", "= 1.0", grouped))) == 2


def test_a_list_of_seen_cells_leaves_the_others_to_memory():
    text = broken('note = "rounded"', 'seen = ["metal"]')
    row = parse_table("wire.toml", text).row("10")
    assert row.standing_of("metal") is Standing.SEEN
    assert row.standing_of("resistance_ohm_per_kft") is Standing.MEMORY


def test_a_column_can_only_lower_the_standing():
    text = broken("range = [0.1, 10.0]", 'range = [0.1, 10.0]\nstanding = "computed"')
    found = parse_table("wire.toml", text)
    assert found.row("12").standing_of("resistance_ohm_per_kft") is Standing.COMPUTED
    assert found.row("10").standing_of("resistance_ohm_per_kft") is Standing.MEMORY


def test_pages_of_rows_join_one_table():
    page = '[[row]]\nsize_awg = "8"\nresistance_ohm_per_kft = 0.8\n'
    assert [r.text("size_awg") for r in parse_table("wire/", GOOD, [("wire/big.toml", page)])] == [
        "12",
        "10",
        "8",
    ]
    with pytest.raises(TableError, match=r"wire/big\.toml, row 1: column resistance_ohm_per_kft is missing"):
        parse_table("wire/", GOOD, [("wire/big.toml", '[[row]]\nsize_awg = "8"\n')])


def test_a_folder_on_disk_is_read_with_its_head(tmp_path):
    (tmp_path / "_head.toml").write_text(GOOD, "utf-8")
    (tmp_path / "big.toml").write_text('[[row]]\nsize_awg = "8"\nresistance_ohm_per_kft = 0.8\n', "utf-8")
    assert len(read_place("wire", tmp_path)) == 3


def test_a_miss_names_what_is_near():
    found = parse_table("wire.toml", GOOD)
    with pytest.raises(TableError, match=r"table wire has no row with size_awg = 14; near: 1[02]"):
        found.row("14")
    with pytest.raises(TableError, match=r"no row with size_awg = zzz; known: 12; 10"):
        found.row("zzz")


def test_a_cell_is_read_as_what_it_is():
    row = parse_table("wire.toml", GOOD).row("12")
    with pytest.raises(TableError, match="column metal: the table leaves this blank"):
        row.text("metal")
    with pytest.raises(TableError, match=r"no column colour; there are size_awg, metal, resistance"):
        row.si("colour")
    with pytest.raises(TableError, match=r"'12' is not a number"):
        row.number("size_awg")
    with pytest.raises(TableError, match=r"2\.0 is not text"):
        row.text("resistance_ohm_per_kft")
    with pytest.raises(TableError, match=r"2\.0 is neither true nor false"):
        row.flag("resistance_ohm_per_kft")


def test_an_unknown_table_names_what_is_near():
    with pytest.raises(TableError, match=r"no table 'cold_applianses'; near: cold_appliances"):
        table("cold_applianses")


def test_a_table_and_its_rows_cannot_be_changed():
    row = table("ampacity").row("cu", 75, "10")
    with pytest.raises(TypeError):
        row.cells["ampacity_a"] = 99.0
    with pytest.raises(AttributeError):
        row.note = "changed"


def test_a_table_is_read_once():
    assert table("ampacity") is table("ampacity")


# Exact by definition (NIST SP 811): 1 ft = 0.3048 m, 1 Btu/lb = 2326 J/kg, 1 hp = 550 ft lbf/s, degC.
@pytest.mark.parametrize(
    ("unit", "value", "expect"),
    [
        ("ohm/kft", 304.8, 1.0),
        ("F", 212.0, 100.0),
        ("F rise", 180.0, 100.0),
        ("rpm", 3600.0, 60.0),
        ("h", 1.0, 3600.0),
        ("Btu/lb", 1.0, 2326.0),
        ("cmil", 1e6, 5.067074790974977e-4),
        ("kVA/hp", 0.7456998715822702, 1.0),
    ],
)
def test_column_units_become_si(unit, value, expect):
    assert column_units()[unit].to_si(value) == pytest.approx(expect, rel=1e-12)


def test_the_example_of_the_guide_is_a_table():
    guide = Path(__file__).parents[2] / "docs" / "reference-data.md"
    example = guide.read_text("utf-8").split("```toml\n")[1].split("```")[0]
    assert parse_table("cords.toml", example).row("10").si("column_b_a") == 30.0

"""The guide to the house file says what the models say, and what it shows can be read."""

import math
import re
from pathlib import Path

import pytest

from hearthold.house import page, schema
from hearthold.house.document import HouseDocument
from hearthold.house.fields import key_of
from hearthold.house.reader import house_from_text
from hearthold.quantities import units

DOCS = Path(__file__).parents[2] / "docs" / "house-file.md"
PAGE = page.house_page()
SECTIONS = {schema.section_name(s): s for s in schema.sections() if s is not HouseDocument}


def test_the_printed_page_is_this_one():
    """Made with: python -m hearthold.house.page > docs/house-file.md"""
    assert DOCS.read_text("utf-8") == PAGE


def test_every_section_has_words_and_every_words_a_section():
    assert set(page.guide()["section"]) == set(SECTIONS)


@pytest.mark.parametrize("name", SECTIONS)
def test_every_key_has_its_row(name):
    at = re.search(rf"^## `\[+{re.escape(name)}\]+`$", PAGE, re.M)
    rows = PAGE[at.end() :].split("\n## ")[0]
    keys = re.findall(r"^\| `([a-z_]+)` \|", rows, re.M)
    assert keys == [key_of(field) for field in SECTIONS[name].model_fields]


def test_tables_have_four_cells():
    for row in re.findall(r"^\| `[a-z_]+` \|.*$", PAGE, re.M):
        assert len(re.findall(r"(?<!\\)\|", row)) == 5, row


def test_what_is_assumed_is_told_of_optional_keys_only():
    for name, keys in page.guide()["assumed"].items():
        fields = {key_of(n): f for n, f in SECTIONS[name].model_fields.items()}
        for key in keys:
            assert not fields[key].is_required(), f"{name}.{key}"


def test_required_keys_are_marked():
    required = sum(f.is_required() for s in SECTIONS.values() for f in s.model_fields.values())
    assert PAGE.count("**must be given**") == required > 40


def test_samples_can_be_read():
    for place, sample in page.guide()["written"].items():
        if "." not in place:
            assert math.isfinite(units.parse(sample, place))
            continue
        name, _, key = place.rpartition(".")
        field = next(f for n, f in SECTIONS[name].model_fields.items() if key_of(n) == key)
        mark = page._quantity(field)
        assert mark.read(sample) > 0.0


@pytest.mark.parametrize("dimension", [d for d in page.guide()["written"] if "." not in d])
def test_every_unit_of_a_dimension_is_listed(dimension):
    row = next(line for line in PAGE.split("\n") if line.startswith(f"| {dimension.replace('_', ' ')} |"))
    assert re.findall(r"`([^`]+)`", row) == list(units.dimensions()[dimension].units)
    assert ("is refused" in row) == (not units.dimensions()[dimension].plain)


def test_the_first_file_reads():
    (text,) = re.findall(r"```toml\n(.*?)```", PAGE, re.S)
    house = house_from_text(text)
    assert [load.id for load in house.loads] == ["pump", "freezer"]
    assert house.cold[0].is_freezer


def test_no_line_of_prose_promises_safety():
    assert not re.search(r"\b(is|are) (safe|compliant)\b", PAGE)

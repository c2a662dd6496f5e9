"""The schema says what the models say, in the words of keys.toml, and the examples obey it."""

import json
import tomllib
from datetime import date, datetime, time
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from hearthold.house import schema
from hearthold.house.document import HouseDocument
from hearthold.house.fields import key_of
from hearthold.quantities import units

ROOT = Path(__file__).parents[2]
SCHEMA = schema.house_schema()


def as_json(value):
    """TOML values as an editor's schema checker sees them: dates and times are strings."""
    if isinstance(value, dict):
        return {key: as_json(item) for key, item in value.items()}
    if isinstance(value, list):
        return [as_json(item) for item in value]
    return value.isoformat() if isinstance(value, datetime | date | time) else value


def properties():
    for definition in [SCHEMA, *SCHEMA["$defs"].values()]:
        yield from definition.get("properties", {}).items()


def test_is_a_valid_schema():
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("section", schema.sections(), ids=lambda s: schema.section_name(s) or "file")
def test_every_key_has_a_note_and_every_note_a_key(section):
    notes = schema.key_notes()[schema.section_name(section) or "file"]
    assert set(notes) == {key_of(name) for name in section.model_fields}
    assert all(note and not note.endswith(".") for note in notes.values())


def test_keys_carry_no_unit_suffix():
    suffixes = tuple(f"_{suffix}" for suffix in units.si_suffixes())
    assert not [key for key, _ in properties() if key.endswith(suffixes)]


def test_every_key_is_described():
    assert not [key for key, entry in properties() if not entry.get("description")]


@pytest.mark.parametrize("path", sorted((ROOT / "examples").glob("*.toml")), ids=lambda p: p.stem)
def test_examples_obey_the_schema(path):
    document = as_json(tomllib.loads(path.read_text("utf-8")))
    assert [e.message for e in Draft202012Validator(SCHEMA).iter_errors(document)] == []


@pytest.mark.parametrize(
    ("change", "complaint"),
    [
        ({"hose": {}}, "hose"),
        ({"format": 2}, "1 was expected"),
        ({"people": {"count": 0}}, "less than the minimum"),
        ({"site": {"place": "x", "latitude": 1, "longitude": 1, "system": "three_phase"}}, "is not one of"),
    ],
)
def test_schema_refuses_what_the_reader_refuses(change, complaint):
    good = as_json(tomllib.loads((ROOT / "examples" / "tarn_hollow.toml").read_text("utf-8")))
    messages = [e.message for e in Draft202012Validator(SCHEMA).iter_errors(good | change)]
    assert any(complaint in message for message in messages)


def test_defaults_read_back_as_the_models_have_them():
    checked = 0
    for section in schema.sections():
        name = section.__name__
        entries = (SCHEMA if section is HouseDocument else SCHEMA["$defs"][name])["properties"]
        for field_name, field in section.model_fields.items():
            default = entries[key_of(field_name)].get("default")
            dimension = schema.dimension_of(field_name)
            if isinstance(default, str) and dimension and ":" not in default:
                assert units.parse(default, dimension) == pytest.approx(field.default, rel=2e-5)
                checked += 1
    assert checked > 15


@pytest.mark.parametrize(
    ("si_value", "dimension", "text"),
    [
        (275790.29, "pressure", "40 psi"),
        (1800.0, "time", "30 min"),
        (259200.0, "time", "3 day"),
        (0.0, "volume", "0 L"),
        (12.8, "temperature", "55.04 F"),
    ],
)
def test_written_is_short_and_exact(si_value, dimension, text):
    written = schema.written(si_value, dimension)
    assert units.parse(written, dimension) == pytest.approx(si_value, rel=2e-5)
    assert len(written) <= len(text)


def test_the_printed_schema_is_this_one():
    """docs/schema/house.schema.json; made with: hearthold schema docs/schema/house.schema.json --force"""
    printed = json.loads((ROOT / "docs" / "schema" / "house.schema.json").read_text("utf-8"))
    assert printed == json.loads(json.dumps(SCHEMA))

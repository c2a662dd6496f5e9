"""Whatever is taken out of or put into a good file, it reads or gives a clear fault for each thing wrong."""

import contextlib
import tomllib
from pathlib import Path

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.errors import HouseFileError
from hearthold.house.locate import line_index
from hearthold.house.reader import house_from_text

EXAMPLES = {
    path.stem: path.read_text("utf-8")
    for path in sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
}
INDEX = {text: line_index(text) for text in EXAMPLES.values()}
SEEDED = settings(max_examples=60, derandomize=True, deadline=None)


def keys(value, where=()):
    """Every table, list entry and key of a parsed document, outermost first."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in items:
        yield (*where, key)
        yield from keys(item, (*where, key))


def without(text, where):
    """The document's text with one thing taken out: its line where it has one of its own."""
    lines, at = text.split("\n"), INDEX[text][where] - 1
    if isinstance(where[-1], str) and lines[at].startswith(f"{where[-1]} ="):
        return "\n".join(lines[:at] + lines[at + 1 :])
    document = tomllib.loads(text)
    inside = document
    for part in where[:-1]:
        inside = inside[part]
    del inside[where[-1]]
    return tomlkit.dumps(document)


def told(text):
    try:
        house_from_text(text)
    except HouseFileError as problem:
        return problem.faults
    return ()


PATHS = [(name, where) for name, text in EXAMPLES.items() for where in keys(tomllib.loads(text))]
LONE = [p for p in PATHS if isinstance(p[1][-1], str) and len(p[1]) >= 2]


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_single_key_taken_out(name):
    """A key is optional, or its absence is told by its own name; anything else told must depend on it."""
    read, missed = 0, 0
    for where in (w for n, w in LONE if n == name):
        faults = told(without(EXAMPLES[name], where))
        if not faults:
            read += 1
            continue
        missed += 1
        key = where[-1]
        named = [f for f in faults if f.key.split(".")[-1] == key and f.problem == "is missing."]
        assert named or depends(faults, where), (where, [str(f) for f in faults])
        assert all(f.problem and f.line for f in faults)
    assert read > 100
    assert missed > 50


def depends(faults, where):
    """Absence that shows elsewhere: figures of a load, amount of a stock, poles or volts of a pair, heat of a tank."""
    known = {
        "kind": "says neither", "running": "says neither",
        "amount": "says no amount", "mass": "says no amount",
        "poles": "pole", "mean": "twelve monthly means", "unit": "is the unit right?",
        "heated_by": "an element heats this tank",  # which is what a tank has where nothing is said
    }  # fmt: skip
    word = known.get(str(where[-1]), "never told")
    return all(word in f.problem for f in faults)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_section_taken_out(name):
    """A whole section, or an entry of a list: it reads, or says what is missing and who refers to it."""
    for where in (w for n, w in PATHS if n == name and (len(w) == 1 or isinstance(w[-1], int))):
        for fault in told(without(EXAMPLES[name], where)):
            assert any(words in fault.problem for words in MISSED), (where, str(fault))


MISSED = (
    "is missing",
    "names no load",
    "names no circuit",
    "or more",
    "entries; needs",
    "twelve",
    "is not a fuel of",
)
VALUES = st.one_of(
    st.integers(-10, 10_000), st.booleans(), st.floats(allow_nan=False, allow_infinity=False),
    st.text(max_size=12), st.sampled_from(("0 W", "1 gal", "-40 C", "12 AWG", "06:00", "3 h", "50 %")),
    st.just([]), st.just({}),
)  # fmt: skip


@SEEDED
@given(st.sampled_from(LONE), VALUES)
def test_any_value_in_any_place(at, value):
    """Only faults come out, each with key, problem and a line."""
    name, where = at
    document = tomllib.loads(EXAMPLES[name])
    inside = document
    for part in where[:-1]:
        inside = inside[part]
    inside[where[-1]] = value
    with contextlib.suppress(ValueError):  # tomlkit cannot write every text
        for fault in told(tomlkit.dumps(document)):
            assert fault.key
            assert fault.problem
            assert fault.line is not None


@SEEDED
@given(st.sampled_from(sorted(EXAMPLES)), st.lists(st.integers(0, 10_000), min_size=2, max_size=12))
def test_many_keys_taken_out_at_once(name, numbers):
    document = tomllib.loads(EXAMPLES[name])
    for number in numbers:
        places = [w for w in keys(document) if isinstance(w[-1], str) and len(w) > 1]
        where = places[number % len(places)]
        inside = document
        for part in where[:-1]:
            inside = inside[part]
        del inside[where[-1]]
    for fault in told(tomlkit.dumps(document)):
        assert fault.key
        assert fault.problem

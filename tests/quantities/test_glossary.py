"""The glossary: every page loads, no name twice, ranges in order; `require` lets nothing odd through."""

import tomllib
from importlib.resources import files

import numpy as np
import pytest

from hearthold.errors import InputError, TableError
from hearthold.quantities import glossary, units

PAGES = sorted(files("hearthold.quantities").joinpath("pages").iterdir(), key=lambda p: p.name)
TERMS = glossary.terms()


def test_every_page_is_read():
    written = [name for page in PAGES for name in tomllib.loads(page.read_text("utf-8"))]
    assert len(written) == len(set(written)) == len(TERMS) > 100


@pytest.mark.parametrize("term", TERMS.values(), ids=TERMS)
def test_a_term_is_whole(term):
    assert term.low < term.high
    assert term.unit
    assert len(term.meaning) > 2
    assert not term.meaning.endswith(".")
    assert term.family in {page.name[:-5] for page in PAGES}


def test_a_name_ends_in_its_unit():
    """Units stand in the name: where the suffix is an SI suffix, the printed unit is of its dimension."""
    by_suffix = {}
    for dim in units.dimensions().values():
        by_suffix.setdefault(dim.si, set()).update(dim.units)
    checked = 0
    for term in TERMS.values():
        suffix = max((s for s in by_suffix if term.name.endswith(f"_{s}")), key=len, default=None)
        if term.name.endswith(f"_per_{suffix}"):
            continue
        if suffix in ("w", "v", "a", "m3", "kg", "pa", "c", "w_per_k", "j_per_k", "m3_per_s"):
            checked += 1
            assert term.unit in by_suffix[suffix], term.name
    assert checked > 50


@pytest.mark.parametrize(
    "value", [0.0, 2000.0, 5, np.float64(7.0), np.array([0.0, 2000.0]), np.array([[1, 2], [3, 4]])]
)
def test_values_in_range_pass(value):
    glossary.require(current_a=value)


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (-1.0, "current_a is -1 A; allowed 0 to 2000 A"),
        (2000.1, "current_a is 2000.1 A; allowed 0 to 2000 A"),
        (np.array([1.0, 3000.0]), "current_a is 3000 A"),
        (np.array([-2.0, 3000.0]), "current_a is -2 A"),
        (float("nan"), "current_a is nan A"),
        (float("inf"), "current_a is inf A"),
        (np.array([1.0, np.nan, 2.0]), "current_a is nan A"),
        (np.array([]), "current_a is empty"),
        ("twelve", "current_a is 'twelve'; it must be a number"),
        (None, "current_a is None; it must be a number"),
        (10**400, "it must be a number"),
        ([1.0, 2.0], "it must be a number"),
    ],
)
def test_values_out_of_range_are_refused(value, told):
    with pytest.raises(InputError, match=r"current_a is") as caught:
        glossary.require(current_a=value)
    assert told in str(caught.value)


def test_the_refusal_carries_its_figures():
    with pytest.raises(InputError, match="real power over apparent power") as caught:
        glossary.require(power_factor=1.2)
    assert caught.value.code == "out_of_range"
    assert caught.value.values == {"name": "power_factor", "value": 1.2, "low": 0.05, "high": 1.0}


def test_an_unknown_name_is_a_fault_of_the_program():
    with pytest.raises(TableError, match="glossary: currant_a is not defined"):
        glossary.require(currant_a=1.0)


def test_a_name_given_twice_is_refused(tmp_path, monkeypatch):
    folder = tmp_path / "pages"
    folder.mkdir()
    line = 'speed_m_per_s = { unit = "m/s", meaning = "speed", range = [0, 9] }\n'
    (folder / "one.toml").write_text(line, "utf-8")
    (folder / "two.toml").write_text(line, "utf-8")
    (folder / "notes.txt").write_text("not a page", "utf-8")
    monkeypatch.setattr(glossary, "files", lambda _: tmp_path)
    with pytest.raises(TableError, match=r"speed_m_per_s is defined in one and in two\.toml"):
        glossary.terms.__wrapped__()

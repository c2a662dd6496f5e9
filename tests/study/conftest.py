"""The example households, read and compiled once, and the outages they reckon with."""

from datetime import date
from pathlib import Path

import pytest

from hearthold.engine.compile import compile_house
from hearthold.engine.control import DailySpell, Routine
from hearthold.house.reader import read_house
from hearthold.reference.outages import outage_model
from hearthold.study.chosen import outages_of
from hearthold.study.outages import from_model

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="session")
def farm():
    return read_house(EXAMPLES / "tarn_hollow.toml")


@pytest.fixture(scope="session")
def compiled(farm):
    return compile_house(farm)


@pytest.fixture(scope="session")
def region():
    return from_model(outage_model("storm_prone_rural"))


@pytest.fixture(scope="session")
def believed(farm):
    return outages_of(farm, date(2026, 10, 14))


@pytest.fixture(scope="session")
def routine():
    return Routine((DailySpell(6.5 * 3600, 5400.0), DailySpell(18 * 3600, 5400.0)))

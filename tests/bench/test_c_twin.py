"""The C program of the benchmark, written apart from the kernels, gives the engine's accounts outage by outage."""

import shutil
import sys
from pathlib import Path

import numpy as np
import pytest

from hearthold.engine.compile import compile_house
from hearthold.engine.control import AlwaysOn, DailySpell, Routine, Watchful
from hearthold.engine.run import simulate_many
from hearthold.engine.weather import year_hours
from hearthold.house.reader import read_house

ROOT = Path(__file__).parents[2]
HOUR = 3600.0
ROUTINE = Routine((DailySpell(6.5 * HOUR, 2 * HOUR), DailySpell(17.5 * HOUR, 2.5 * HOUR)))
RULES = {"routine": ROUTINE, "by need": Watchful()}

pytestmark = pytest.mark.skipif(shutil.which("gcc") is None, reason="needs gcc")


@pytest.fixture(scope="module")
def twin(tmp_path_factory):
    sys.path.insert(0, str(ROOT / "bench" / "engine"))
    from c_twin import CTwin

    return CTwin(tmp_path_factory.mktemp("twin"))


def setting(example, count=24):
    """House, weather and some outages of 1 to 120 hours at any time of the year."""
    given = read_house(ROOT / "examples" / f"{example}.toml")
    rng = np.random.default_rng(7)
    starts, lengths = rng.uniform(0.0, 350.0 * 24.0, count) * HOUR, rng.uniform(1.0, 120.0, count) * HOUR
    return given, year_hours(given, seed=1), starts, lengths


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("example", ["tarn_hollow", "skerrow_croft"])
def test_same_accounts(twin, example, rule):
    given, outside, starts, lengths = setting(example)
    house = compile_house(given)
    ours = simulate_many(house, outside, RULES[rule], starts, lengths).rows
    theirs = twin.run(house, outside, RULES[rule], starts, lengths)
    apart = np.abs(theirs - ours) - 1e-9 * np.abs(ours) - 1e-12 * np.abs(ours).max(0)
    assert np.all(apart <= 0.0), np.argwhere(apart > 0.0)


def test_any_number_of_threads(twin):
    given, outside, starts, lengths = setting("skerrow_croft")
    house = compile_house(given)
    one, two = (twin.run(house, outside, ROUTINE, starts, lengths, threads=n) for n in (1, 2))
    assert np.array_equal(one, two)


def test_what_it_does_not_know_it_refuses(twin):
    given, outside, starts, lengths = setting("skerrow_croft", 1)
    with pytest.raises(ValueError, match="neither a routine nor a rule by need"):
        twin.run(compile_house(given), outside, AlwaysOn(), starts, lengths)
    with pytest.raises(ValueError, match="without a load manager"):
        twin.run(compile_house(given, managed=False), outside, ROUTINE, starts, lengths)

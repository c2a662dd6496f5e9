"""What-if and `risk`: two estimators of one house under one hand, over outages of their own."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from hearthold.engine.control import Watchful
from hearthold.house.reader import read_house
from hearthold.reference.outages import outage_model
from hearthold.study.chosen import outages_of
from hearthold.study.grid import Grid, Running
from hearthold.study.outages import from_model
from hearthold.study.risk import Effort, risk
from hearthold.study.sweep import sweep

ROUNDS, EACH = 8, 128
EFFORT = Effort(half_frac=0.0, least_rounds=ROUNDS, most_rounds=ROUNDS, each=EACH)


@pytest.fixture(scope="module")
def farm():
    """Nobody fetches fuel, as in a sweep."""
    house = read_house(Path(__file__).parents[2] / "examples" / "tarn_hollow.toml")
    trip = house.fuel.trip.model_copy(update={"works_in_outage": False})
    return replace(house, fuel=house.fuel.model_copy(update={"trip": trip}))


@pytest.mark.parametrize("basis", ["history", "region"])
def test_a_sweep_lies_within_a_point_of_risk(farm, basis):
    """The sweep takes 1 - exp(-n) at the mean of the versions, `risk` the mean of it: the more, the more they vary."""
    outages = outages_of(farm, date(2026, 10, 14))
    if basis == "region":
        outages = from_model(outage_model("storm_prone_rural"))
    answer = risk(farm, Watchful(not_at_night=True), outages, seed=1, effort=EFFORT)
    (row,) = sweep(farm, outages, Grid(running=(Running.BY_NEED,)), seed=2, rounds=ROUNDS, each=EACH)
    for loss in answer.losses:
        other = row.loss(loss.id)
        sampling = 1.5 * (loss.year_frac.half**2 + other.half**2) ** 0.5  # a dozen losses: 3 errors
        assert abs(other.value - loss.year_frac.value) <= 0.01 + sampling, loss.id
        if basis == "history" and loss.year_frac.value > 0.1:
            assert other.value >= loss.year_frac.value - sampling  # Jensen: never below but by chance
    for name in ("fuel_m3", "run_s", "starts"):
        assert row.amount(name).value == pytest.approx(answer.amount(name).year.value, rel=0.02), name

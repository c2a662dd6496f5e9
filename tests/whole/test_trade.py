"""Facts of the trade (common practice, no source) against what the whole program says of a house.

What a 30 A cord passes is in tests/sizing/test_chain.py, the run time a maker prints in
tests/published/cases/generator_fuel.toml, what is saved against an automatic set in tests/study/test_money.py.
"""

from pathlib import Path

import pytest

from hearthold.faces import service
from hearthold.faces.simulation import Outage
from hearthold.reference.costs import cost
from hearthold.reference.upkeep import upkeep_task

HOUSE = Path(__file__).parents[2] / "examples" / "tarn_hollow.toml"
FREEZERS = ("Pantry freezer", "Workshop chest freezer")


def stores(**asked):
    """A fridge that waits for its turn is another matter: here all circuits are on throughout."""
    played = service.simulate(HOUSE, Outage(month=10, hours=72.0, together=True, **asked))
    return {store.name: store for store in played.account.stores}


def test_an_hour_or_two_at_a_time_keeps_freezers_frozen_and_the_fridge_cold():
    """Freezers are content with two spells a day. The fridge is cold with four, though the careful model lets it
    pass 40 F by about a kelvin just before a spell, for a twentieth of the time; the rules say so.
    """
    found = stores(runs=("07:00/2h", "19:00/2h"))
    assert all(found[name].high < -2.0 for name in FREEZERS)
    found = stores(runs=("06:00/90min", "12:00/90min", "18:00/90min", "00:00/90min"))
    assert all(found[name].high < -2.0 for name in FREEZERS)
    assert found["Kitchen fridge"].high < 6.0
    assert found["Kitchen fridge"].beyond_s < 0.05 * 72 * 3600.0


def test_a_fridge_left_without_power_spoils_within_a_day_and_a_freezer_does_not():
    found = stores(machine="off")
    assert 0.0 < found["Kitchen fridge"].first_s < 86400.0
    assert all(found[name].kept or found[name].first_s > 86400.0 for name in FREEZERS)


@pytest.mark.parametrize(
    ("item", "least", "most"),
    [("cord_30_a_25_ft", 50.0, 100.0), ("sub_panel_parts", 300.0, 300.0), ("standby_installed", 1e4, 1.5e4)],
)
def test_prices_of_the_day_lie_in_the_table(item, least, most):
    row = cost(item)
    assert row.low_usd <= most
    assert row.high_usd >= least
    assert row.typical_usd == pytest.approx(0.5 * (least + most), rel=0.5)


def test_exercise_once_a_month_for_ten_to_fifteen_minutes():
    task = upkeep_task("exercise")
    assert task.calendar_s == pytest.approx(30 * 86400.0, rel=0.05)
    assert 600.0 <= task.exercise_s <= 900.0

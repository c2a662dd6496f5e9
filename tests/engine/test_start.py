"""Where an outage starts: at the readings of the house file, else at set points."""

import pytest
from engine_houses import house, still
from house_parts import table

from hearthold.engine.control import Off
from hearthold.engine.run import simulate

READINGS = (("house", 14.5), ("hot_water", 33.0), ("fridge", 6.5), ("chest", -11.0))


def first(given):
    trace = simulate(given, still(outdoor_c=25.0), Off(), hours=1)
    return {
        "house": trace.air_c[0], "hot_water": trace.tank_c[0], "fridge": trace.cold_c[0, 0], "chest": trace.cold_c[0, 1]
    }, trace  # fmt: skip


def test_a_reading_is_the_start():
    """To the last digit, though it is warmer outdoors; walls and floors are taken as warm as the air."""
    text = "".join(table("[[reading]]", store=store, value=f"{value} C") for store, value in READINGS)
    found, trace = first(house(text))
    assert found == pytest.approx(dict(READINGS), abs=1e-12)
    assert trace.mass_c[0] == pytest.approx(14.5, abs=1e-12)


@pytest.mark.parametrize(("store", "value"), READINGS)
def test_one_reading_leaves_the_others_at_their_set_points(store, value):
    found, _ = first(house(table("[[reading]]", store=store, value=f"{value} C")))
    usual = {
        "house": 25.0,
        "hot_water": 52.0,
        "fridge": 2.78,
        "chest": -17.78,
    }  # an unheated house is as warm as outdoors
    assert found == pytest.approx(usual | {store: value}, abs=0.01)


def test_balances_close_from_a_reading():
    """`simulate` raises where they do not; the tank's and the house's are counted from the reading."""
    text = "".join(table("[[reading]]", store=store, value=f"{value} C") for store, value in READINGS)
    out = simulate(house(text), still(), Off(), hours=30).outcomes
    assert all(r.worst_frac < 1e-6 for r in out.residuals)

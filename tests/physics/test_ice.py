"""Doors, jugs and dry ice: balances and refusals (moist air is compared with a library in tests/agree)."""

import pytest

from hearthold.errors import InputError
from hearthold.physics import ice


def test_an_opened_door_lets_in_heat_and_more_of_it_when_humid():
    dry, damp = (ice.door_opening_j(0.33, 0.7, 22.0, rh, 3.0) for rh in (0.3, 0.8))
    assert 0.0 < dry < damp
    assert ice.door_opening_j(0.33, 0.0, 22.0, 0.5, 3.0) == 0.0
    assert ice.door_opening_j(0.33, 0.7, 3.0, 1.0, 3.0) == pytest.approx(0.0, abs=1e-9)


def test_ice_warms_melts_and_warms_again():
    whole = ice.ice_cold_j(2.0, -18.0, 4.0)
    assert whole == pytest.approx(2.0 * (2050 * 18 + 333.6e3 + 4190 * 4))
    assert ice.ice_cold_j(2.0, -18.0, -8.0) == pytest.approx(2.0 * 2050 * 10)
    assert ice.ice_cold_j(0.0, -18.0, 4.0) == 0.0


def test_a_gallon_jug_covers_most_of_a_day_of_a_refrigerator():
    hours = ice.cold_lasts_s(ice.ice_cold_j(3.785, 0.0, 0.0), 1.15, 22.0, 2.78) / 3600.0
    assert hours == pytest.approx(15.9, abs=0.1)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: ice.ice_cold_j(1.0, -5.0, -10.0), "is below ice_c"),
        (lambda: ice.ice_cold_j(1.0, 5.0, 10.0), "ice_c is 5"),
        (lambda: ice.cold_lasts_s(1e6, 1.0, 3.0, 3.0), "is not warmer"),
        (lambda: ice.dry_ice_cold_j(-1.0, 0.0), "dry_ice_kg is -1"),
        (lambda: ice.door_opening_j(0.3, 1.5, 22.0, 0.5, 3.0), "exchange_frac is 1.5"),
    ],
)
def test_what_cannot_be_is_refused(call, message):
    with pytest.raises(InputError, match=message):
        call()

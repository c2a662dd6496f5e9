"""Air pressure with height against the 1976 standard atmosphere of a general-purpose fluids library."""

import pytest
from fluids.atmosphere import ATMOSPHERE_1976

from hearthold.physics.derating import standard_pressure_pa


@pytest.mark.parametrize("altitude_m", [0.0, 300.0, 1000.0, 1524.0, 2500.0, 4000.0, 5500.0])
def test_pressure_agrees_with_the_standard_atmosphere(altitude_m):
    # the library takes geometric height, the formula geopotential height: 0.06 % of pressure apart at 5500 m
    assert standard_pressure_pa(altitude_m) == pytest.approx(ATMOSPHERE_1976(altitude_m).P, rel=7e-4)

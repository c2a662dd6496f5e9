import math

import numpy as np
import pytest

from hearthold.errors import InputError
from hearthold.physics import loadcalc as lc
from hearthold.physics.loadcalc import DemandRule

# NEC 220.82(B) and Table 220.42, as the reference tables hand them in
OPTIONAL = DemandRule((10_000.0,), (1.0,), 0.40)
LIGHTING = DemandRule((3_000.0, 117_000.0), (1.0, 0.35), 0.25)


@pytest.mark.parametrize(
    ("calculated_va", "expect"),
    [(0.0, 0.0), (8_000.0, 8_000.0), (10_000.0, 10_000.0), (29_700.0, 17_880.0), (20_000.0, 14_000.0)],
)
def test_optional_method_blocks(calculated_va, expect):
    # NEC 220.82(B): the first 10 kVA whole, 40 % of the rest; 29.7 kVA is Example D2(a)
    assert lc.demand_va(calculated_va, OPTIONAL) == pytest.approx(expect)


@pytest.mark.parametrize(
    ("calculated_va", "expect"),
    [(2_000.0, 2_000.0), (9_000.0, 5_100.0), (120_000.0, 43_950.0), (130_000.0, 46_450.0)],
)
def test_standard_lighting_blocks(calculated_va, expect):
    # NEC Table 220.42 by hand; 9 kVA -> 5.1 kVA is Example D1(a)
    assert lc.demand_va(calculated_va, LIGHTING) == pytest.approx(expect)


def test_demand_never_rises_above_the_load_nor_falls_with_it():
    loads = np.linspace(0.0, 60_000.0, 121)
    demands = np.array([lc.demand_va(float(v), OPTIONAL) for v in loads])
    assert np.all(demands <= loads)
    assert np.all(np.diff(demands) > 0)


def test_heating_or_cooling_is_the_larger_after_its_factor():
    # D2(a): 9 kW of heat in five units at 40 % beats 1380 VA of air conditioning
    assert lc.largest_entry_va([9000.0, 1380.0], [0.40, 1.0]) == pytest.approx(3600.0)
    assert lc.largest_entry_va([2000.0, 5000.0], [0.65, 1.0]) == pytest.approx(5000.0)
    assert lc.largest_entry_va([], []) == 0.0


def test_neutral_of_example_d1a():
    # NEC Annex D, D1(a): 5100 + 0.7 x 8000 + 0.7 x 5500 = 14 550 VA, 60.6 A
    neutral_va = lc.neutral_demand_va(5100.0, 8000.0, 5500.0, 0.7)
    assert neutral_va == pytest.approx(14_550.0)
    assert lc.service_current_a(neutral_va, 240.0) == pytest.approx(60.6, abs=0.05)


def test_whole_calculation_shows_its_steps():
    general_va = lc.general_load_va(
        139.35456, 3.0 / 0.09290304, 3, 1500.0, [12_000.0, 2500.0, 1200.0, 5000.0]
    )
    found = lc.dwelling_demand(general_va, 3600.0, OPTIONAL, 240.0)
    assert found.general_va == pytest.approx(29_700.0)
    assert found.total_va == pytest.approx(found.general_demand_va + found.hvac_va)
    assert found.service_a == pytest.approx(89.5)


def test_house_without_fastened_appliances():
    assert lc.general_load_va(100.0, 33.0, 3, 1500.0, []) == pytest.approx(7800.0)


def test_diversity_is_the_callers_own():
    assert lc.diversified_w([2000.0, 1000.0, 500.0], 1.0) == 3500.0
    assert lc.diversified_w([2000.0, 1000.0], [0.5, 1.0]) == 2000.0
    assert lc.diversified_w([], 1.0) == 0.0


def test_blocks_and_factors_must_match():
    with pytest.raises(InputError, match="2 blocks and 1 factors"):
        lc.demand_va(1000.0, DemandRule((1.0, 2.0), (1.0,), 0.4))


def test_factors_in_per_cent_and_missing_figures_are_refused():
    with pytest.raises(InputError, match="rest_frac is 40 of 1"):
        lc.demand_va(1000.0, DemandRule((10_000.0,), (1.0,), 40.0))
    with pytest.raises(InputError, match="nameplate_va is nan"):
        lc.general_load_va(100.0, 33.0, 3, 1500.0, [1000.0, math.nan])

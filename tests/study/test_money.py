"""Discounting against textbook tables (tests/published), numpy-financial, and cash flows added up by hand."""

from math import inf

import numpy as np
import numpy_financial as npf
import pytest

from hearthold.errors import InputError
from hearthold.study.money import (
    Range,
    Terms,
    annuity_factor,
    owning_factor,
    payback_years,
    present_value,
    price,
    recovery_frac,
    saving,
)


@pytest.mark.parametrize("rate", [0.01, 0.03, 0.08, 0.2])
@pytest.mark.parametrize("years", [1, 7, 20, 40])
def test_annuity_and_recovery_are_those_of_numpy_financial(rate, years):
    assert float(annuity_factor(rate, years)) == pytest.approx(-npf.pv(rate, years, 1.0), rel=1e-12)
    assert recovery_frac(rate, years) == pytest.approx(-npf.pmt(rate, years, 1.0), rel=1e-12)


@pytest.mark.parametrize("rise", [-0.02, 0.0, 0.01, 0.03, 0.05])
def test_rising_annuity_is_the_npv_of_its_payments(rise):
    payments = [0.0, *((1.0 + rise) ** k for k in range(1, 16))]
    assert float(annuity_factor(0.03, 15, rise)) == pytest.approx(npf.npv(0.03, payments), rel=1e-12)


def test_payback_is_nper_of_numpy_financial():
    assert payback_years(5000.0, 600.0, 0.05) == pytest.approx(npf.nper(0.05, 600.0, -5000.0), rel=1e-12)
    assert payback_years(5000.0, 600.0, 0.0) == pytest.approx(5000.0 / 600.0)
    assert payback_years(5000.0, 200.0, 0.05) == inf  # the interest alone is more
    assert payback_years(5000.0, 0.0, 0.05) == inf
    assert payback_years(-1.0, 0.0, 0.05) == 0.0


def test_owning_a_part_is_its_cash_flow_by_hand():
    """A life of 8 years over 20: bought in years 0, 8 and 16; of the last, 4 of 8 years are left: half of it."""
    flows = np.zeros(21)
    flows[[0, 8, 16]] = 1.0
    flows[20] -= 0.5
    assert float(owning_factor(8.0, 0.03, 20.0)) == pytest.approx(npf.npv(0.03, flows), rel=1e-12)


def test_a_part_that_lasts_just_as_long_leaves_nothing():
    assert float(owning_factor(20.0, 0.03, 20.0)) == pytest.approx(1.0)
    assert float(owning_factor(10.0, 0.0, 20.0)) == pytest.approx(2.0)


def test_without_interest_owning_is_years_over_life():
    lives = np.array([3.0, 7.0, 12.0, 33.0])
    assert owning_factor(lives, 0.0, 20.0) == pytest.approx(20.0 / lives)


def test_ranges_add_end_to_end_and_bend_at_the_middle():
    one = Range(1.0, 2.0, 4.0) + Range(0.0, 1.0, 1.0)
    assert one == Range(1.0, 3.0, 5.0)
    assert one.at(np.array([-1.0, -0.5, 0.0, 1.0])) == pytest.approx([1.0, 2.0, 3.0, 5.0])


def test_present_value_broadcasts():
    assert present_value(1.0, 0.1, np.arange(3)) == pytest.approx([1.0, 1 / 1.1, 1 / 1.21])


def test_the_saving_as_the_trade_says_it():
    """Common practice, no source: about 1,400 against 10,000 to 15,000 saves 9,000 to 14,000, in round thousands."""
    least, most = saving((1400.0, 1400.0), (10000.0, 15000.0))
    assert (round(least, -3), round(most, -3)) == (9000.0, 14000.0)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: annuity_factor(2.0, 10), "rate_frac is 2.0; allowed -0.5 to 1"),
        (lambda: annuity_factor(0.03, -1), "years is -1.0; allowed 0 to 200"),
        (lambda: annuity_factor(float("nan"), 5), "rate_frac is nan"),
        (lambda: recovery_frac(0.03, 0.0), "more than 0 years"),
        (lambda: owning_factor(0.0, 0.03, 20.0), "life_years is 0; allowed above 0"),
        (lambda: Terms(years=0.0), "years is 0; allowed 1 to 200"),
        (lambda: Terms(discount_frac=3.0), "discount_frac is 3.0"),
        (lambda: price("night", -5.0), "night is -5; a price is 0 or more"),
        (lambda: saving((-1.0, 2.0), (3.0, 4.0)), "cheap is -1 to 2"),
        (lambda: Range(1.0, 2.0, 3.0).times(-1.0), "taken -1 times"),
    ],
)
def test_what_cannot_be_is_refused(call, message):
    with pytest.raises(InputError, match=message):
        call()

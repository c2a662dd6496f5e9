"""Variance shares against Ishigami's function, whose shares are known in closed form; tornado and lead by hand."""

import sys
from types import SimpleNamespace

import numpy as np
import pytest

from hearthold.errors import InputError, MissingExtraError
from hearthold.study.breakeven import break_even
from hearthold.study.lifetime import LENGTHS, Account, Yearly, base_point
from hearthold.study.money import NOTHING, Range, Terms
from hearthold.study.sensitivity import Doubt, doubts, lead, sampled_totals, tornado, variance_shares
from hearthold.study.spending import Part, Spending

A, B = 7.0, 0.1
TERMS = Terms(years=10.0, discount_frac=0.0, fuel_rise_frac=0.0)


def ishigami(x):
    return np.sin(x[:, 0]) + A * np.sin(x[:, 1]) ** 2 + B * x[:, 2] ** 4 * np.sin(x[:, 0])


def ishigami_shares():
    """First-order and total shares: Ishigami and Homma 1990 (from memory), by integration of the function."""
    v1 = 0.5 * (1.0 + B * np.pi**4 / 5.0) ** 2
    v2 = A**2 / 8.0
    v13 = B**2 * np.pi**8 * (1.0 / 18.0 - 1.0 / 50.0)
    total = v1 + v2 + v13
    return np.array([v1, v2, 0.0]) / total, np.array([v1 + v13, v2, v13]) / total


def test_shares_of_ishigamis_function():
    """The closed form is 0.3139, 0.4424, 0 and 0.5576, 0.4424, 0.2437."""
    first, total = ishigami_shares()
    assert first == pytest.approx([0.3139, 0.4424, 0.0], abs=1e-4)
    assert total == pytest.approx([0.5576, 0.4424, 0.2437], abs=1e-4)
    found = variance_shares(ishigami, 3, low=-np.pi, high=np.pi, points=4096, seed=3)
    assert found[0] == pytest.approx(first, abs=0.02)
    assert found[1] == pytest.approx(total, abs=0.02)


def test_half_widths_are_the_same_for_a_seed_whatever_was_drawn_before():
    def halves():
        found = variance_shares(ishigami, 3, low=-np.pi, high=np.pi, points=64, seed=0)
        return np.array(found[2:])

    first = halves()
    np.random.random(7)  # the shared generator, which SALib falls back on
    assert np.array_equal(halves(), first)


def test_a_constant_has_nothing_to_share():
    assert all(np.all(part == 0.0) for part in variance_shares(lambda x: np.ones(len(x)), 2, points=8))


def test_without_the_extra_it_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "SALib.analyze", None)
    with pytest.raises(MissingExtraError, match=r"pip install 'hearthold\[study\]'"):
        variance_shares(ishigami, 3, points=8)


def test_no_inputs_are_refused():
    with pytest.raises(InputError, match="nothing to share out"):
        variance_shares(ishigami, 0)


def account(way, first, food, hands_h=0.0, own_hour=0.0, life=10.0, in_place=False):
    """An account by hand: one part, no upkeep, food lost in a year in proportion to the outages."""
    part = Part("thing", Range(0.5 * first, first, 2.0 * first), Range(life, life, life), in_place)
    spent = Spending((part,), NOTHING, NOTHING, NOTHING, 0, 0, 0, 0, 3600.0 * hands_h, 0.0)
    flat = np.ones((len(LENGTHS), 2))
    return Account(way, spent, Yearly(0.0 * flat, food * flat, 0.0 * flat, 0.0 * flat), own_hour)


def test_a_total_by_hand():
    """Ten years without interest: 1000 for a part that lasts just as long, 50 of food and 2 h at 20 a year."""
    one = account("interlock", 1000.0, 50.0, hands_h=2.0, own_hour=20.0)
    assert float(one.total(base_point(TERMS, ["interlock"]))) == pytest.approx(1000.0 + 10.0 * (50.0 + 40.0))


def test_a_part_in_hand_costs_only_its_successors():
    one = account("interlock", 1000.0, 0.0, life=5.0, in_place=True)
    assert float(one.total(base_point(TERMS, ["interlock"]))) == pytest.approx(1000.0)  # the second one
    assert float(account("cords", 1000.0, 0.0, in_place=True).total(base_point(TERMS, []))) == 0.0


def test_tornado_by_hand():
    """Lead of A (100 first, 60 a year) over B (400 first, 40 a year): 800 - 700 = 100 over ten years."""
    a, b = account("cords", 100.0, 60.0), account("interlock", 400.0, 40.0)
    outages = Doubt("outages", 0.5, 2.0, True, "outages")
    (swing,) = tornado([a, b], "cords", TERMS, [outages])
    assert (swing.lead_at_low, swing.lead_at_high) == pytest.approx((600.0 - 400.0, 1200.0 - 1300.0))
    assert (swing.best_at_low, swing.best_at_high) == ("cords", "interlock")
    assert swing.width == pytest.approx(300.0)


def test_break_even_by_hand():
    """300 more at first, 20 less a year: 15 years; and even over ten years at 1.5 times the outages."""
    found = break_even(account("cords", 100.0, 60.0), account("interlock", 400.0, 40.0), TERMS)
    assert (found.cheaper_first, found.dearer_first) == ("cords", "interlock")
    assert found.years == pytest.approx(15.0)
    assert found.outages_factor == pytest.approx(1.5, rel=1e-3)
    assert found.own_hour is None


def test_break_even_of_work_by_hand():
    """100 more over ten years saves 5 h a year: 2 an hour."""
    found = break_even(account("cords", 100.0, 0.0, hands_h=5.0), account("interlock", 200.0, 0.0), TERMS)
    assert found.own_hour == pytest.approx(2.0)


def test_lead_is_over_the_cheapest_other():
    totals = np.array([[5.0, 9.0], [7.0, 8.0], [6.0, 1.0]])
    assert lead(totals, 0).tolist() == [1.0, -8.0]
    assert lead(totals[:1], 0).tolist() == [0.0, 0.0]


def test_samples_are_the_same_for_a_seed_and_cover_the_ends():
    some = [account("cords", 100.0, 60.0), account("interlock", 400.0, 40.0)]
    one, two = (sampled_totals(some, Terms(), seed=4) for _ in range(2))
    assert np.array_equal(one, two)
    assert not np.array_equal(one, sampled_totals(some, Terms(), seed=5))
    assert {d.name for d in doubts(some, Terms())} >= {
        "outages",
        "length",
        "price of cords",
        "price of interlock",
    }
    doubt = Doubt("x", 0.5, 2.0, True, "x")
    assert doubt.at(np.array([0.0, 0.5, 1.0])) == pytest.approx([0.5, 1.0, 2.0])


def test_doubts_only_name_what_was_priced():
    plain = SimpleNamespace(names={d.name for d in doubts([account("cords", 1.0, 1.0)], Terms())})
    assert "own_hour" not in plain.names
    assert "worth" not in plain.names
    assert "own_hour" in {d.name for d in doubts([account("cords", 1.0, 1.0, own_hour=9.0)], Terms())}

"""Legs that nobody wrote down, against every assignment there is; one measure for all pages."""

from itertools import product
from random import Random

import pytest
from sizing_houses import circuit, farm, load

from hearthold.physics.legs import Connection
from hearthold.sizing.placement import fed_leg_va, placement


def panel(seed):
    """A panel of some circuits, a few of them on a leg that is given, one across both, two of them partners."""
    pick = Random(seed)
    count = 3 + seed % 7
    legs = [pick.choice(["A", "B", None, None, None]) for _ in range(count)]
    legs[:2] = [None, pick.choice(["A", None])]
    partners = [{"multiwire_with": "c1"} if seed % 2 and i == 0 else {} for i in range(count)]
    circuits = [circuit(f"c{i}", leg=leg, **partners[i]) for i, leg in enumerate(legs)]
    loads = [load(f"x{i}", f"c{i}", float(pick.randint(20, 1800))) for i in range(count)]
    both = load("both", "both", 2400.0, voltage_v=240.0)
    return farm(loads=(*loads, both), circuits=(*circuits, circuit("both", 20.0, 2)))


def apart_va(house, leg_of):
    """By hand: the loads of leg A less those of leg B, in whole VA; what lies across both does not count."""
    sums = {Connection.A: 0, Connection.B: 0, Connection.BOTH: 0}
    for x in house.loads:
        sums[leg_of[x.circuit]] += round(x.running_va)
    return abs(sums[Connection.A] - sums[Connection.B])


def allowed(house, leg_of):
    given = all(c.leg is None or leg_of[c.id].name == c.leg for c in house.circuits if c.poles == 1)
    pairs = [(c.id, c.multiwire_with) for c in house.circuits if c.multiwire_with is not None]
    return given and all(leg_of[one] is not leg_of[other] for one, other in pairs)


@pytest.mark.parametrize("seed", range(40))
def test_no_other_placement_is_more_even(seed):
    house = panel(seed)
    found = placement(house).leg_of
    assert allowed(house, found)
    ways = product([Connection.A, Connection.B], repeat=len(house.circuits) - 1)
    every = [dict(zip([c.id for c in house.circuits], (*way, Connection.BOTH), strict=True)) for way in ways]
    assert apart_va(house, found) == min(apart_va(house, way) for way in every if allowed(house, way))


def test_a_partner_that_names_nobody_is_placed_opposite_all_the_same():
    house = farm(
        loads=(load("p", "one", 900.0), load("q", "two", 900.0), load("r", "three", 1800.0)),
        circuits=(circuit("one", leg="A", multiwire_with="two"), circuit("two"), circuit("three", leg="B")),
    )
    assert placement(house).leg_of["two"] is Connection.B  # NEC 210.4: its neutral would carry the sum on A


def test_two_given_partners_on_one_leg_are_left_there():
    pair = (circuit("one", leg="A", multiwire_with="two"), circuit("two", leg="A", multiwire_with="one"))
    house = farm(
        loads=(load("p", "one", 900.0), load("q", "three", 500.0)), circuits=(*pair, circuit("three"))
    )
    assert [placement(house).leg_of[c].name for c in ("one", "two", "three")] == ["A", "A", "B"]


def test_what_lies_across_both_legs_is_half_on_each():
    house = panel(0)
    one_pole = dict.fromkeys("AB", 0.0)
    seats = placement(house)
    for x in house.loads:
        if x.circuit != "both":
            one_pole[seats.leg_of[x.circuit].name] += x.running_va
    assert fed_leg_va(house, seats) == pytest.approx((one_pole["A"] + 1200.0, one_pole["B"] + 1200.0))

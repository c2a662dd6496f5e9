"""Leg balance against every assignment there is."""

from dataclasses import replace
from itertools import product
from random import Random

import pytest
from sizing_houses import circuit, cottage, farm, load

from hearthold.errors import InputError
from hearthold.physics.legs import Connection
from hearthold.plan.balance import Item, balance, balance_items
from hearthold.plan.solver import Status
from hearthold.sizing.demand import demand
from hearthold.sizing.placement import placement


def measures(items, legs, common_va=0.0, common_surplus_va=0.0):
    """(difference, worst start, moves) of an assignment, from first principles."""
    on = {leg: [i for i, w in zip(items, legs, strict=True) if w == leg] for leg in "AB"}
    sums = {leg: common_va + sum(round(i.running_va) for i in on[leg]) for leg in "AB"}
    tops = {leg: max([common_surplus_va, *(i.surplus_va for i in on[leg])]) for leg in "AB"}
    worst = max(sums[leg] + tops[leg] for leg in "AB")
    moves = sum(i.now != w for i, w in zip(items, legs, strict=True))
    return abs(sums["A"] - sums["B"]), worst, moves


def allowed(items, legs):
    where = {i.circuit: w for i, w in zip(items, legs, strict=True)}
    fixed = all(not i.fixed or where[i.circuit] == i.now for i in items)
    apart = all(i.partner not in where or where[i.partner] != where[i.circuit] for i in items)
    return fixed and apart


def some_items(seed, count):
    pick = Random(seed)
    items = [
        Item(f"c{i}", float(pick.randint(20, 1800)), pick.choice([0.0, 0.0, float(pick.randint(300, 6000))]),
             pick.choice("AB"), pick.random() < 0.15)
        for i in range(count)
    ]  # fmt: skip
    if count >= 4 and seed % 2:
        items[0] = replace(items[0], partner="c1", fixed=False)
        items[1] = replace(items[1], partner="c0", fixed=False)
    return items


@pytest.mark.parametrize("seed", range(30))
def test_no_assignment_is_better(seed):
    items = some_items(seed, 3 + seed % 10)
    common = (float(500 * (seed % 3)), float(1000 * (seed % 4)))
    found = balance_items(items, *common)
    legs = [dict(found.leg_of)[i.circuit] for i in items]
    assert allowed(items, legs)
    every = [way for way in product("AB", repeat=len(items)) if allowed(items, way)]
    best = min(measures(items, way, *common) for way in every)
    assert measures(items, legs, *common) == pytest.approx(best)
    assert found.status is Status.PROVEN
    if allowed(items, [i.now for i in items]):
        assert found.after.difference_va <= found.before.difference_va


def test_handbook_panel_splits_to_nothing():
    # 1200, 800, 600, 600, 400 and 400 VA: 2000 on each leg
    items = [Item(f"c{i}", v, 0.0, "A") for i, v in enumerate([1200.0, 800.0, 600.0, 600.0, 400.0, 400.0])]
    found = balance_items(items)
    assert found.after.leg_a_va == found.after.leg_b_va == 2000.0
    assert found.after.imbalance_frac == 0.0
    assert found.before.difference_va == 4000.0


def test_worst_start_goes_to_the_lighter_leg_when_evenness_leaves_a_choice():
    # 1000 and 900 VA: whichever leg; the motor on the 900 VA circuit starts with 3000 above running
    items = [Item("plain", 1000.0, 0.0, "A"), Item("pump", 900.0, 3000.0, "B")]
    assert balance_items(items).after.worst_start_va == 3900.0
    # two motors and two plain circuits of equal size: both motors on one leg start one at a time all the same
    four = [Item("m1", 500.0, 2000.0, "A"), Item("m2", 500.0, 900.0, "A"), Item("p1", 500.0, 0.0, "B"),
            Item("p2", 500.0, 0.0, "B")]  # fmt: skip
    assert balance_items(four).after.worst_start_va == 3000.0
    assert balance_items(four).moves == ()


@pytest.mark.parametrize("now", ["BAA", "BAB", "ABA", "ABB"])
def test_nothing_moves_where_nothing_is_gained(now):
    sizes = zip(("one", "two", "three"), (700.0, 700.0, 300.0), now, strict=True)
    assert balance_items([Item(name, va, 0.0, leg) for name, va, leg in sizes]).moves == ()


def test_partners_fixed_to_one_leg_are_refused():
    items = [Item("one", 700.0, 0.0, "A", True, "two"), Item("two", 700.0, 0.0, "A", True, "one")]
    with pytest.raises(InputError, match="neutral would carry the sum"):
        balance_items(items)


def test_sixty_circuits_come_out_even():
    items = some_items(3, 60)
    found = balance_items(items, 1500.0, 4000.0)
    assert found.after.difference_va <= 1.0


def test_house_comes_out_even_and_demand_agrees():
    house = farm(
        loads=(load("p", "one", 900.0), load("q", "two", 500.0), load("r", "three", 400.0),
               load("s", "both", 2000.0, voltage_v=240.0)),
        circuits=(circuit("one", leg="A"), circuit("two", leg="A"), circuit("three", leg="A"),
                  circuit("both", 20.0, 2)),
    )  # fmt: skip
    found = balance(house)
    assert found.before.difference_va == pytest.approx(1800.0)
    assert found.after.difference_va == pytest.approx(0.0)
    assert found.after.leg_a_va == pytest.approx(1900.0)
    assert len(found.moves) == 1
    assert found.moves[0].circuit == "one"
    seats = found.applied(placement(house))
    assert demand(house, legs=seats).all_on.imbalance_frac == pytest.approx(0.0)
    assert seats.leg_of["both"] is Connection.BOTH


def test_fixed_circuit_stays():
    house = farm(
        loads=(load("p", "one", 900.0), load("q", "two", 500.0)),
        circuits=(circuit("one", leg="A"), circuit("two", leg="A")),
    )
    assert [m.circuit for m in balance(house, fixed=["one"]).moves] == ["two"]
    assert balance(house, fixed=["one", "two"]).moves == ()


def test_multiwire_partners_stay_apart_in_a_house():
    house = farm(
        loads=(load("p", "one", 900.0), load("q", "two", 900.0), load("r", "three", 1800.0)),
        circuits=(circuit("one", leg="A", multiwire_with="two"), circuit("two", leg="B"),
                  circuit("three", leg="A")),
    )  # fmt: skip
    leg_of = dict(balance(house).leg_of)
    assert leg_of["one"] != leg_of["two"]


def test_nothing_is_told_to_move_from_a_leg_that_nobody_wrote_down():
    loads = (load("p", "one", 900.0), load("q", "two", 500.0), load("r", "three", 400.0))
    given = (circuit("one", leg="A"), circuit("two", leg="A"))
    found = balance(farm(loads=loads, circuits=(*given, circuit("three"))))
    assert (found.moves, found.assumed) == ((), ("three",))
    assert found.before == found.after
    known = balance(farm(loads=loads, circuits=(*given, circuit("three", leg="B"))))
    assert (len(known.moves), known.assumed) == (1, ())


def test_one_leg_has_nothing_to_balance():
    with pytest.raises(InputError, match="one leg"):
        balance(cottage())


def test_no_circuits():
    found = balance_items([])
    assert found.moves == ()
    assert found.after.difference_va == 0.0

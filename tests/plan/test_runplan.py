"""The run plan: what is reported is the replay, limits and wishes are kept, and the words fit what is
known.
"""

from __future__ import annotations

from math import isclose

import numpy as np
import pytest
from running_houses import HOUR_S, MEDICAL, running_house, steady

from hearthold.engine.control import RunPlan as Control
from hearthold.engine.run import simulate
from hearthold.errors import InputError
from hearthold.house.house import House
from hearthold.plan.asked import Asked
from hearthold.plan.objective import LITRE_J
from hearthold.plan.parts import CostParts
from hearthold.plan.polish import costs_j, polish, price_patterns
from hearthold.plan.problem import pose
from hearthold.plan.runplan import RunPlan, plan_running
from hearthold.plan.solve import FIRST_TRIES, QUICK, THOROUGH, USUAL, daily_rules, rule_pattern
from hearthold.plan.status import Status, standing
from hearthold.sizing.burn import burn

NIGHT = {"night": "true", "spells": "4"}


def planned(
    house: House, hours: float = 48.0, mean_c: float = 5.0, start_h: float = 18.0, **how: object
) -> RunPlan:
    return plan_running(house, steady(mean_c), Asked((24.0 + start_h) * HOUR_S, hours), **how)


@pytest.fixture(scope="module")
def plan() -> RunPlan:
    return planned(running_house(**NIGHT))


def test_every_figure_is_that_of_a_replay(plan: RunPlan) -> None:
    house = running_house(**NIGHT)
    trace = simulate(house, steady(5.0), plan.control, start_s=42 * HOUR_S, hours=48.0)
    assert float(trace.outcomes.fuel_m3[0]) == plan.fuel_m3
    assert float(trace.outcomes.run_s[0]) == plan.run_s
    assert int(trace.outcomes.starts[0]) == plan.starts == len(plan.spells)
    for store in plan.stores:
        if store.kind == "food":
            k = trace.house.cold_ids.index(store.store)
            assert store.high == float(trace.outcomes.cold_max_c[0, k])
    problem = pose(house, steady(5.0), Asked(start_s=42 * HOUR_S, hours=48.0))
    parts, switching = price_patterns(problem, [plan.pattern])
    assert CostParts.of(parts[0], float(switching[0])) == plan.cost


def test_fuel_is_the_willans_line_of_its_own_running(plan: RunPlan) -> None:
    """No-load share over the time it ran plus slope times the energy it gave (Willans line, as sizing fits
    it).
    """
    line = burn(running_house(**NIGHT))
    energy_j = float(plan.trace.outcomes.energy_j[0])
    by_hand = (line.line.no_load_fuel_w * plan.run_s + line.line.slope_w_per_w * energy_j) / line.lhv_j_per_m3
    assert isclose(plan.fuel_m3, by_hand, rel_tol=1e-6)
    # priced in the planner's world, which looks at the air at other moments: round-off
    assert isclose(plan.cost.fuel_j, plan.fuel_m3 * line.lhv_j_per_m3, rel_tol=1e-8)


def test_limits_are_kept_where_they_can_be(plan: RunPlan) -> None:
    assert plan.kept
    assert plan.breaks_first is None
    assert plan.standing.status is Status.IN_TIME
    by_kind = {s.store: s for s in plan.stores}
    assert by_kind["fridge"].high <= 40.0 / 9.0 * 1.0001  # 40 degF, FoodSafety.gov
    assert by_kind["sump"].missed == 0.0
    assert by_kind["house"].low >= 10.0 - 0.01


def test_what_people_switch_runs_within_spells_only(plan: RunPlan) -> None:
    """The oven's circuit, beside the fridge's compressor, draws nothing while the machine stands."""
    trace = plan.trace
    off = trace.machine_frac == 0.0
    assert off.any()
    assert np.all(trace.circuit_w[off] == 0.0)
    k = trace.house.task_ids.index("oven")
    assert float(trace.outcomes.task_undone_s[0, k]) < trace.house.world.tasks[k, 2] * 2.0


def test_circuits_follow_the_order_of_least_peak(plan: RunPlan) -> None:
    from hearthold.sizing.order import switch_on_order

    order = switch_on_order(running_house(**NIGHT))
    assert plan.circuits == tuple(step.circuit for step in order.steps)
    assert plan.control.spells[0].steps == tuple(plan.control.spells[-1].steps)


def test_the_tank_is_filled_cold_and_between_spells() -> None:
    plan = planned(running_house(tank="1 gal", fuel="12 gal", **NIGHT), 60.0)
    assert plan.refuels
    for refuel in plan.refuels:
        before = int(refuel.at_s // 60.0) - 14
        assert np.all(
            plan.trace.machine_frac[before : before + 14] == 0.0
        )  # it has cooled for a quarter of an hour
        assert refuel.poured_m3 > 0.0
    poured = sum(r.poured_m3 for r in plan.refuels)
    tank = plan.trace.fuel_m3
    assert isclose(float(tank[0]) + poured - plan.fuel_m3, float(tank[-1]), abs_tol=1e-6)


def test_scarce_fuel_is_rationed_and_trips_are_counted() -> None:
    trip = 'trip = { time = "90 min", brings = "5 gal", works_in_outage = true }'
    scarce = planned(running_house(fuel="2 gal", **NIGHT), 96.0)
    fetched = planned(running_house(fuel="2 gal", trip=trip, **NIGHT), 96.0)
    assert scarce.fuel_m3 <= 2 * 0.003785411784 + 1e-9
    assert scarce.trips == ()
    assert len(fetched.trips) >= 1
    assert fetched.cost.breach_j < scarce.cost.breach_j


def test_a_plan_is_never_worse_than_a_daily_rule() -> None:
    house = running_house(inflow="4 gal/h")
    problem = pose(house, steady(0.0), Asked(start_s=42 * HOUR_S, hours=48.0))
    plan = planned(house, mean_c=0.0)
    rules = [((390, 90), (1080, 90)), ((420, 60), (780, 60), (1260, 45)), ((480, 240), (1080, 240))]
    patterns = [rule_pattern(problem, rule) for rule in rules]
    allowed = [on for on in patterns if problem.patterns.allows(on)]
    assert len(allowed) == 3
    parts, _ = price_patterns(problem, allowed)
    assert plan.cost.total_j <= parts.sum(axis=1).min()


@pytest.mark.parametrize(("mean_c", "fuel", "hours"), [(12.0, "60 gal", 48.0), (-5.0, "3 gal", 72.0)])
def test_where_limits_break_a_plan_is_never_worse_than_a_polished_daily_rule(
    mean_c: float, fuel: str, hours: float
) -> None:
    """Also where the grid fails in the middle of a spell of the rule."""
    house = running_house(fuel=fuel)
    problem = pose(house, steady(mean_c), Asked(start_s=42 * HOUR_S, hours=hours).settled(house))
    plan = planned(house, hours, mean_c)
    assert not plan.kept
    rules = daily_rules(problem, USUAL)
    assert rules
    costs = costs_j(problem, rules)
    best = min(polish(problem, rules[i], float(costs[i]), FIRST_TRIES)[1] for i in (0, 1))
    assert plan.cost.total_j <= best * (1.0 + 1e-9)


def test_more_effort_is_not_worse() -> None:
    house = running_house(**NIGHT)
    quick, thorough = planned(house, effort=QUICK), planned(house, effort=THOROUGH)
    assert thorough.cost.total_j <= quick.cost.total_j * 1.001
    assert planned(house, effort=QUICK).cost == quick.cost


def test_a_vital_load_at_night_is_never_traded() -> None:
    house = running_house(cpap="vital", medical=MEDICAL.format(own="0 min"), fuel="20 gal")
    plan = planned(house, 36.0, 10.0, start_h=12.0)
    cpap = next(s for s in plan.stores if s.kind == "vital")
    assert cpap.beyond_s <= 60.0
    assert plan.night_run_s > 6.9 * HOUR_S
    assert len(plan.gave_way) == 2


def test_the_need_of_a_device_with_its_own_battery_is_met_by_less_running() -> None:
    """Of seven hours in the night its own battery carries four, once it has been filled by day."""
    house = running_house(cpap="vital", medical=MEDICAL.format(own="4 h"), fuel="20 gal")
    plan = planned(house, 60.0, 10.0, start_h=12.0)
    assert next(s for s in plan.stores if s.kind == "vital").kept
    assert max(s.length_s for s in plan.spells) <= 4 * HOUR_S
    assert plan.night_run_s < 2 * 5.0 * HOUR_S  # of two nights, seven hours each


def test_with_a_battery_the_same_need_calls_for_no_night_running() -> None:
    battery = '[battery]\ncapacity = "10 kWh"\ncharge = "2 kW"\ndischarge = "3 kW"\n'
    house = running_house(battery, cpap="vital", medical=MEDICAL.format(own="0 min"))
    plan = planned(house, 36.0, 10.0, start_h=12.0)
    assert next(s for s in plan.stores if s.kind == "vital").kept
    assert plan.night_run_s == 0.0


def test_words_of_a_status() -> None:
    assert standing(10.0, None, True).words == "best found in the time"
    assert standing(10.0, 10.0, True).words == "proven best"
    assert standing(10.2, 10.0, True).words == "best found, at most 2.0 % dearer than the best possible"
    assert standing(10.0, 10.0, False).words == "cannot be done"


def test_a_bound_gives_the_gap() -> None:
    plan = planned(running_house(**NIGHT), 24.0, bound=lambda _: 0.5 * LITRE_J)
    assert plan.lower_bound_j == 0.5 * LITRE_J
    assert plan.standing.status is Status.WITHIN
    assert plan.standing.gap_frac == pytest.approx(plan.cost.total_j / (0.5 * LITRE_J) - 1.0)


def test_what_cannot_be_planned_is_refused() -> None:
    with pytest.raises(InputError, match=r"outside the .* h of weather"):
        planned(running_house(), 24.0 * 30)
    text_house = running_house()
    from dataclasses import replace

    with pytest.raises(InputError, match="no machine to plan"):
        planned(replace(text_house, generator=None))


def test_an_old_control_is_replayed_to_the_bit(plan: RunPlan) -> None:
    problem = pose(running_house(**NIGHT), steady(5.0), Asked(start_s=42 * HOUR_S, hours=48.0))
    again = Control(problem.spells_of(plan.pattern), problem.handling)
    assert again == plan.control

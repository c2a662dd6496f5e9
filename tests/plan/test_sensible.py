"""Plans of the example houses as somebody who must carry them out reads them: no odd stop, nothing in the night."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from hearthold.house.reader import read_house
from hearthold.plan.asked import Asked
from hearthold.plan.now import Now
from hearthold.plan.replan import plan_from
from hearthold.plan.routine import find_routine, steady_hours
from hearthold.plan.runplan import RunPlan, plan_running
from hearthold.plan.solve import QUICK
from hearthold.sizing.conditions import conditions

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
HOUR_S, DAY_S = 3600.0, 86400.0
BEGINS_S = 42 * HOUR_S  # 18:00


def is_quiet(plan: RunPlan, at_s: float, from_s: float, to_s: float) -> bool:
    return (plan.fails_at_s + at_s - from_s) % DAY_S < (to_s - from_s) % DAY_S


@pytest.mark.parametrize("month", [1, 7])
@pytest.mark.parametrize("name", ["tarn_hollow", "skerrow_croft"])
def test_a_plan_can_be_carried_out_by_people_who_sleep(name: str, month: int) -> None:
    """Neither house lets it run at night: an hour between spells, and no filling in quiet hours."""
    house = read_house(EXAMPLES / f"{name}.toml")
    outside = steady_hours(conditions(house, month), 6)
    plan = plan_running(house, outside, Asked(BEGINS_S, 72.0), effort=QUICK)
    now = Now(BEGINS_S, 6 * HOUR_S, cold_c={"fridge": 4.0}, running=True, since_s=HOUR_S)
    again = plan_from(house, outside, now, 48.0, 1.0).plan
    quiet = house.people.quiet_from_s, house.people.quiet_to_s
    for each in (plan, again):
        assert len(each.spells) > 3
        assert all(b.start_s - a.end_s >= HOUR_S for a, b in pairwise(each.spells))
        assert all(s.length_s >= house.wishes.shortest_spell_s for s in each.spells[1:-1])
        assert not any(is_quiet(each, s.start_s, *quiet) for s in each.spells)
        assert not any(is_quiet(each, filled.at_s, *quiet) for filled in each.refuels)
        assert each.night_run_s == 0.0


@pytest.mark.parametrize("name", ["tarn_hollow", "skerrow_croft"])
def test_a_routine_leaves_an_hour_between_spells_all_round_the_clock(name: str) -> None:
    house = read_house(EXAMPLES / f"{name}.toml")
    runs = find_routine(house, conditions(house, 1), 48.0).runs
    after = [run.at_s for run in runs[1:]] + [runs[0].at_s + DAY_S]
    assert all(begin - (run.at_s + run.length_s) >= HOUR_S for run, begin in zip(runs, after, strict=True))

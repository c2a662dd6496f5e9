"""Sweeps: shared tracks give what separate ones give; more never hurts; files hold what was found."""

from dataclasses import replace
from itertools import pairwise

import pytest

from hearthold.errors import InputError, MissingExtraError
from hearthold.study import tablefile
from hearthold.study.grid import GALLON_M3, Grid, Running, usual_grid
from hearthold.study.gridtext import read_grid
from hearthold.study.sweep import sweep
from hearthold.study.swept import front, rows_of
from hearthold.study.tablefile import read_rows, write_rows

STOCKS = tuple(n * GALLON_M3 for n in (2.0, 5.0, 7.0, 12.0, 20.0, 40.0))
SMALL = Grid(fuel_m3=STOCKS, running=(Running.BY_NEED,))


@pytest.fixture(scope="module")
def found(farm, believed):
    return sweep(farm, believed, SMALL, seed=2, rounds=2, each=8)


def test_shared_tracks_are_the_separate_ones(farm, believed, found):
    """One run for all stocks, against each stock run from the start by itself; sums may round otherwise."""
    for row in found:
        (alone,) = sweep(farm, believed, replace(SMALL, fuel_m3=(row.fuel_m3,)), seed=2, rounds=2, each=8)
        for (name, one), (_, other) in zip(
            alone.losses + alone.amounts, row.losses + row.amounts, strict=True
        ):
            assert one.value == pytest.approx(other.value, rel=1e-13), name


def test_the_same_on_any_number_of_threads(farm, believed, found):
    assert sweep(farm, believed, SMALL, seed=2, rounds=2, each=8, threads=1) == found


def test_more_fuel_never_runs_dry_more_often(found):
    dry = [row.loss("fuel").value for row in sorted(found, key=lambda r: r.fuel_m3)]
    assert all(b <= a + 1e-12 for a, b in pairwise(dry))
    assert dry[0] > dry[-1]


def test_what_is_burned_is_no_more_than_is_there_in_any_outage(found, believed):
    """A year's fuel is at most outages a year times the stock."""
    for row in found:
        assert row.amount("fuel_m3").value <= believed.saifi_per_year * row.fuel_m3 * (1.0 + 1e-9)


def test_a_battery_helps(farm, believed):
    grid = Grid(battery_j=(0.0, 36e6), water_tank_ratio=(1.0, 3.0), running=(Running.BY_NEED,))
    rows = sweep(farm, believed, grid, seed=2, rounds=2, each=8)
    by = {(r.battery_j, r.water_tank_ratio): r for r in rows}
    assert len(rows) == 4 == len(grid)
    assert by[36e6, 1.0].loss("fridge").value < by[0.0, 1.0].loss("fridge").value
    assert by[36e6, 1.0].to_spend > by[0.0, 1.0].to_spend


def test_a_larger_tank_keeps_water_longer_after_the_last_fuel(farm, believed):
    """By a fixed routine: run by need, a larger tank is filled more often and the fuel is gone sooner."""
    grid = Grid(battery_j=(0.0,), water_tank_ratio=(1.0, 3.0), running=(Running.ROUTINE,))
    small, large = sweep(farm, believed, grid, seed=2, rounds=2, each=8)
    assert large.water_tank_ratio == 3.0
    assert 0.0 < large.loss("water").value < small.loss("water").value


def test_the_front_only_gets_safer(found):
    kept = front(found)
    risks = [x.any_loss_frac.value for x in kept]
    assert risks == sorted(risks, reverse=True)
    assert len(set(risks)) == len(risks)


def test_about_two_hundred_designs_are_usual(farm):
    assert 200 <= len(usual_grid(farm)) <= 250


def test_lists_as_people_write_them(farm):
    grid = read_grid(
        farm, {"machine": "5 kW, 7.5 kW", "fuel": "10 gal", "battery": "0 kWh", "running": "by need"}
    )
    assert grid.machine_w == (5000.0, 7500.0)
    assert grid.fuel_m3 == pytest.approx((10.0 * GALLON_M3,))
    assert grid.running == (Running.BY_NEED,)


@pytest.mark.parametrize("ending", [".parquet", ".csv"])
def test_files_hold_what_was_found(tmp_path, found, ending):
    path = tmp_path / f"sweep{ending}"
    rows = rows_of(found)
    write_rows(path, rows)
    if ending == ".parquet":
        assert read_rows(path) == rows
    else:
        lines = path.read_text().splitlines()
        assert len(lines) == 1 + len(rows)
        assert lines[0].split(",") == list(rows[0])
    assert [p.name for p in tmp_path.iterdir()] == [path.name]


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda farm: Grid(machine_w=(-5.0,)), "machine_w holds -5; allowed above 0"),
        (lambda farm: Grid(fuel_m3=(float("nan"),)), "fuel_m3 holds nan"),
        (lambda farm: Grid(machine_w=(1.0,) * 199, fuel_m3=(1.0,) * 199), "39601 designs are asked for"),
        (lambda farm: read_grid(farm, {"running": "backwards"}), '"backwards" is no way of running'),
        (lambda farm: read_grid(farm, {"water_tank": "large"}), '"large" is no number'),
        (lambda farm: read_grid(farm, {"machine": "5 apples"}), "apples"),
        (lambda farm: usual_grid(replace(farm, generator=None)), "a sweep needs a machine"),
    ],
)  # fmt: skip
def test_grids_that_cannot_be_are_refused(farm, call, message):
    with pytest.raises(InputError, match=message):
        call(farm)


def test_a_table_needs_a_known_ending_and_a_folder(tmp_path):
    with pytest.raises(InputError, match=r"write \.parquet or \.csv"):
        write_rows(tmp_path / "x.xlsx", [])
    with pytest.raises(InputError, match="is not a folder"):
        write_rows(tmp_path / "no" / "x.csv", [])


def test_parquet_without_pyarrow_says_what_to_do(tmp_path, monkeypatch):
    import sys

    monkeypatch.setitem(sys.modules, "pyarrow", None)
    with pytest.raises(MissingExtraError, match=r"or name a file that ends in \.csv"):
        tablefile.check_path(tmp_path / "x.parquet")


def test_every_figure_has_an_interval_and_any_loss_a_band(found):
    for row in found:
        for name, figure in (*row.losses, *row.amounts):
            assert 0.0 <= figure.low <= figure.value <= figure.high, name
        # What no outage of the few that were tried showed is not impossible.
        assert all(figure.high > 0.0 for _, figure in row.losses)
        low, high = row.any_loss_band_frac
        assert low < row.any_loss_frac.value < high


def test_a_column_for_each_end_of_each_interval(found):
    (row, *_), design = rows_of(found), found[0]
    assert row["fridge_low_year_frac"] == design.loss("fridge").low
    assert row["fridge_high_year_frac"] == design.loss("fridge").high
    assert row["year_low_fuel_m3"] <= row["year_fuel_m3"] <= row["year_high_fuel_m3"]


def test_the_band_is_that_of_risk_over_the_same_outages(farm, believed):
    """Two roads: weights on a grid here, the product of matrices of `weigh` there, over other outages."""
    from hearthold.engine.control import Watchful
    from hearthold.study.risk import Effort, risk

    (row,) = sweep(farm, believed, Grid(running=(Running.BY_NEED,)), seed=2)
    effort = Effort(half_frac=1e-9, least_rounds=2, most_rounds=4, each=32)
    there = risk(farm, Watchful(not_at_night=True), believed, effort=effort).loss("anything").year_band_frac
    assert row.any_loss_band_frac == pytest.approx(there, abs=0.03)

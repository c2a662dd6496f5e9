"""Cost of the hookup against sums by hand of the cost table, and against the trade's orders of magnitude.

The table is memory throughout (editable defaults), so the tests check the arithmetic and that totals stand
where people in the trade expect them: `common practice, no source`.
"""

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from hearthold.house.reader import read_house
from hearthold.house.supply import Battery, FuelKind, HookupKind
from hearthold.plan.cost import Cost, CostLine, fuel_band, hookup_cost
from hearthold.quantities.source import Source, Standing

EXAMPLES = Path(__file__).parents[2] / "examples"
TARN = read_house(EXAMPLES / "tarn_hollow.toml")
CROFT = read_house(EXAMPLES / "skerrow_croft.toml")
GAL_M3 = 3.785411784e-3


def with_hookup(house, **changes):
    return replace(house, hookup=house.hookup.model_copy(update=changes))


def with_machine(house, **changes):
    return replace(house, generator=house.generator.model_copy(update=changes))


def burn(fuel=FuelKind.GASOLINE, m3_per_s=1e-6, rated_w=7500.0, lhv_j_per_m3=3.2e10):
    """A machine that burns the same at every load."""
    return SimpleNamespace(
        fuel=fuel, rated_w=rated_w, lhv_j_per_m3=lhv_j_per_m3, m3_per_s=lambda output_w: m3_per_s
    )


def bands(cost):
    return [(line.low, line.high) for line in cost.first]


def line(cost, word):
    return next(x for x in (*cost.first, *cost.yearly) if word in x.item)


def test_a_manual_transfer_by_hand():
    """Machine 800-1600, cord 60-130, inlet 50-110, panel 150-500, switch 250-650, work, permit 50-300."""
    cost = hookup_cost(TARN, None)
    assert bands(cost) == [(800, 1600), (60, 130), (50, 110), (150, 500), (250, 650), (500, 1500), (50, 300)]
    assert cost.total() == (1860.0, 3325.0, 4790.0)


def test_an_interlock_by_hand():
    """800-1600, 60-130, 50-110, 50-160, work 350-1000, permit 50-300."""
    cost = hookup_cost(with_hookup(TARN, kind=HookupKind.INTERLOCK), None)
    assert cost.total() == (1360.0, 2330.0, 3300.0)


def test_cords_alone_are_a_machine_and_a_cord():
    cost = hookup_cost(with_hookup(TARN, kind=HookupKind.CORDS, inlet=None), None)
    assert cost.total() == (860.0, 1295.0, 1730.0)


def test_a_large_plug_takes_the_large_parts():
    cost = hookup_cost(with_hookup(TARN, inlet_breaker_a=50.0), None)
    assert (120, 260) in bands(cost)
    assert (70, 160) in bands(cost)


@pytest.mark.parametrize(
    ("running_w", "kind", "low", "high"),
    [(4000, "portable", 500, 1000), (6000, "portable", 500, 1000), (6001, "portable", 800, 1600),
     (9000, "portable", 800, 1600), (12000, "portable", 1200, 3000), (3000, "inverter", 700, 2500),
     (15000, "pto", 1800, 5000)],
)  # fmt: skip
def test_the_machine_by_size(running_w, kind, low, high):
    rating = TARN.generator.on[0].model_copy(update={"running_w": float(running_w)})
    assert bands(hookup_cost(with_machine(TARN, kind=kind, on=(rating,)), None))[0] == (low, high)


def test_automatic_standby_is_one_price_and_a_service():
    cost = hookup_cost(with_hookup(TARN, kind=HookupKind.AUTOMATIC_STANDBY), None)
    assert cost.total() == (8000.0, 13000.0, 18000.0)
    assert cost.total(yearly=True) == (200.0, 350.0, 500.0)


def test_a_battery_is_priced_by_its_capacity():
    battery = Battery.model_validate({"capacity": "10 kWh", "charge": "5 kW", "discharge": "5 kW"})
    house = replace(with_hookup(TARN, kind=HookupKind.BATTERY_INVERTER), battery=battery)
    assert line(hookup_cost(house, None), "battery").low == pytest.approx(8000.0)
    assert line(hookup_cost(house, None), "battery").high == pytest.approx(15000.0)


def test_what_is_in_place_is_not_still_to_spend():
    assert hookup_cost(TARN, None).total(still_to_spend=True) is None
    planned = with_machine(with_hookup(TARN, installed=False), owned=True)
    left = hookup_cost(planned, None).total(still_to_spend=True)
    assert left == (1060.0, 2125.0, 3190.0)  # all but the machine, 800-1200-1600
    nothing = with_machine(with_hookup(TARN, installed=False), owned=False)
    assert hookup_cost(nothing, None).total(still_to_spend=True) == hookup_cost(TARN, None).total()


def test_the_households_own_hourly_price():
    """Job 500-1000-1500 at 75-112.5-150 an hour: 3.3 to 20 hours, 8.9 typical; at 55 pounds: 183-489-1100."""
    cost = hookup_cost(CROFT, None)
    work = line(cost, "electrician")
    assert (work.low, work.typical, work.high) == pytest.approx(
        (55 * 500 / 150, 55 * 1000 / 112.5, 55 * 1500 / 75)
    )
    assert cost.currency == "GBP"
    assert "your hourly price" in work.source.text


def test_parts_are_called_as_where_the_house_stands():
    here, there = hookup_cost(TARN, None), hookup_cost(CROFT, None)
    assert {"generator cord 30 A", "permit and inspection"} <= {x.item for x in here.first}
    assert {"manual changeover switch", "certificate and notification"} <= {x.item for x in there.first}
    assert not [x.item for x in here.first if "petrol" in x.item or "changeover" in x.item]
    assert not [
        x.item for x in there.first if "permit" in x.item or "30 A" in x.item or "ft" in x.item.split()
    ]


def test_dollar_prices_are_turned_into_the_households_money():
    """A certificate and notification of 50 to 300 dollars at 0.782 pounds a dollar; the own hour is in pounds."""
    cost = hookup_cost(CROFT, None)
    permit = line(cost, "certificate")
    assert (permit.low, permit.high) == pytest.approx((39.1, 234.6))
    assert any("a dollar is taken as 0.782 GBP" in note for note in cost.notes)
    dearer = replace(CROFT, prices=CROFT.prices.model_copy(update={"for_a_dollar": 1.564}))
    assert line(hookup_cost(dearer, None), "certificate").low == pytest.approx(78.2)
    assert line(hookup_cost(dearer, None), "electrician") == line(cost, "electrician")


def test_a_longer_cord_costs_by_its_length():
    """12 m against the 25 ft (7.62 m) of the table's 60 to 130 dollars; a shorter one is not cheaper."""
    lead = line(hookup_cost(CROFT, None), "generator lead")
    assert (lead.low, lead.high) == pytest.approx((0.782 * 60 * 12 / 7.62, 0.782 * 130 * 12 / 7.62))
    short = with_hookup(TARN, cord=TARN.hookup.cord.model_copy(update={"length_m": 3.0}))
    assert line(hookup_cost(short, None), "generator cord").low == 60.0


def test_totals_by_hand():
    source = Source("x", Standing.ASSUMED)
    first = (
        CostLine("a", 1.0, 2.0, 3.0, False, source),
        CostLine("b", 10.0, 20.0, 30.0, True, source),
        CostLine("c", 100.0, 200.0, 300.0, False, source),
    )
    cost = Cost("USD", first, first[:1], ())
    assert cost.total() == (111.0, 222.0, 333.0)
    assert cost.total(still_to_spend=True) == (101.0, 202.0, 303.0)
    assert cost.total(yearly=True) == (1.0, 2.0, 3.0)


def test_no_hookup_no_price():
    cost = hookup_cost(replace(TARN, hookup=None), None)
    assert (cost.first, cost.yearly) == ((), ())
    assert "No hookup is described" in cost.notes[0]


def test_exercise_fuel_by_hand():
    """15 minutes every 30 days (upkeep table) are 12.17 times 900 s; 1 mL/s; 3.30 dollars a gallon."""
    priced = line(hookup_cost(TARN, burn()), "exercise")
    by_hand = 365.2425 / 30 * 900 * 1e-6 / GAL_M3 * 3.30
    assert (priced.low, priced.typical, priced.high) == pytest.approx((by_hand,) * 3, rel=1e-9)


def test_outage_fuel_by_hand():
    """Rural cooperative: 1.65 x 1.74 h + 0.45 x 15.3 h = 9.756 h a year; machine on for 35 per cent of it."""
    priced = line(hookup_cost(TARN, burn()), "outages")
    by_hand = (1.65 * 1.74 + 0.45 * 15.3) * 3600 * 0.35 * 1e-6 / GAL_M3 * 3.30
    assert priced.typical == pytest.approx(by_hand, rel=1e-9)
    assert (priced.low, priced.high) == pytest.approx((0.4 * by_hand, 2.5 * by_hand))


def test_a_reported_saidi_and_an_own_price_come_first():
    """340 minutes a year, 1.45 pounds a litre."""
    priced = line(hookup_cost(CROFT, burn()), "outages")
    assert priced.typical == pytest.approx(340 * 60 * 0.35 * 1e-6 * 1450.0)
    assert priced.source.standing is Standing.GIVEN


def test_without_region_the_average_is_told():
    house = replace(TARN, outages=TARN.outages.model_copy(update={"region": None}))
    assert any("national average" in note for note in hookup_cost(house, burn()).notes)
    assert not any("national average" in note for note in hookup_cost(TARN, burn()).notes)


def test_mains_gas_is_priced_by_its_energy():
    """A joule of gas costs as much as a joule of propane, whatever the volumes: 84250 Btu a gallon (AFDC)."""
    gas_j_per_m3, watts = 930 * 1055.05585262 / 0.028316846592, 30e3
    gas = burn(FuelKind.NATURAL_GAS, watts / gas_j_per_m3, lhv_j_per_m3=gas_j_per_m3)
    by_hand = watts * 365.2425 / 30 * 900 / (84250 * 1055.05585262) * 2.46
    assert line(hookup_cost(TARN, gas), "exercise").typical == pytest.approx(by_hand, rel=1e-6)


def test_the_band_of_a_fuel_is_that_of_its_years_and_the_households_own_price_has_none():
    """EIA annual averages of gasoline, 3.10 to 3.52 dollars a gallon about 3.30; the croft pays 1.45 pounds a litre."""
    assert fuel_band(TARN, burn()) == pytest.approx([usd / GAL_M3 for usd in (3.10, 3.30, 3.52)])
    assert fuel_band(CROFT, burn()) == (1450.0,) * 3


# Orders of magnitude that the trade expects in US dollars of the 2020s: common practice, no source.
def test_all_in_a_hookup_by_hand_is_a_fraction_of_automatic_standby():
    by_hand = [
        hookup_cost(with_hookup(TARN, kind=kind), None).total()
        for kind in (HookupKind.INTERLOCK, HookupKind.MANUAL_TRANSFER)
    ]
    standby = hookup_cost(with_hookup(TARN, kind=HookupKind.AUTOMATIC_STANDBY), None).total()
    for low, typical, high in by_hand:
        assert 1200 <= low <= 2000
        assert 1400 <= typical <= 4000
        assert high <= 5000
    assert (standby[0], standby[2]) == (8000.0, 18000.0)
    assert max(high for _, _, high in by_hand) < standby[0]


@pytest.mark.parametrize(
    ("word", "low", "high"),
    [
        ("cord", 50, 130),
        ("portable set", 800, 3000),
        ("transfer switch, 6-10", 250, 700),
        ("electrician", 300, 1500),
    ],
)
def test_each_part_stands_where_the_trade_expects_it(word, low, high):
    part = line(hookup_cost(TARN, None), word)
    assert low <= part.low < part.high <= high


def test_an_electricians_work_is_about_a_day():
    """Table work over table hourly price: 1000 / 112.5 = 8.9 hours."""
    hours = line(hookup_cost(CROFT, None), "electrician").typical / CROFT.prices.electrician_per_hour
    assert 6.0 <= hours <= 12.0

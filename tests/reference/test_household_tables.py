"""Household, outages, prices and safety, as the tables give them, against what was published."""

import pytest

from hearthold.quantities.source import Source, Standing
from hearthold.reference import (
    cautions,
    code_rules,
    cold,
    costs,
    dwellings,
    food,
    outages,
    storage,
    upkeep,
    water,
)

GAL_M3 = 0.003785411784  # exact, NIST SP 811
HOUR_S = 3600.0
BTU_J = 1055.05585262  # exact, international table Btu


class TestHousehold:
    def test_food_charts_are_whole(self):
        assert len(food.fridge_items()) == 29
        assert len(food.freezer_items()) == 16
        limited = [i for i in food.fridge_items() if i.verdict == "discard_past_limit"]
        assert [(i.limit_s, i.limit_c) for i in limited] == [(8 * HOUR_S, pytest.approx(10.0))]

    def test_a_limit_is_given_exactly_where_the_verdict_needs_one(self):
        for item in food.fridge_items():
            assert (item.verdict == "discard_past_limit") == (item.limit_s is not None)
        for frozen in food.freezer_items():
            assert (frozen.warm_verdict == "discard_past_limit") == (frozen.limit_s is not None)

    def test_food_specific_heat_follows_the_water_rule(self):
        # NZIFST appendix 7: c above freezing = 4.19 p + 0.84 (1 - p) kJ/(kg K), a rule of thumb
        for name in ("cod", "peas_green", "snap_beans", "carrots", "sweet_corn", "strawberries"):
            found = food.food(name)
            rule = 4190 * found.water_frac + 840 * (1 - found.water_frac)
            assert found.above_j_per_kg_k == pytest.approx(rule, rel=0.09), name  # printed to two figures

    def test_cold_sets_say_they_are_calibrated(self):
        found = cold.cold_appliance("chest_15_ft3")
        assert "Circular" in found.caution
        assert found.source.standing is Standing.COMPUTED
        assert cold.cold_appliance("fresh_food_18_ft3").full_load_kg is None

    def test_full_load_is_the_density_of_the_volume(self):
        # 15 ft3 at 20 lb/ft3 is 300 lb = 136 kg
        kg = cold.freezer_density_kg_per_m3() * 15 * 0.028316846592
        assert cold.cold_appliance("chest_15_ft3").full_load_kg == pytest.approx(kg, rel=0.005)

    def test_heat_loss_follows_from_the_label_line(self):
        # UA = E / K x COP / (32.2 - (-17.8)) for a chest: E from 10 CFR 430.32, K 0.7, COP 1.35
        line = cold.label_line("chest_freezer")
        for ft3 in (5, 7, 10, 15, 20, 25):
            m3 = ft3 * 0.028316846592
            mean_w = line.slope_w_per_m3 * 1.76 * m3 + line.base_w
            assert cold.freezer_ua_w_per_k("chest", m3) == pytest.approx(mean_w / 0.7 * 1.35 / 50.0, rel=0.02)

    def test_model_hold(self):
        assert cold.model_hold_s("chest_15_ft3", 22) == pytest.approx(48 * HOUR_S)
        assert cold.model_hold_s("chest_15_ft3", 22, full=False) == pytest.approx(24.9 * HOUR_S)

    @pytest.mark.parametrize(
        ("name", "hours"),
        [
            ("leaky_farmhouse", 16.1),
            ("partly_insulated", 17.6),
            ("nineties", 25.5),
            ("code_2015", 38.7),
            ("high_performance", 95.4),
        ],
    )
    def test_time_constant_of_a_house(self, name, hours):
        # worked out by hand from the same heat loss and capacity: a guard of units, not a proof
        assert dwellings.house_class(name).time_constant_s == pytest.approx(hours * HOUR_S, rel=0.01)

    def test_house_pieces(self):
        assert dwellings.heater_draw("oil_boiler").middle_w == 325.0
        assert dwellings.heater_output("wood_stove_example").low_w == pytest.approx(42000 * BTU_J / HOUR_S)
        assert dwellings.pipe_rule("outdoor_alert").temperature_c == pytest.approx(-6.667, abs=0.001)
        assert dwellings.indoor_gain("person_sensible").low_w == 75.0
        assert dwellings.dry_wood_j_per_kg() == pytest.approx(8600 * 2326.0)
        assert dwellings.cord_j() == pytest.approx(2e7 * BTU_J)
        assert dwellings.stove_efficiency_frac() == (0.6, 0.78)

    def test_water_pieces(self):
        assert water.water_use("usual").high_m3_per_s == pytest.approx(100 * GAL_M3 / 86400)
        assert water.livestock_water("sheep").low_m3_per_s == pytest.approx(3.6e-3 / 86400)
        assert water.drawdown_m3(119, 30, 50, "equals_cut_in") == pytest.approx(36.8 * GAL_M3, rel=0.001)
        assert water.fixture_m3("toilet_modern")[0] == pytest.approx(1.28 * GAL_M3)
        assert water.tap_m3_per_s("shower") == pytest.approx(2.1 * GAL_M3 / 60)
        assert water.tank_sizes_gal()[0] == 14.0
        assert water.pump_efficiency_frac("jet") == (0.2, 0.35)

    def test_recovery_is_the_heat_of_4500_w(self):
        # 4500 W into water of 4186 J/(kg K), 998 kg/m3
        for rise_k in (40.0, 50.0):
            assert water.recovery_m3_per_s(rise_k) == pytest.approx(4500 / (4186 * 998 * rise_k), rel=0.01)


class TestStudyData:
    def test_model_reproduces_the_reported_indices(self):
        # EIA Table 11.1, mean of 2014-2023: SAIDI 349.6 min, SAIFI 1.355 (set from it: a guard, not a proof)
        found = outages.outage_model("us_average")
        assert found.saidi_s / 60 == pytest.approx(349.6, rel=0.002)
        assert found.saifi_per_year == pytest.approx(1.355)

    def test_ten_years_average_to_the_published_mean(self):
        years = [outages.national_indices(y) for y in outages.reported_years()]
        assert len(years) == 10
        assert sum(y.saidi_s for y in years) / 10 / 60 == pytest.approx(349.6, abs=0.1)
        assert sum(y.saifi_per_year for y in years) / 10 == pytest.approx(1.355, abs=0.001)

    def test_maine_is_the_storm_prone_state(self):
        maine, model = outages.state_indices("maine", 2023), outages.outage_model("storm_prone_rural")
        assert model.saidi_s == pytest.approx(maine.saidi_s, rel=0.005)
        assert model.saifi_per_year == pytest.approx(maine.saifi_per_year, rel=0.005)
        assert maine.caidi_s == pytest.approx(maine.saidi_s / maine.saifi_per_year)

    def test_tail_is_a_band(self):
        low, high = outages.tail_band_frac("us_average", 72)
        assert (low, high) == (0.0014, 0.0084)
        assert len(outages.month_share_frac()) == 12

    def test_costs_by_quantity(self):
        found = costs.cost("gasoline_gal")
        assert found.typical_usd_per_si == pytest.approx(3.30 / GAL_M3)
        assert found.low_usd_per_si < found.typical_usd_per_si < found.high_usd_per_si
        assert costs.cost("electricity_kwh").typical_usd_per_si == pytest.approx(0.165 / 3.6e6)
        assert costs.cost("interlock").typical_usd == 105.0
        assert costs.cost("propane_gal").source.standing is Standing.SEEN
        assert costs.propane_price_usd_per_m3("maine") == pytest.approx(3.134 / GAL_M3)

    def test_every_cost_is_ordered(self):
        for item in costs.cost_items():
            found = costs.cost(item)
            assert found.low_usd <= found.typical_usd <= found.high_usd, item

    def test_upkeep(self):
        found = upkeep.upkeep_task("oil_change_no_filter")
        assert found.running_low_s == 50 * HOUR_S
        assert found.calendar_s == pytest.approx(365.2425 * 86400)
        assert upkeep.upkeep_task("exercise").calendar_s == 30 * 86400
        assert all(t.source.standing is Standing.MEMORY for t in upkeep.upkeep_tasks())
        assert upkeep.set_life_s("portable_gasoline") == (500 * HOUR_S, 2000 * HOUR_S)

    def test_storage(self):
        lead, lithium = storage.battery_kind("lead_acid"), storage.battery_kind("lithium_iron_phosphate")
        assert lead.coldest_charge_c is None
        assert lithium.coldest_charge_c == 0.0
        assert lithium.source.standing is Standing.MEMORY
        assert storage.inverter_idle_frac() == (0.008, 0.02)
        assert storage.conversion_frac("inverter") == (0.9, 0.95)
        assert storage.pv_constant("temperature_ratio") == -0.0035
        site = storage.pv_site("greensboro_nc")
        assert site.worst_w_per_w == pytest.approx(2.82 / 24)
        assert site.annual_j_per_w == pytest.approx(1428 * HOUR_S)


class TestSafety:
    def test_every_moment_has_a_caution_in_both_systems(self):
        for system in ("split_120_240", "single_230"):
            for moment in cautions.moments():
                assert cautions.cautions(moment=moment, system=system), (moment, system)

    def test_distances_are_in_metres(self):
        assert cautions.caution("co_distance").distance_m == pytest.approx(20 * 0.3048)
        assert cautions.caution("wall_distance").distance_m == pytest.approx(5 * 0.3048)
        assert cautions.caution("cool_before_refuel").wait_s == 900.0

    @pytest.mark.parametrize(
        ("system", "country", "number"),
        # national emergency numbers (ITU-T E.161.1 and national practice, from memory)
        [
            ("split_120_240", "US", "911"),
            ("split_120_240", "CA", "911"),
            ("single_230", "GB", "112 or 999"),
            ("single_230", "IE", "112 or 999"),
            ("single_230", "DE", "112"),
            ("single_230", "XX", "your emergency number"),
            ("single_230", "AU", "000"),
            ("single_230", "NZ", "111"),
        ],
    )
    def test_the_number_to_call_is_that_of_the_country(self, system, country, number):
        assert f"call {number}," in cautions.local_caution("co_symptoms", system, country).text

    def test_a_house_on_230_v_hears_no_american_words(self):
        american = ("911", "fire marshal", "dryer outlet", "licensed", " ft", "permit", "utility")
        for found in cautions.cautions(system="single_230"):
            if found.id != "wall_distance":  # the distance of a US standard, named as such
                assert not [word for word in american if word in found.text], found.id

    def test_each_replacement_keeps_the_figures_of_what_it_replaces(self):
        for name in ("co_distance", "no_backfeed", "electrician", "open_panel", "transfer_order", "medical"):
            here, there = cautions.caution(name), cautions.local_caution(name, "single_230", "IE")
            assert there.id != here.id
            assert (there.topic, there.moment, there.distance_m) == (here.topic, here.moment, here.distance_m)

    def test_no_caution_and_no_rule_promises_safety(self):
        texts = [c.text for c in cautions.cautions()] + [r.text for r in code_rules.code_rules()]
        for text in texts:
            assert " is safe" not in text
            assert "compliant" not in text

    def test_rules_belong_to_their_system(self):
        for rule in code_rules.code_rules("single_230"):
            assert "NEC" not in rule.article, rule.id
        for rule in code_rules.code_rules("split_120_240"):
            assert "BS 7671" not in rule.article, rule.id

    @pytest.mark.parametrize(
        ("transfer", "neutral", "verdict"),
        # NEC 250.30 and EC&M Code Quandaries: exactly one bond between neutral and ground while on the set
        [
            ("solid", "floating", "right"),
            ("solid", "bonded", "wrong"),
            ("switched", "bonded", "right"),
            ("switched", "floating", "wrong"),
        ],
    )
    def test_exactly_one_bond(self, transfer, neutral, verdict):
        found = code_rules.neutral_pairing(transfer, neutral)
        assert found.verdict == verdict
        assert code_rules.code_rule(found.rule).family == "neutral"

    def test_dwelling_load_factors_work_the_annex_example(self):
        # NEC 2005 Annex D, D2(a): general 29 700 VA, after demand 17 880 VA, with 9 kVA of heat 21 480 VA
        factor = code_rules.load_factor
        general = 1500 * factor("per_square_foot").general_va + 3 * factor("per_circuit").general_va
        general += 12000 + 2500 + 1200 + 5000
        first = factor("first_block").general_va
        demand = first + (general - first) * factor("rest").demand_factor
        assert general == 29700
        assert demand == pytest.approx(17880)
        assert demand + 9000 * factor("heat_many_units").demand_factor == pytest.approx(21480)

    def test_sources_print_their_standing(self):
        assert str(Source("x", Standing.MEMORY)) == "x (memory)"
        assert str(code_rules.code_rule("interlock").source).endswith("(memory)")

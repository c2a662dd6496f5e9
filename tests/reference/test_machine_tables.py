"""Motors, machines and the supply, as the tables give them, against codes and handbooks."""

import pytest

from hearthold.quantities.source import Standing
from hearthold.reference import ampacity, connectors, fuels, generator, motors, propane

GAL_M3 = 0.003785411784  # exact, NIST SP 811
HOUR_S = 3600.0
BTU_J = 1055.05585262  # exact, international table Btu


class TestMotors:
    def test_pump_start_fits_its_code_letter(self):
        # kVA per hp of the locked rotor lies in the band of the letter; both columns are recalled
        for pump in motors.submersible_pumps():
            ratio = pump.locked_rotor_a * pump.voltage_v / pump.rated_output_w
            low = motors.code_letter_low_va_per_w(pump.code_letter)
            high = motors.code_letter_high_va_per_w(pump.code_letter)
            assert 0.97 * low <= ratio <= 1.03 * high, pump

    def test_pump_output_is_below_its_input(self):
        for pump in motors.submersible_pumps():
            assert pump.rated_output_w < pump.rated_input_w <= pump.largest_input_w
            assert pump.rated_input_w <= pump.voltage_v * pump.full_load_a

    def test_every_start_kind_has_a_running_power_factor(self):
        for kind in motors.start_kinds():
            assert 0.3 <= motors.running_power_factor(kind) <= 1.0

    def test_start_kind_is_ordered(self):
        found = motors.start_kind("split_phase")
        assert found.start_ratio.low < found.start_ratio.typical < found.start_ratio.high
        assert found.source.standing is Standing.MEMORY

    def test_compressor_spread(self):
        found = motors.compressor("central_ac_3_ton")
        assert found.voltage_v == 230.0
        assert found.locked_rotor_low_a < found.locked_rotor_typical_a < found.locked_rotor_high_a

    def test_other_pump(self):
        assert motors.other_pump("jet_half_hp").locked_rotor_a == 45.0


class TestSupply:
    def test_connector_legs(self):
        found = connectors.connector("L14-30")
        assert found.leg_w == 3600.0  # 30 A x 120 V
        assert connectors.connector("L5-30").leg_w == 3600.0
        assert not connectors.connector("L5-30").has_240_v
        assert connectors.connector("CEE-16").systems == ("single_230",)

    @pytest.mark.parametrize(
        ("name", "poles", "wires"),
        # ANSI/NEMA WD 6: 5, L5 and TT are 2 poles 3 wires, 6 and L6 likewise without neutral, 14 and L14 3 poles
        # 4 wires; CS6365 is sold as 3 poles 4 wires, 125/250 V; IEC 60309-2 blue is 2P+E. All from memory.
        [
            ("NEMA 5-20R", 2, "three wires (hot, neutral, ground)"),
            ("TT-30P", 2, "three wires (hot, neutral, ground)"),
            ("L5-30", 2, "three wires (hot, neutral, ground)"),
            ("L6-30R", 2, "three wires (two hot, ground)"),
            ("L14-30P", 3, "four wires (two hot, neutral, ground)"),
            ("14-50R", 3, "four wires (two hot, neutral, ground)"),
            ("cs6365", 3, "four wires (two hot, neutral, ground)"),
            ("CEE 32", 2, "three wires (line, neutral, earth)"),
        ],
    )
    def test_the_wires_of_a_cord_are_the_contacts_of_its_plugs(self, name, poles, wires):
        found = connectors.connector(connectors.connector_id(name))
        assert (found.poles, found.wire_words) == (poles, wires)

    @pytest.mark.parametrize("name", ["CS6364", "CS6365", "CS6369", "CS6375", "CS-50", "cs 6365"])
    def test_the_trade_numbers_of_the_50_a_locking_kind_are_one(self, name):
        assert connectors.connector_id(name) == "CS-50"

    @pytest.mark.parametrize("name", ["L14-31", "CS8365", "", "NEMA", "P", "SS2-50"])
    def test_another_number_stands_for_nothing(self, name):
        assert connectors.connector_id(name) is None

    def test_no_name_stands_for_two(self):
        names = [n for c in connectors.connectors() for n in (c.id, *c.also)]
        assert all(
            connectors.connector_id(n) == c.id for c in connectors.connectors() for n in (c.id, *c.also)
        )
        assert len(names) == len({n.casefold() for n in names})

    def test_cord_of_a_connector_carries_its_rating(self):
        for found in connectors.connectors():
            if found.cord_awg:
                assert ampacity.cord_ampacity_a(found.cord_awg, "b") >= found.rating_a, found.id

    def test_inverter_sets_do_not_dip(self):
        assert generator.set_kind("inverter").reactance_ratio is None
        assert generator.set_kind("open_frame").reactance_ratio.typical == 0.2

    def test_altitude_and_temperature_rules_are_in_si(self):
        assert generator.altitude_rule("spark_consumer").loss_per_m_frac == pytest.approx(0.035 / 304.8)
        assert generator.altitude_rule("naturally_aspirated").starts_at_m == pytest.approx(304.8)
        assert generator.temperature_rule("engine_makers").starts_at_c == pytest.approx(25.0)
        assert generator.temperature_rule("engine_makers").loss_per_k_frac == pytest.approx(0.0018)

    def test_classes_tighten(self):
        classes = [generator.performance_class(c) for c in ("G1", "G2", "G3")]
        assert [c.load_on_voltage_frac for c in classes] == [0.25, 0.20, 0.15]
        assert classes[0].source.standing is Standing.MEMORY

    def test_dips_and_limits(self):
        assert generator.dip_limit_frac("with_electronics") < generator.dip_limit_frac("motor_start")
        assert generator.load_limit_frac("held_load") == 0.8
        assert generator.supply_band_v("single_230") == (230.0, 207.0, 253.0)
        assert generator.supply_hz("split_120_240") == 60.0

    def test_a_set_on_the_line_is_plausible(self):
        bounds = generator.efficiency_bounds("full_load_spark")
        for name in fuels.fuel_lines():
            line = fuels.fuel_line(name)
            if "diesel" not in name:
                assert bounds.low_frac <= line.full_load_frac <= bounds.high_frac

    def test_fuel_values_are_si(self):
        assert fuels.lower_heat_j_per_m3("propane") == pytest.approx(84250 * BTU_J / GAL_M3, rel=1e-9)
        assert fuels.fuel("propane").density_kg_per_m3 == pytest.approx(503.27, rel=1e-4)

    def test_a_remembered_heating_value_is_not_called_seen(self):
        assert fuels.heat_source("gasoline_e10", "higher").standing is Standing.SEEN
        assert fuels.heat_source("gasoline_e10", "lower").standing is Standing.MEMORY

    def test_lower_is_below_higher(self):
        for name in fuels.fuel_names():
            found = fuels.fuel(name)
            if found.lower_j_per_m3 and found.higher_j_per_m3:
                assert 0.88 < found.lower_j_per_m3 / found.higher_j_per_m3 < 0.96

    def test_shelf_life_and_limits(self):
        assert fuels.shelf_life("gasoline", "stabilised").plan_s == pytest.approx(365.2425 * 86400)
        assert fuels.shelf_life("propane", "sealed").plan_s is None
        assert fuels.storage_limit_m3("dwelling_total") == pytest.approx(25 * GAL_M3)

    def test_cylinder_draw_is_the_printed_cell_and_lies_between(self):
        # 50 lb at 20 F: 94 000 Btu/h printed
        assert propane.cylinder_draw_w(22.6796185, -6.6666667) == pytest.approx(
            94000 * BTU_J / HOUR_S, rel=1e-6
        )
        middle = propane.cylinder_draw_w(25.0, -6.6666667)
        assert 94000 * BTU_J / HOUR_S < middle < 109000 * BTU_J / HOUR_S

    def test_tank_formula_factor_and_chart(self):
        assert propane.tank_fill_factor(0.30) == pytest.approx(70.0)
        assert propane.tank_fill_factor(0.35) == pytest.approx(75.0)
        draw = 100 * 0.028316846592 / HOUR_S
        assert propane.tank_chart_m3(draw, -17.7777778) == pytest.approx(400 * GAL_M3)
        assert propane.tank_shape(500).diameter_m == pytest.approx(37.4 * 0.0254)

    def test_saturated_propane_agrees_with_coolprop(self):
        from CoolProp.CoolProp import PropsSI

        for liquid_c, gauge_pa, h_fg, density in propane.saturated_propane():
            t_k = liquid_c + 273.15
            assert gauge_pa + 101325 == pytest.approx(PropsSI("P", "T", t_k, "Q", 0, "Propane"), abs=700)
            latent = PropsSI("H", "T", t_k, "Q", 1, "Propane") - PropsSI("H", "T", t_k, "Q", 0, "Propane")
            assert h_fg == pytest.approx(latent, rel=0.002)
            assert density == pytest.approx(PropsSI("D", "T", t_k, "Q", 0, "Propane"), rel=0.002)

    def test_printed_pipe(self):
        assert propane.printed_pipe("natural_gas", "1/2", 30).capacity_m3_per_s == pytest.approx(
            95 * 7.86579072e-6
        )
        assert propane.printed_pipe("propane", "1/2", 10).capacity_w == pytest.approx(291e3 * BTU_J / HOUR_S)
        assert propane.pipe_inside_m("1") == pytest.approx(1.049 * 0.0254)

"""Conductors and what they may carry, as the tables give them, against the codes."""

import pytest

from hearthold.quantities.source import Standing
from hearthold.reference import ampacity, conductors, metric


class TestConductors:
    def test_awg_conductor_is_that_of_table_8(self):
        # NEC Chapter 9 Table 8: 10 AWG stranded copper 1.24 ohm per 1000 ft, 10380 circular mils
        found = conductors.conductor("10")
        assert found.resistance_ohm_per_m == pytest.approx(1.24 / 304.8, rel=1e-12)
        assert found.area_m2 == pytest.approx(10380 * 5.067074790974977e-10, rel=1e-12)
        assert found.reactance_ohm_per_m == pytest.approx(0.050 / 304.8, rel=1e-12)
        assert found.source.standing is Standing.SEEN

    def test_metric_conductor_is_at_its_working_temperature(self):
        # IEC 60228 class 2: 2.5 mm2 is 7.41 ohm/km at 20 C; 70 C over 20 C is 1 + 0.00393 x 50 = 1.1965
        found = conductors.conductor("2.5 mm2")
        assert found.resistance_ohm_per_m == pytest.approx(0.00741 * 1.1965, rel=0.005)
        assert found.area_m2 == pytest.approx(2.5e-6)
        assert found.source.standing is Standing.MEMORY

    def test_small_cords_take_the_reactance_of_14_awg(self):
        assert conductors.reactance_ohm_per_m("16") == conductors.reactance_ohm_per_m("14")

    def test_drop_of_two_ways_agrees_with_the_uk_table(self):
        two_ways = 2 * conductors.conductor("2.5 mm2").resistance_ohm_per_m
        assert metric.metric_drop_ohm_per_m(2.5) == pytest.approx(two_ways, rel=0.02)

    def test_ac_and_dc_resistance_are_close_for_small_wire(self):
        for size in ("12", "8", "4", "2"):
            dc, ac = (
                f(size, "cu")
                for f in (conductors.dc_resistance_ohm_per_m, conductors.ac_resistance_ohm_per_m)
            )
            assert ac == pytest.approx(dc, rel=0.05)


class TestAmpacity:
    def test_smallest_size_is_the_first_that_carries(self):
        assert ampacity.smallest_size(50.0, "cu", 75.0) == "8"
        assert ampacity.smallest_size(50.1, "cu", 75.0) == "6"

    def test_cells_changed_in_2011_are_memory_and_the_others_seen(self):
        assert ampacity.ampacity_source("14", "cu", 60).standing is Standing.MEMORY
        assert ampacity.ampacity_source("14", "cu", 75).standing is Standing.SEEN

    def test_no_small_conductor_rule_above_10_awg(self):
        assert ampacity.small_conductor_limit_a("8", "cu") is None

    def test_bands_hold_their_upper_end(self):
        assert ampacity.ambient_factor(35.0, 75.0) == 0.94
        assert ampacity.ambient_factor(35.1, 75.0) == 0.88
        assert ampacity.ambient_factor(-20.0, 75.0) == 1.20

    def test_bundling_counts(self):
        assert [ampacity.bundling_factor(n) for n in (3, 4, 6, 7, 41)] == [1.0, 0.8, 0.8, 0.7, 0.35]

    def test_grounding_conductor_steps_up_with_the_device(self):
        assert ampacity.grounding_conductor_awg(30.0) == "10"
        assert ampacity.grounding_conductor_awg(61.0, "al") == "6"

    def test_a_whole_dwelling_may_use_a_smaller_conductor(self):
        size = ampacity.dwelling_feeder_awg(200.0)
        assert 0.83 * 200.0 <= ampacity.ampacity_a(size, "cu", 75) < 200.0  # the 83 per cent rule of 310.12

    def test_cord_column_b_carries_more_than_a(self):
        for size in ampacity.cord_sizes():
            assert ampacity.cord_ampacity_a(size, "b") > ampacity.cord_ampacity_a(size, "a")

    def test_drop_advice(self):
        assert ampacity.drop_limit_frac("branch", "split_120_240") == pytest.approx(0.03)
        assert ampacity.drop_limit_frac("other_uses", "single_230") == pytest.approx(0.05)

    def test_terminations_and_continuous(self):
        assert ampacity.termination_column_c("to_100_a") == 60.0
        assert ampacity.continuous_factor() == 1.25

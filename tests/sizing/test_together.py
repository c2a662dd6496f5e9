"""What can be carried together: draws, limits and the test of both."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sizing_houses import circuit, cottage, farm, farm_generator, farm_hookup, load, motor

from hearthold.house.loads import Priority
from hearthold.sizing.supply import supply
from hearthold.sizing.together import asked, draws, fit, limits, misfits


def draw_of(house, ident):
    return next(d for d in draws(house) if d.circuit == ident)


def test_draw_of_a_pump_splits_over_both_legs():
    # 1310 W at 0.75; start 9360 VA at 0.8: 7488 W and 5616 var
    well = draw_of(farm(), "c_well")
    assert well.total_va.real == pytest.approx(1310.0)
    assert well.leg_a_va == pytest.approx(well.leg_b_va)
    assert well.start_va == pytest.approx(9360.0)
    assert well.needs_240
    assert not well.needs_neutral


def test_circuit_takes_the_highest_priority_on_it_and_leaves_the_rest_off():
    house = farm(
        loads=(load("lamp", "a", 60.0), load("iron", "a", 1500.0, priority=Priority.DEFER)),
        circuits=(circuit("a"),),
    )
    found = draw_of(house, "a")
    assert found.priority is Priority.ESSENTIAL
    assert found.left_off == ("iron",)
    assert found.total_va.real == 60.0


def test_medical_load_makes_its_circuit_vital():
    assert draw_of(farm(), "c_bed").priority is Priority.VITAL


def test_limits_are_the_least_of_machine_and_chain():
    house = farm(generator=farm_generator(on=[{"fuel": "gasoline", "running": "12 kW"}]))
    found = limits(house, supply(house))
    assert found.running_va == pytest.approx(7200.0)
    assert found.leg_va == pytest.approx(3600.0)
    assert found.mean_w == pytest.approx(5760.0)
    assert found.spaces == 12
    interlock = farm(hookup=farm_hookup(kind="interlock"))
    assert limits(interlock, supply(interlock)).spaces is None


def test_start_by_va_is_the_dip_limit_and_by_watts_the_start_rating():
    # 30 % dip at Xd' 0.2: 7500 x 0.3 / (0.2 x 0.7) = 16.07 kVA (IEEE 399 form, from memory)
    house = farm()
    found = limits(house, supply(house))
    assert found.start_va == pytest.approx(16071.4, abs=0.1)
    assert found.careful_va == 9400.0
    inverter = farm(generator=farm_generator(kind="inverter"))
    assert limits(inverter, supply(inverter)).start_va == 9400.0


def test_reason_names_what_is_exceeded():
    house = farm(loads=(motor("well", "c_well", 1310.0, 14000.0, voltage_v=240.0),))
    allowed = limits(house, supply(house))
    assert misfits([draw_of(house, "c_well")], allowed) == ("start 11.2 kW exceeds 9.1 kW",)


def test_single_phase_needs_no_second_leg():
    house = cottage()
    allowed = limits(house, supply(house))
    assert allowed.passes_240
    assert fit(draws(house), allowed)
    assert {x.what for x in asked(draws(house), allowed)} >= {"running", "leg A", "start"}


@settings(derandomize=True, max_examples=50, deadline=None)
@given(st.floats(0.0, 8000.0), st.floats(0.5, 1.0))
def test_a_set_that_fits_still_fits_with_less(watts, factor):
    house = farm()
    allowed = limits(house, supply(house))
    extra = farm(loads=(load("x", "x", watts, power_factor=factor),), circuits=(circuit("x", leg="A"),))
    everything = (*draws(house), *draws(extra))
    if fit(everything, allowed):
        for left_out in everything:
            assert fit([d for d in everything if d is not left_out], allowed)


def test_limit_met_exactly_is_met():
    house = farm()
    allowed = limits(house, supply(house))
    one = replace(draw_of(house, "c_bed"), leg_a_va=complex(allowed.leg_va, 0.0), leg_b_va=0j, mean_w=0.0)
    assert fit([one], allowed)
    assert not fit([replace(one, leg_a_va=complex(allowed.leg_va * 1.0001, 0.0))], allowed)

"""The electrical kernels are plain arithmetic: compiled, they give what they give uncompiled."""

import numba
import pytest

from hearthold.physics import alternator, conductors, derating, legs, motors

CALLS = {
    conductors.awg_diameter_kernel: (10.0,),
    conductors.resistance_kernel: (5e-6, 1.7241e-8, 0.00393, 75.0),
    conductors.ambient_factor_kernel: (90.0, 45.0, 30.0),
    conductors.two_wire_drop_kernel: (20.0, 0.005, 0.0002, 30.0, 0.8),
    legs.reactive_kernel: (800.0, 0.8),
    legs.leg_va_kernel: (800.0, 600.0),
    legs.neutral_kernel: (960.0, 720.0, 960.0, 0.0, 120.0),
    legs.imbalance_kernel: (4000.0, 3000.0),
    alternator.voltage_dip_kernel: (1.2, 0.2, 0.4, 0.7, 0.9),
    alternator.start_demand_kernel: (3000.0, 0.0, 4000.0, 3000.0),
    derating.standard_pressure_kernel: (1500.0,),
    derating.spark_ignition_kernel: (84300.0, 25.0),
    derating.linear_derate_kernel: (1500.0, 10.0, 1.15e-4, 1.8e-3),
    motors.running_current_kernel: (900.0, 120.0, 0.7),
    motors.soft_start_kernel: (60.0, 0.65),
    motors.run_up_time_kernel: (0.02, 360.0, 3.0),
}


@pytest.mark.parametrize("kernel", CALLS, ids=lambda k: k.__name__)
def test_kernel_compiles_to_the_same_number(kernel):
    assert numba.njit(kernel)(*CALLS[kernel]) == pytest.approx(kernel(*CALLS[kernel]), rel=1e-14)


def test_every_electrical_kernel_is_listed():
    modules = (alternator, conductors, derating, legs, motors)
    kernels = {
        f for m in modules for n, f in vars(m).items() if n.endswith("_kernel") and f.__module__ == m.__name__
    }
    assert kernels == set(CALLS)

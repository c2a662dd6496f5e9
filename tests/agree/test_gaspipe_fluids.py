"""Spitzglass against the fluids library, which states it in SI from another paper (Coelho and Pinho 2007)."""

import pytest
from fluids.compressible import Spitzglass_low

from hearthold.physics import gaspipe as gp
from hearthold.quantities.units import si


@pytest.mark.parametrize("gravity", [0.60, 1.52])
@pytest.mark.parametrize("drop_in_wc", [0.3, 0.5])
@pytest.mark.parametrize("run_ft", [10.0, 50.0, 200.0])
@pytest.mark.parametrize("inside_in", [0.622, 0.824, 1.049, 1.380, 2.067])
def test_low_pressure_spitzglass(inside_in, run_ft, drop_in_wc, gravity):
    inside_m, run_m = si(inside_in, "in", "length"), si(run_ft, "ft", "length")
    drop_pa = si(drop_in_wc, "in w.c.", "pressure")
    reference = Spitzglass_low(SG=gravity, Tavg=288.7, D=inside_m, L=run_m, P1=drop_pa, P2=0.0)
    ours = gp.spitzglass_flow_m3_per_s(inside_m, run_m, drop_pa, gravity)
    assert ours == pytest.approx(reference, rel=0.003)  # rounded constants in both


def test_drop_at_a_flow():
    flow = si(150.0, "ft3/h", "flow")
    inside_m, run_m = si(0.824, "in", "length"), si(40.0, "ft", "length")
    reference = Spitzglass_low(SG=0.6, Tavg=288.7, D=inside_m, L=run_m, P2=0.0, Q=flow)
    assert gp.spitzglass_drop_pa(inside_m, run_m, flow, 0.6) == pytest.approx(reference, rel=0.006)

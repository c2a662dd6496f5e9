"""Accuracy of the engine against scipy's DOP853 (rtol 1e-9, terminal events): twenty random weeks of each kind.

Run: python bench/engine/accuracy.py [cases]

Kinds: the plain house, and everything at once (battery, sun, inverter, cans, tanks, own batteries, readings).
"""

import sys
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / "tests" / "agree"), str(ROOT / "tests" / "engine")]

from ivp_cases import case, full_case  # noqa: E402
from ivp_oracle import Oracle  # noqa: E402

from hearthold.engine.control import compile_control  # noqa: E402
from hearthold.engine.run import simulate  # noqa: E402

WEEK_S = 7 * 86400.0


def compare(made):
    """Worst differences: air, mass, tank, cold (K), levels (l), fuel (share), battery (Wh), medical unpowered (s)."""
    house, compiled, outside, control, start_s = made
    rule = compile_control(compiled, control)
    oracle = Oracle(compiled, house.cold, rule, outside, start_s, WEEK_S).solve()
    trace = simulate(compiled, outside, control, start_s=start_s, hours=168.0)
    tap = abs(float(oracle.over[compiled.level_ids.index("water")] - trace.outcomes.tap_dry_m3[0]))
    wet = [compiled.level_ids.index(name) for name in ("sump", "water")]
    return (
        np.max(np.abs(trace.air_c - oracle.air_c)),
        np.max(np.abs(trace.mass_c - oracle.mass_c)),
        np.max(np.abs(trace.tank_c - oracle.tank_c)),
        np.max(np.abs(trace.cold_c - oracle.cold_c)),
        1000.0 * max(tap, np.max(np.abs(trace.tape.levels[:, wet] - oracle.levels[:, wet]))),
        abs(trace.outcomes.fuel_m3[0] / oracle.fuel_m3 - 1.0),
        np.max(np.abs(trace.battery_j - oracle.battery_j)) / 3600.0 if compiled.has_battery else 0.0,
        np.max(np.abs(trace.outcomes.medical_unpowered_s[0] - oracle.short_s), initial=0.0),
    )


def main():
    cases = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    for kind, made in (("plain", case), ("everything at once", full_case)):
        print(f"{kind}\ncase    air K   mass K   tank K   cold K  water l   fuel frac battery Wh  short s")
        rows = []
        for seed in range(cases):
            rows.append(compare(made(seed)))
            print(f"{seed:4d} " + " ".join(f"{x:8.5f}" for x in rows[-1]), flush=True)
        print("max  " + " ".join(f"{x:8.5f}" for x in np.max(rows, axis=0)))


if __name__ == "__main__":
    main()

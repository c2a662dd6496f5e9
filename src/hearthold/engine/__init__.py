"""The engine: a house compiled to plain arrays and advanced event by event, one outage or thousands.

Knows: how stores, loads, machine, fuel, battery and control act on each other through an outage.
May import: sizing, house, physics, reference, quantities, errors (never rules).
Main types: CompiledHouse, Control (Routine, RunPlan, Watchful, ...), Hours, Trace, Outcomes, Habits.
Read first: run.py, then kernels/layout.py and kernels/loop.py; docs/method/engine.md has equations and limits.
Try: python -c "from hearthold.house.reader import read_house; from hearthold.engine import run, control, weather; \
h = read_house('examples/tarn_hollow.toml'); \
print(run.simulate(h, weather.month_hours(h, 1), control.Watchful()).outcomes.fuel_m3)"
"""

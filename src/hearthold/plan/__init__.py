"""The planner: what to connect, when to run, what it costs, and how it all reads together.

Knows: exact choice of circuits and legs, the running of the machine over an outage, which circuits are on when where a
battery is all there is, cost of the hookup.
May import: engine, rules, sizing, house and everything below.
Main types: Plan (what leaves this layer), Choice, Balance, Routine, PanelPlan, Cost.
Read first: house.py (plan_house), then result.py.
Try: hearthold plan examples/tarn_hollow.toml
"""

"""Sizing: what a house asks for, what its supply can give, where that is limited, how long its stores last.

Knows: demand by leg, switch-on order, the machine after derating, the chain from machine to panel, wiring,
fuel, holds of every store unpowered, and load calculations. One answer a module, each a frozen result.
May import: house, physics, reference, quantities, errors. It never judges (rules do) and never plans (plan does).
Main types: Demand, SwitchOn, Supply, Chain, CircuitWiring, FuelReport, Hold, LoadCalculation, Conditions.
Read first: demand.py, then chain.py; docs/method/sizing.md has the equations and where they come from.
Try: python -c "from hearthold.house.reader import read_house as r; from hearthold.sizing.demand import demand; \
print(demand(r('examples/tarn_hollow.toml')))"
"""

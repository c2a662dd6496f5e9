"""Sizing: what a house asks for, what its supply can give, where that is limited, how long its stores last.

Knows: demand by leg, switch-on order, the machine after derating, the chain from machine to panel, wiring,
fuel, holds of every store unpowered, load calculations, what can be carried together.
May import: house, physics, reference, quantities, errors. It neither judges (rules) nor plans (plan).
Main types: Demand, SwitchOn, Supply, Chain, Wiring, Burn, Hold, LoadCalculation, Limits, Conditions.
Read first: demand.py, then chain.py; docs/method/sizing.md has the equations and where they come from.
Try: python -c "from hearthold.house import reader; from hearthold.sizing import demand; \
print(demand.demand(reader.read_house('examples/tarn_hollow.toml')))"
"""

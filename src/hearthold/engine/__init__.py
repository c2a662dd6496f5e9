"""The engine: a house compiled to plain arrays and advanced event by event.

Knows: how stores, loads, generator, fuel and control act on each other through one outage or many.
May import: sizing, house, physics, reference, quantities, errors (never rules).
"""

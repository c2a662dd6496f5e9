"""Study: how likely the household is to come through, and what the outages cost it.

Knows: outage statistics and their uncertainty, random weather, many runs at once, losses by chance and cost.
May import: plan, engine, rules, sizing, house and everything below. Main types: Outages (how often, how
long), Scenarios (what is tried), Tracks (what came of it), Risk (the answer). Read first: risk.py, then
weigh.py. Try: hearthold risk examples/tarn_hollow.toml
"""

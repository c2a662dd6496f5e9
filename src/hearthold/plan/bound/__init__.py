"""A lower bound on the cost of every allowed pattern of running, with a proof: docs/method/bound.md.

Knows: what the engine can do at best and at worst in a slot. May import: plan.problem and below, never the search.
Main types: Bound (what leaves), Frame (the problem as numbers).
Read first: lower.py, refine.py, then kernels/slot.py. Try: python bench/plan/bound_cases.py
"""

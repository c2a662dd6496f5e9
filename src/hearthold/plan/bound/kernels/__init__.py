"""Compiled parts of the lower bound: boxes of states carried through a slot, and the search over patterns.

Knows: nothing of the engine but the numbers that `plan.bound.frame` took from it. Read `layout.py`, then `slot.py`.
"""

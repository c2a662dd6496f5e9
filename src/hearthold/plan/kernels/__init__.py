"""Compiled parts of the planner: prices of a state, one slot of one pattern, labels, and many routines at
once.

Knows: the engine's kernels and the price row of `plan.objective`. Imported lazily, since numba takes its
time.
"""

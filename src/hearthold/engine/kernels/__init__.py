"""Compiled kernels of the engine: layout (columns), numbers (exponentials), stores, power, machine, loop.

Knows: arrays only; no house, no files. May import: physics kernels. Read `layout.py` first, then `loop.py`.
Every file here, and every physics file reached from here, is part of the key of the cache (`engine/jit.py`).
"""

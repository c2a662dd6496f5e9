"""Physics: how heat, cold, water, fuel, electricity, batteries and the sun behave, in SI.

Knows: formulas of the trade, each with its source, its range of validity and its units.
May import: `hearthold.quantities`, `hearthold.errors`, numpy. No tables, files, clock or random numbers:
a resistance, an R-value or a heating value arrives as an argument, from `hearthold.reference`.
Shape of a module: bare kernels first (`..._kernel`: plain arithmetic on floats, no checks, ready to be
compiled), then the checked functions, which refuse values outside the glossary and name their source.
Main types: floats and numpy arrays (`values.Values`), and small frozen results such as `legs.LegCurrents`.
Read first: conductors.py (one formula after another), then legs.py (arrays of loads).
Try: python -c "from hearthold.physics.conductors import *; print(awg_diameter_m(10))"
"""

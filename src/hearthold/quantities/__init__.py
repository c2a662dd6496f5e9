"""Quantities: what a number means. Units at the edge, the glossary as data, ranges, sources.

Knows: units a person writes and their SI factors, every quantity's name, unit, meaning and range.
May import: errors.
Main types: Dimension, Term, Source, Standing; `parse`, `convert`, `require`.
Read first: units.py, then glossary.py.
Try: hearthold glossary power
"""

"""The one-line diagram: first a graph of parts and ties, then a drawing of it.

Knows the house's hookup as nodes and edges (graph.py, build.py), symbols of ANSI and IEC (symbols.py), and
how to lay them out over one or more sheets (layout.py, bus.py); and the question of the neutral (neutral.py).
Tests check the graph. Read first: graph.py.
"""

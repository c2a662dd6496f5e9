"""A plan as a page: one module a section, each a function from results to renderables.

Knows: the order of the sections, how a figure, a table and a caution look. Computes nothing.
May import: the frozen results of the layers below, and rich.
Read first: page.py of the plan (`plan_report`), then parts.py and say.py.
Try: hearthold demo
"""

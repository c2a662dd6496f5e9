"""Charts as SVG figures: plain values in, a `Figure` out. Each names its units and tells itself in words.

May import: papers.svg, papers.words. Read first: scale.py, then timeline.py.
"""

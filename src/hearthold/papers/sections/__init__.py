"""Sections that papers are put together from: each turns one part of a plan into blocks.

May import: papers.blocks, papers.charts, papers.diagram, plan and below. Read first: wiring.py.
"""

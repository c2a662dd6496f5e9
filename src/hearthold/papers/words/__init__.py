"""Words: quantities, names and cautions as every face and every paper says them.

May import: quantities, reference. Read first: say.py.
"""

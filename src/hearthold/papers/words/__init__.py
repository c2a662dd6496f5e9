"""Words: quantities, names and cautions as every face and every paper says them.

May import: rules and below (names of fuels), plan's types. Read first: say.py.
"""

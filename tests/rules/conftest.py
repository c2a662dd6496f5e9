"""Lets the tests of this folder share their houses: the checkout's root goes on the path."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

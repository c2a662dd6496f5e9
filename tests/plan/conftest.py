"""Lets the tests of planning use the invented households of the tests of sizing, and their own helpers."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "sizing"))
sys.path.insert(0, str(Path(__file__).parent))

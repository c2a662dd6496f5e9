"""Puts this folder on the path, so that tests here and elsewhere can say `from sizing_houses import farm`."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

"""What a physics function takes and gives back: one number, or an array of them."""

from __future__ import annotations

from typing import Any, TypeAlias

import numpy as np
from numpy.typing import NDArray

Values: TypeAlias = float | NDArray[np.float64]
Phasors: TypeAlias = complex | NDArray[np.float64] | NDArray[np.complexfloating[Any, Any]]

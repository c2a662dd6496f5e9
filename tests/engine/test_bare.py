"""Arrays as addresses: the same numbers read and written, and none but contiguous arrays let through."""

import numba
import numpy as np
import pytest

from hearthold.engine.bare import bare


@numba.njit
def _shift(cells):
    cells[1] = cells[0] + 2.0


@numba.njit
def _through(array):
    _shift(bare(array))


def test_reads_and_writes_the_array_itself():
    array = np.array([3.0, 0.0])
    _through(array)
    assert array.tolist() == [3.0, 5.0]


def test_an_array_with_gaps_is_refused():
    with pytest.raises(numba.TypingError, match="only a contiguous array"):
        _through(np.zeros(4)[::2])

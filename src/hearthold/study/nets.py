"""Points that fill a cube evenly: the first three coordinates of Sobol's sequence, scrambled by Owen's method.

Any power of two of them puts one point, and one only, into each of that many boxes of any such shape; a scramble
leaves that so and makes each point uniform by itself. Written out here because three coordinates are enough and
loading a statistics library takes longer than an answer.

Source: Sobol, USSR Comput. Math. 7, 1967; direction numbers as in Joe and Kuo, SIAM J. Sci. Comput. 30, 2008;
scramble: Owen, J. Complexity 14, 1998 (all from memory; compared with scipy's in the tests).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hearthold.errors import InputError

Array = NDArray[np.float64]
Words = NDArray[np.uint64]
COORDINATES = 3
_BITS = 32
_DEPTH = 16  # digits in which points of one sequence can differ
# Degree and inner coefficients of the primitive polynomial of each coordinate, and its first odd numbers; the
# first coordinate is the radical inverse and needs none.
_POLYNOMIALS = ((1, 0, (1,)), (2, 1, (1, 3)))


def scrambled(count: int, rng: np.random.Generator) -> Array:
    """(count, 3) points in [0, 1). Same generator, same points. Raises InputError unless count is a power of two."""
    points = _digits(_in_grays_order(count))
    for column in points.T:
        column[:] = _shuffled(column, count.bit_length() - 1, rng, rng)
    return np.asarray(points / 2.0**_BITS)


def stretch(number: int, count: int, key: Sequence[int]) -> Array:
    """(count, 3) points, the `number`-th so many of the sequence whose scramble is told by `key`.

    A net by themselves; with the stretches beside them, of the same key, they fill the cube more evenly still. Raises
    InputError unless count is a power of two, and beyond the 65,536th point.
    """
    last = (number + 1) * count
    if last > 1 << _DEPTH:
        raise InputError(f"{last} points; at most {1 << _DEPTH} belong together.", code="points")
    tosses, rest = np.random.default_rng(key), np.random.default_rng([*key, number])
    points = _digits(_numbers(count) + np.uint64(number * count))
    for column in points.T:
        column[:] = _shuffled(column, _DEPTH, tosses, rest)
    return np.asarray(points / 2.0**_BITS)


def plain(count: int) -> Array:
    """The same points before the scramble."""
    return np.asarray(_digits(_in_grays_order(count)) / 2.0**_BITS)


def _numbers(count: int) -> Words:
    if count < 1 or count & (count - 1):
        raise InputError(f"{count} points; give a power of two, such as 64 or 128.", code="points")
    return np.arange(count, dtype=np.uint64)


def _in_grays_order(count: int) -> Words:
    number = _numbers(count)
    return number ^ (number >> np.uint64(1))


def _digits(which: Words) -> Words:
    """(count, 3) points of the sequence, by their number, as whole numbers of 32 binary digits."""
    found = np.zeros((len(which), COORDINATES), dtype=np.uint64)
    for j, direction in enumerate(_directions()):
        for bit in range(int(which.max()).bit_length()):
            here = (which >> np.uint64(bit)) & np.uint64(1)
            found[:, j] ^= here * np.uint64(direction[bit])
    return found


def _directions() -> list[list[int]]:
    """Direction numbers of each coordinate, shifted to the top of a word."""
    found = [[1 << (_BITS - 1 - k) for k in range(_BITS)]]
    for degree, inner, first in _POLYNOMIALS:
        m = list(first)
        for k in range(degree, _BITS):
            new = m[k - degree] ^ (m[k - degree] << degree)
            for i in range(1, degree):
                if (inner >> (degree - 1 - i)) & 1:
                    new ^= m[k - i] << i
            m.append(new)
        found.append([m[k] << (_BITS - 1 - k) for k in range(_BITS)])
    return found


def _shuffled(values: Words, digits: int, tosses: np.random.Generator, rest: np.random.Generator) -> Words:
    """Each binary digit flipped by a toss that depends on all digits before it; those that never differ at random."""
    found = values.copy()
    for bit in range(digits):
        before = (values >> np.uint64(_BITS - bit)).astype(np.int64)
        toss = tosses.integers(0, 2, 1 << bit, dtype=np.uint8)[before]
        found ^= toss.astype(np.uint64) << np.uint64(_BITS - 1 - bit)
    low = rest.integers(0, 1 << (_BITS - digits), len(values), dtype=np.uint64)
    return np.asarray((found >> np.uint64(_BITS - digits) << np.uint64(_BITS - digits)) | low)

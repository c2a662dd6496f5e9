"""Work that goes side by side on all cores; the kernels let go of the interpreter while they run."""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from typing import TypeVar

X = TypeVar("X")
Y = TypeVar("Y")
_here = threading.local()


def side_by_side(work: Callable[[X], Y], on: Iterable[X]) -> list[Y]:
    """The work on each, in order; the same on any number of cores.

    What such work itself would do side by side it does in turn: every core has a piece already, and a piece that
    waited for others of the same pool could wait for ever.
    """
    pieces = list(on)
    if len(pieces) < 2 or getattr(_here, "busy", False) or (os.cpu_count() or 1) == 1:
        return [work(piece) for piece in pieces]

    def one(piece: X) -> Y:
        _here.busy = True
        return work(piece)

    return list(_pool().map(one, pieces))


@cache
def _pool() -> ThreadPoolExecutor:
    """Kept, since a search has hundreds of batches of a millisecond each."""
    return ThreadPoolExecutor(os.cpu_count())

"""The translated kernels compiled with gcc and called through ctypes, on the very arrays of the engine."""

from __future__ import annotations

import ctypes
import subprocess
from pathlib import Path

import numpy as np
from to_c import translated

HERE = Path(__file__).parent


class CEngine:
    """`many` as gcc makes it: -O3 -march=native -fopenmp, no fast-math."""

    def __init__(self, folder: Path) -> None:
        source, library = folder / "kernels.c", folder / "kernels.so"
        source.write_text(translated())
        subprocess.run(
            [
                "gcc",
                "-O3",
                "-march=native",
                "-fopenmp",
                "-shared",
                "-fPIC",
                "-w",
                str(source),
                "-o",
                str(library),
                "-lm",
            ],
            check=True,
        )
        self.library = ctypes.CDLL(str(library))

    def run(self, packed, starts, lengths, order, threads, block, width):
        """Rows of accounts, as the engine's."""
        self.library.omp_set_num_threads(threads) if hasattr(self.library, "omp_set_num_threads") else None
        ctypes.CDLL("libgomp.so.1").omp_set_num_threads(threads)
        rows = np.zeros((len(starts), width))
        states = np.empty((len(order) // block + 1, packed.state_size))
        point = [np.ctypeslib.as_ctypes(a.ravel()) for a in (packed.w, packed.at, states, starts, lengths)]
        rows_flat = rows.ravel()
        self.library.many(
            *point, np.ctypeslib.as_ctypes(rows_flat), np.ctypeslib.as_ctypes(order),
            ctypes.c_long(len(order)), ctypes.c_long(width), ctypes.c_long(block),
        )  # fmt: skip
        return rows_flat.reshape(rows.shape)

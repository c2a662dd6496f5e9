"""The hand-written C program in `c/`, compiled with gcc and called through ctypes on the arrays of the engine.

    twin = CTwin(folder)                      # a folder for what gcc makes
    rows = twin.run(house, outside, control, starts, lengths, threads=1)

The columns of the arrays are printed into a header from `kernels/layout.py`, so that they stand in one place.
"""

from __future__ import annotations

import ctypes
import os
import subprocess
from pathlib import Path

import numpy as np

from hearthold.engine.control import compile_control
from hearthold.engine.kernels import layout
from hearthold.engine.kernels.layout import Weather
from hearthold.engine.outcomes import row_width
from hearthold.engine.packing import pack

SOURCES = Path(__file__).parent / "c"
FLAGS = ("-O3", "-march=native", "-fopenmp", "-flto", "-std=gnu11", "-Wall", "-Wextra", "-fvisibility=hidden")


def columns_header() -> str:
    """Every column and shared constant of the engine's arrays as a C header."""
    found = {k: v for k, v in vars(layout).items() if k.isupper() and isinstance(v, int | float)}
    return "".join(f"#define {name} {value!r}\n" for name, value in found.items())


class CTwin:
    """The program as gcc makes it. Raises CalledProcessError if it does not compile."""

    def __init__(self, folder: Path) -> None:
        (folder / "layout.h").write_text(columns_header())
        library = folder / "twin.so"
        sources = [str(path) for path in sorted(SOURCES.glob("*.c"))]
        command = ["gcc", *FLAGS, "-shared", "-fPIC", f"-I{folder}", *sources, "-o", str(library), "-lm"]
        subprocess.run(command, check=True)
        self.all = ctypes.CDLL(str(library)).simulate_all
        self.all.restype = ctypes.c_char_p
        self.threads = ctypes.CDLL("libgomp.so.1").omp_set_num_threads

    def prepared(self, house, outside, control, starts, lengths):
        """What a run needs, packed once: a function of the number of threads that gives the rows of accounts.

        Raises ValueError for a house or control that the program does not know.
        """
        packed = pack(
            house.world, compile_control(house, control), Weather(outside.outdoor_c, outside.solar_w)
        )
        order = np.argsort(-lengths, kind="stable").astype(np.int64)
        width = row_width(house)

        def run(threads: int | None = None) -> np.ndarray:
            rows = np.zeros((len(starts), width))
            self.threads(threads or os.cpu_count() or 1)
            arrays = (packed.w, packed.at, starts, lengths, rows, order)
            refused = self.all(*(a.ctypes.data_as(ctypes.c_void_p) for a in arrays),
                               ctypes.c_int64(len(order)), ctypes.c_int64(width))  # fmt: skip
            if refused:
                raise ValueError(f"the C program refuses {refused.decode()}")
            return rows

        return run

    def run(self, house, outside, control, starts, lengths, threads=None):
        """Rows of accounts, as the engine's."""
        return self.prepared(house, outside, control, starts, lengths)(threads)

"""Counting and finding bits of a word, for kernels: one instruction of the processor each, plain Python without it."""

from __future__ import annotations

from typing import Any

from hearthold.engine.jit import no_jit


def _lowest(word: int) -> int:
    return (word & -word).bit_length() - 1


def _highest(word: int) -> int:
    return word.bit_length() - 1


def _count(word: int) -> int:
    return word.bit_count()


def _made() -> tuple[Any, Any, Any]:
    if no_jit():
        return _lowest, _highest, _count
    from llvmlite import ir
    from numba import types
    from numba.extending import intrinsic

    no = ir.Constant(ir.IntType(1), 0)  # a word of zero is no undefined case

    @intrinsic  # type: ignore[untyped-decorator]
    def lowest(_context: Any, word: Any) -> Any:
        """Number of the lowest bit that is set."""
        return types.int64(types.int64), lambda _c, builder, _s, given: builder.cttz(given[0], no)

    @intrinsic  # type: ignore[untyped-decorator]
    def highest(_context: Any, word: Any) -> Any:
        """Number of the highest bit that is set."""
        last = ir.Constant(ir.IntType(64), 63)
        return types.int64(types.int64), lambda _c, builder, _s, given: builder.sub(
            last, builder.ctlz(given[0], no)
        )

    @intrinsic  # type: ignore[untyped-decorator]
    def count(_context: Any, word: Any) -> Any:
        """How many bits are set."""
        return types.int64(types.int64), lambda _c, builder, _s, given: builder.ctpop(given[0])

    return lowest, highest, count


lowest, highest, count = _made()

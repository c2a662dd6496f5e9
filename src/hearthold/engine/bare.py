"""Arrays as plain addresses, for kernels that index them and do no more.

A compiled kernel that is handed an array takes seven arguments for it, and asks at every index whether it counts from
the end. An address is one argument and counts from the start only: kernels that pass state on and on run a fifth
faster. Indexing reads the same; under HEARTHOLD_NO_JIT it is the array itself.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from hearthold.engine.jit import no_jit

A = TypeVar("A")


def _bare() -> Callable[[A], A]:
    if no_jit():
        return lambda array: array
    from numba import types
    from numba.core.errors import TypingError
    from numba.extending import intrinsic
    from numba.np.arrayobj import make_array

    @intrinsic  # type: ignore[untyped-decorator]
    def bare(_context: Any, array: Any) -> Any:
        """Inside a compiled entry: the address of a contiguous array, which the caller keeps alive."""
        if not (isinstance(array, types.Array) and array.layout == "C"):
            raise TypingError("only a contiguous array can be passed as an address")

        def build(context: Any, builder: Any, signature: Any, given: Any) -> Any:
            return make_array(signature.args[0])(context, builder, given[0]).data

        return types.CPointer(array.dtype)(array), build

    return bare  # type: ignore[no-any-return]


bare = _bare()

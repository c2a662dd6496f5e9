"""Compiling a tree of kernels as one piece of code: the helpers are lowered, and only the entry makes machine code.

Left to itself, numba links, optimises and emits machine code anew for each of the hundred-odd helpers, with two
wrappers by which Python could call it, and then once more for the entry that all of them are folded into. Nobody
calls a helper from Python, so all but the last of that is thrown away. Here a helper's library holds only its own
unlinked code; the entry's library gathers the helpers' code, each once, and is optimised and emitted once.

This leans on numba's compiler classes below its decorator. Where a version has them otherwise, importing this
module raises ImportError and `jit` takes the plain decorator: slower to compile, the same answers.
"""

# mypy: disable-error-code="misc,no-any-return"

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numba
from numba._dynfunc import make_function
from numba.core import codegen, compiler
from numba.core.compiler import _LowerResult
from numba.core.compiler_machinery import register_pass
from numba.core.registry import CPUDispatcher
from numba.core.typed_passes import NativeLowering

OVERRIDDEN = ("_optimize_final_module", "_get_module_for_linking", "add_linking_library", "finalize")
if not all(hasattr(codegen.JITCodeLibrary, name) for name in OVERRIDDEN):
    raise ImportError("this numba links its libraries in another way")

OPTIONS = {"error_model": "numpy", "_nrt": False, "no_cfunc_wrapper": True}


class HelperLibrary(codegen.JITCodeLibrary):
    """One helper's code, neither linked to what it calls nor optimised as a whole nor emitted."""

    def finalize(self) -> None:
        """Nothing more: the entry links, optimises and emits."""
        self._finalized = True


class EntryLibrary(codegen.JITCodeLibrary):
    """The entry's code and, once each, that of every helper it reaches."""

    def add_linking_library(self, library: Any) -> None:
        """Take in a library, and in place of a helper's also those that it would have been linked to."""
        waiting = [library]
        while waiting:
            one = waiting.pop()
            if one in self._linking_libraries:
                continue
            super().add_linking_library(one)
            if isinstance(one, HelperLibrary):
                waiting += one._linking_libraries

    def _optimize_final_module(self) -> None:
        """One full round over everything at once.

        Numba's first cheap round serves counted references, which kernels do not have; vectorised loops are longer
        to compile and, over a house's few rows of each kind, no faster.
        """
        manager, builder = self._codegen._module_pass_manager(loop_vectorize=False, slp_vectorize=False)
        manager.run(self._final_module, builder)


def _own_library(state: Any, kind: type) -> None:
    state.library = kind(state.targetctx.codegen(), state.func_id.func_qualname)
    state.library.enable_object_caching()


@register_pass(mutates_CFG=True, analysis_only=False)
class HelperLowering(NativeLowering):
    """Numba's lowering, up to the point where machine code would be made."""

    _name = "helper_lowering"

    def run_pass(self, state: Any) -> bool:
        """Lower a helper and make it known to its callers, under a stand-in that Python never calls."""
        _own_library(state, HelperLibrary)
        state.flags.forceinline = state.pipeline.folded
        state.flags.no_compile = True
        state.flags.no_cpython_wrapper = True
        super().run_pass(state)
        done = state["cr"]
        described = done.fndesc
        name = described.qualname.split(".")[-1]
        key = make_function(described.lookup_module(), name, name, 0, done.env, (state.library,))
        state.targetctx.insert_user_function(key, described, [state.library])
        state["cr"] = _LowerResult(described, done.call_helper, cfunc=key, env=done.env)
        return True


@register_pass(mutates_CFG=True, analysis_only=False)
class EntryLowering(NativeLowering):
    """Numba's lowering into a library that gathers the helpers."""

    _name = "entry_lowering"

    def run_pass(self, state: Any) -> bool:
        """Lower the entry, link all that it reaches and make machine code."""
        _own_library(state, EntryLibrary)
        return super().run_pass(state)


class QuickFlags(compiler.Flags):
    """Numba's settings, compared by what was set.

    They are part of every key by which numba looks up how to type an operation, and spelling out all the defaults
    for each comparison takes a quarter of the time.
    """

    # numba's own hash of settings is that of their names too
    NAMES = hash(tuple(sorted(compiler.Flags.options)))

    def __eq__(self, other: object) -> bool:
        """Equal where the same was set."""
        return self._values == other._values if isinstance(other, QuickFlags) else super().__eq__(other)

    def __hash__(self) -> int:
        """The same for all, as numba's."""
        return self.NAMES


class OneLink(compiler.CompilerBase):
    """Numba's usual passes with another lowering."""

    lowering: type

    def __init__(
        self, typing: Any, target: Any, library: Any, args: Any, returned: Any, flags: Any, kept: Any
    ):
        """Settings that compare quickly, and the same for helpers that are to be folded in and those that are not."""
        quick = QuickFlags(flags)
        self.folded = quick.forceinline
        quick.discard("forceinline")
        super().__init__(typing, target, library, args, returned, quick, kept)

    def define_pipelines(self) -> list[Any]:
        """Numba's pipeline with this lowering in the place of its own."""
        usual = compiler.DefaultPassBuilder.define_nopython_pipeline(self.state)
        changed = compiler.PassManager(usual.pipeline_name)
        for step, why in usual.passes:
            changed.add_pass(self.lowering if step is NativeLowering else step, why)
        changed.finalize()
        return [changed]


class HelperCompiler(OneLink):
    """For kernels that other kernels call."""

    lowering = HelperLowering


class EntryCompiler(OneLink):
    """For kernels that Python calls."""

    lowering = EntryLowering


class Helper(CPUDispatcher):
    """A kernel that other kernels call; called from Python it runs as the plain Python that it is."""

    def __call__(self, *arguments: Any) -> Any:
        """Run the function in Python."""
        return self.py_func(*arguments)


def helper(function: Callable[..., Any], *, inline: bool) -> Any:
    """A kernel for other kernels to call."""
    return Helper(
        py_func=function,
        locals={},
        targetoptions=OPTIONS | {"nopython": True, "forceinline": inline, "boundscheck": None},
        pipeline_class=HelperCompiler,
    )


def entry(function: Callable[..., Any]) -> Any:
    """A kernel for Python to call, kept on disk where numba's settings say."""
    return numba.njit(cache=True, nogil=True, pipeline_class=EntryCompiler, **OPTIONS)(function)

"""A tree of kernels compiled as one piece: the answers of the plain decorator, no machine code for the helpers."""

import math
import sys

import numba
import numpy as np
import pytest

from hearthold.engine import jit

onelink = pytest.importorskip("hearthold.engine.onelink")
compiles = pytest.mark.skipif(jit.no_jit(), reason="kernels run as plain Python")


def folded(x):
    return x * x if x > 0.0 else -x


def shared(rows, i):
    return math.exp(-rows[i]) + min(rows[i], 2.0)


def left(rows, i):
    return shared(rows, i) + folded(rows[i])


def right(rows, i):
    return math.sqrt(abs(shared(rows, i) - folded(rows[i])))


def both(rows):
    total = 0.0
    for i in range(rows.shape[0]):
        total += left(rows, i) * right(rows, i)
    return total


def _compiled(monkeypatch, tmp_path, helper, folding, entry):
    """`both` with its helpers decorated, one of them reached by two ways."""
    here = sys.modules[__name__]
    monkeypatch.setenv("HEARTHOLD_CACHE", str(tmp_path))
    jit.kernel_folder.cache_clear()
    monkeypatch.setattr(here, "folded", folding(folded))
    for name in ("shared", "left", "right"):
        monkeypatch.setattr(here, name, helper(getattr(here, name)))
    made = entry(both)
    jit.kernel_folder.cache_clear()
    return made


@pytest.fixture
def rows():
    return np.random.default_rng(3).normal(size=200)


@compiles
def test_same_bits_as_the_plain_decorator(monkeypatch, tmp_path, rows):
    with monkeypatch.context() as one:
        plain = _compiled(one, tmp_path, *[numba.njit(error_model="numpy")] * 3)
        expected = plain(rows)
    with monkeypatch.context() as other:
        ours = _compiled(
            other,
            tmp_path,
            lambda f: onelink.helper(f, inline=False),
            lambda f: onelink.helper(f, inline=True),
            jit.entry,
        )
        assert ours(rows) == expected
        compiled = [next(iter(one.overloads.values())) for one in (left, right, shared, folded)]
    assert all(type(one.library) is onelink.HelperLibrary for one in compiled)
    assert not any(
        one.library.get_pointer_to_function(one.fndesc.llvm_cpython_wrapper_name) for one in compiled
    )
    assert ours.overloads[ours.signatures[0]].library.get_pointer_to_function(
        ours.overloads[ours.signatures[0]].fndesc.llvm_cpython_wrapper_name
    )


def test_helper_from_python_runs_as_python():
    double = onelink.helper(lambda x: 2.0 * x, inline=False)
    assert double(1.5) == 3.0
    assert not double.overloads


@compiles
def test_without_onelink_the_plain_decorator_serves(monkeypatch, tmp_path, rows):
    monkeypatch.setitem(sys.modules, "hearthold.engine.onelink", None)
    monkeypatch.delattr(sys.modules["hearthold.engine"], "onelink")
    with monkeypatch.context() as here:
        ours = _compiled(here, tmp_path, jit.kernel, jit.kernel(inline=True), jit.entry)
        assert type(left) is numba.core.registry.CPUDispatcher
        found = ours(rows)
    assert found == pytest.approx(both(rows), rel=1e-12)

"""The compile cache: its key moves with every source that the kernels reach, and a changed helper is never stale."""

import ast
import os
import subprocess
import sys

from hearthold.engine import jit

PROGRAM = """
import sys
sys.path.insert(0, {root!r})
from hearthold.engine import jit
from pathlib import Path
jit.SOURCE_ROOT, jit.PACKAGE = Path({root!r}), "tiny"
jit.KERNELS = Path({root!r}) / "tiny"
from tiny.outer import outer
print(outer(3.0))
"""
OUTER = """
from hearthold.engine.jit import entry
from tiny.inner import inner

@entry
def outer(x):
    return inner(x) + 1.0
"""
INNER = """
from hearthold.engine.jit import kernel

@kernel
def inner(x):
    return {factor} * x
"""


def _run(folder):
    environment = os.environ | {"HEARTHOLD_CACHE": str(folder / "cache")}
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM.format(root=str(folder))],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    return float(done.stdout)


def test_a_change_in_another_file_is_seen(tmp_path):
    package = tmp_path / "tiny"
    package.mkdir()
    (package / "__init__.py").write_text("")
    (package / "outer.py").write_text(OUTER)
    (package / "inner.py").write_text(INNER.format(factor="2.0"))
    assert _run(tmp_path) == 7.0
    assert _run(tmp_path) == 7.0
    (package / "inner.py").write_text(INNER.format(factor="5.0"))
    assert _run(tmp_path) == 16.0
    assert len(list((tmp_path / "cache").glob("kernels-*"))) == 2


def test_kernels_reach_all_their_own_files():
    names = {path.name for path in jit.reached_sources([jit.KERNELS / "loop.py"])}
    assert {path.name for path in jit.KERNELS.glob("*.py")} - {"__init__.py"} <= names


def test_imports_read_from_the_text_are_those_of_the_syntax_tree():
    """Python's own parser is the reference: no file that an import statement names may be missed."""
    for path in jit.reached_sources(jit.KERNELS.glob("*.py")):
        names: set[str] = set()
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import):
                names |= {alias.name for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module:
                names |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
        wanted = [
            jit.SOURCE_ROOT.joinpath(*n.split(".")).with_suffix(".py")
            for n in names
            if n.startswith("hearthold.")
        ]
        assert {file for file in wanted if file.is_file()} <= set(jit._imported(path, jit.SOURCE_ROOT)), path


def test_key_moves_with_contents_names_and_facts(tmp_path):
    one, two = tmp_path / "a.py", tmp_path / "b.py"
    one.write_text("x = 1")
    two.write_text("x = 1")
    first = jit.fingerprint([one], ["3.11"])
    assert first != jit.fingerprint([two], ["3.11"])
    assert first != jit.fingerprint([one], ["3.12"])
    one.write_text("x = 2")
    assert first != jit.fingerprint([one], ["3.11"])


def test_old_sets_are_pruned(tmp_path):
    for i in range(jit.KEPT_FOLDERS + 4):
        (tmp_path / f"kernels-{i}").mkdir()
    jit._prune(tmp_path / "kernels-new")
    assert len(list(tmp_path.glob("kernels-*"))) == jit.KEPT_FOLDERS + 1


def test_decorating_leaves_the_setting_of_others_alone():
    from numba.core import config

    before = config.CACHE_DIR
    jit.entry(lambda x: x)
    assert before == config.CACHE_DIR


def test_numba_loads_without_blas_and_scipy_stays_usable():
    """A process of its own: what numba looked for, or not, cannot be undone. The product of matrices is scipy's."""
    program = """
import sys
from hearthold.engine import jit
jit.spare_blas()
assert "numba.np.arraymath" in sys.modules and "scipy.linalg" not in sys.modules, "numba looked for BLAS"
import numba
from scipy.linalg import blas
print(blas.dgemm(1.0, [[2.0]], [[3.0]])[0, 0], numba.njit(lambda x: x + 1.0)(1.5))
"""
    environment = {name: value for name, value in os.environ.items() if name != "HEARTHOLD_NO_JIT"}
    done = subprocess.run(
        [sys.executable, "-c", program], env=environment, capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["6.0", "2.5"]

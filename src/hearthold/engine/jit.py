"""Compiling kernels: one decorator, and a cache on disk that cannot be stale.

Numba's own cache looks only at the file a function is written in; a change in a function that it calls from
another file goes unseen, and old machine code runs on without a word. Here the cache folder carries a hash of
every source file that the kernels reach through imports inside the package, of the Python, numba and numpy
versions, and of the processor. A change anywhere gives another folder, so nothing old can be found in it.

Set HEARTHOLD_NO_JIT=1 to run the very same functions as plain Python (slow; the oracle of the tests), and
HEARTHOLD_CACHE to choose another folder.
"""

from __future__ import annotations

import hashlib
import os
import platform
import re
import shutil
import sys
from collections.abc import Callable, Iterable
from functools import cache, partial
from pathlib import Path
from typing import Any, TypeVar, overload

PACKAGE = "hearthold"
SOURCE_ROOT = Path(__file__).resolve().parents[2]
KERNELS = Path(__file__).resolve().parent / "kernels"
KEPT_FOLDERS = 12  # beside the present one; a version uses six, and people switch between versions

# "from a.b import c, d", over several lines in brackets too; or "import a.b, c".
_IMPORT = re.compile(
    r"^[ \t]*(?:from[ \t]+([\w.]+)[ \t]+import[ \t]*(\([^)]*\)|[^\n]*)|import[ \t]+([^\n]*))", re.MULTILINE
)
_WORD, _DOTTED = re.compile(r"\w+"), re.compile(r"[\w.]+")

F = TypeVar("F", bound=Callable[..., Any])


def no_jit() -> bool:
    """True where HEARTHOLD_NO_JIT asks for plain Python."""
    return os.environ.get("HEARTHOLD_NO_JIT", "") not in ("", "0")


def reached_sources(start: Iterable[Path], root: Path = SOURCE_ROOT) -> tuple[Path, ...]:
    """Every file of the package that the starting files reach through imports, sorted."""
    found: set[Path] = set()
    waiting = [Path(p).resolve() for p in start]
    while waiting:
        path = waiting.pop()
        if path in found:
            continue
        found.add(path)
        waiting += _imported(path, root)
    return tuple(sorted(found))


@cache
def _imported(path: Path, root: Path) -> list[Path]:
    """Files of the package that one file imports, as `import a.b`, `from a import b` or `from a.b import c`.

    Read from the text, since every command waits for it: a word too many names no file, or one file more in the key.
    """
    names: list[str] = []
    for found in _IMPORT.finditer(path.read_text("utf-8")):
        module, some, plain = found.groups()
        if module:
            names += [module, *(f"{module}.{word}" for word in _WORD.findall(some))]
        else:
            names += _DOTTED.findall(plain)
    stems = [root.joinpath(*name.split(".")) for name in names if name.split(".")[0] == PACKAGE]
    return [
        file for stem in stems for file in (stem.with_suffix(".py"), stem / "__init__.py") if file.is_file()
    ]


def fingerprint(sources: Iterable[Path], facts: Iterable[str]) -> str:
    """Hash of the contents of the files (with their names) and of some facts about the machine."""
    digest = hashlib.sha256()
    for fact in facts:
        digest.update(fact.encode() + b"\0")
    for path in sources:
        digest.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return digest.hexdigest()[:24]


def machine_facts() -> tuple[str, ...]:
    """What besides the sources decides the machine code: versions and processor."""
    import llvmlite.binding as llvm
    import numba
    import numpy as np

    return (
        sys.version,
        numba.__version__,
        np.__version__,
        platform.machine(),
        llvm.get_host_cpu_name(),
        llvm.get_host_cpu_features().flatten(),
    )


def cache_root() -> Path:
    """Folder for compiled kernels of this user, by the custom of the platform."""
    chosen = os.environ.get("HEARTHOLD_CACHE")
    if chosen:
        return Path(chosen)
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", home / "AppData" / "Local")) / PACKAGE / "cache"
    if sys.platform == "darwin":
        return home / "Library" / "Caches" / PACKAGE
    return Path(os.environ.get("XDG_CACHE_HOME", home / ".cache")) / PACKAGE


@cache
def kernel_folder(*extra: Path) -> Path:
    """The folder of this exact set of kernels; `extra` are kernel files of a layer above (the planner's)."""
    key = fingerprint(keyed_sources(*extra), machine_facts())
    folder = cache_root() / f"kernels-{key}"
    _prune(folder)
    return folder


def keyed_sources(*extra: Path) -> tuple[Path, ...]:
    """The files that decide the machine code of an entry: what the engine's kernels and `extra` reach."""
    return reached_sources([*KERNELS.glob("*.py"), *extra])


def _prune(present: Path) -> None:
    """Drop all but the latest few other sets; a set in use is in memory already and loses nothing."""
    try:
        present.mkdir(parents=True, exist_ok=True)
        others = [p for p in present.parent.glob("kernels-*") if p != present]
        for old in sorted(others, key=lambda p: p.stat().st_mtime, reverse=True)[KEPT_FOLDERS:]:
            shutil.rmtree(old, ignore_errors=True)
    except OSError:
        return  # a home that cannot be written: numba compiles anew each time


def is_compiled(*extra: Path) -> bool:
    """True if the cache holds compiled kernels for this set already (the first run will not wait)."""
    return no_jit() or any(kernel_folder(*extra).rglob("*.nbc"))


@overload
def kernel(function: F) -> F: ...


@overload
def kernel(*, inline: bool) -> Callable[[F], F]: ...


def kernel(function: Callable[..., Any] | None = None, *, inline: bool = False) -> Any:
    """Decorator: machine code through numba, or plain Python under HEARTHOLD_NO_JIT. `inline` folds it into callers.

    Only entries (see `entry`) are kept on disk: they hold the code of all that they call.
    """
    if function is None:
        return partial(kernel, inline=inline)
    if no_jit():
        return function
    try:
        from hearthold.engine import onelink
    except ImportError:
        import numba

        return numba.njit(nogil=True, error_model="numpy", _nrt=False, forceinline=inline)(function)
    return onelink.helper(function, inline=inline)


@overload
def entry(function: F) -> F: ...


@overload
def entry(*, extra: tuple[Path, ...]) -> Callable[[F], F]: ...


def entry(function: Callable[..., Any] | None = None, *, extra: tuple[Path, ...] = ()) -> Any:
    """Decorator of a kernel that Python calls: compiled, and kept in the keyed folder.

    `extra` names the kernel files of a layer above, so that they are part of the key too; the function's own file
    always is.
    """
    if function is None:
        return partial(entry, extra=extra)
    if no_jit():
        return function
    from numba.core import config

    # The setting is numba's own and global, so it is put back at once: other users of numba in this process
    # keep their cache where it was.
    before = config.CACHE_DIR
    config.CACHE_DIR = str(kernel_folder(*_with_own(function, extra)))
    try:
        return _cached(function)
    finally:
        config.CACHE_DIR = before


def spare_blas() -> None:
    """Load numba's array functions without BLAS, for a process that multiplies no matrices in kernels.

    Numba looks for scipy's BLAS as it loads, and that search imports a tenth of a second of modules. Our kernels need
    none of it; but another user of numba in this process might, so only the command line asks for this.
    """
    if no_jit() or "numba.np.arraymath" in sys.modules or "scipy.linalg" in sys.modules:
        return
    hidden: dict[str, Any] = {"scipy.linalg": None}  # Python's own mark of a module that cannot be imported
    sys.modules.update(hidden)
    try:
        import numba.np.arraymath  # noqa: F401
    finally:
        del sys.modules["scipy.linalg"]


def _with_own(function: Callable[..., Any], extra: tuple[Path, ...]) -> tuple[Path, ...]:
    own = Path(function.__code__.co_filename).resolve()
    return extra if own in extra or own.parent == KERNELS else (*extra, own)


def _cached(function: Callable[..., Any]) -> Any:
    try:
        from hearthold.engine import onelink
    except ImportError:
        import numba

        return numba.njit(cache=True, nogil=True, error_model="numpy", _nrt=False)(function)
    return onelink.entry(function)

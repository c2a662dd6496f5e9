"""A file written whole or not at all: what tables, papers and faces write for people goes this way."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from hearthold.errors import InputError


def write_whole(path: Path, content: bytes) -> Path:
    """Write through a neighbour file, so that a full disk or a power cut leaves the old file whole; returns the path.

    Raises: InputError where the place cannot be written.
    """
    try:
        _through_neighbour(path, content)
    except OSError as problem:
        raise InputError(
            f"{path} cannot be written: {problem.strerror}. Choose another place.", code="unwritable"
        ) from None
    return path


def _through_neighbour(path: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        Path(name).chmod(0o666 & ~_umask())
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask

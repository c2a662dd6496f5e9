"""Rows to a file: Parquet where pyarrow is installed, CSV anywhere; whole or not at all."""

from __future__ import annotations

import csv
import os
from collections.abc import Mapping, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any

from hearthold.errors import InputError, MissingExtraError

ENDINGS = (".parquet", ".csv")
Row = Mapping[str, Any]


def check_path(path: Path) -> None:
    """Raise InputError for another ending or a folder that is not there; MissingExtraError without pyarrow."""
    if path.suffix not in ENDINGS:
        raise InputError(
            f"{path} ends in {path.suffix or 'nothing'}; write {' or '.join(ENDINGS)}.", code="bad_ending"
        )
    if not path.parent.is_dir():
        raise InputError(
            f"{path.parent} is not a folder; make it first, or choose another place.", code="no_folder"
        )
    if path.suffix == ".parquet":
        _pyarrow()


def write_rows(path: Path, rows: Sequence[Row]) -> None:
    """Write rows with the same keys to a .parquet or .csv file, through a neighbour file.

    Raises: InputError for another ending or a place that cannot be written; MissingExtraError without pyarrow.
    """
    check_path(path)
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        if path.suffix == ".csv":
            _write_csv(part, rows)
        else:
            _pyarrow().parquet.write_table(_pyarrow().Table.from_pylist([dict(r) for r in rows]), part)
        part.replace(path)
    except OSError as problem:
        raise InputError(f"{path} cannot be written: {problem.strerror}.", code="unwritable") from None
    finally:
        part.unlink(missing_ok=True)


def read_rows(path: Path) -> list[dict[str, Any]]:
    """The rows of a Parquet file. Raises MissingExtraError without pyarrow."""
    found: list[dict[str, Any]] = _pyarrow().parquet.read_table(path).to_pylist()
    return found


def parquet_bytes(columns: Mapping[str, Any]) -> bytes:
    """Named columns of equal length as a Parquet file. Raises MissingExtraError without pyarrow."""
    arrow, sink = _pyarrow(), BytesIO()
    arrow.parquet.write_table(arrow.table(dict(columns)), sink)
    return sink.getvalue()


def _write_csv(path: Path, rows: Sequence[Row]) -> None:
    names = list(dict.fromkeys(name for row in rows for name in row))
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.DictWriter(stream, names, lineterminator="\n", restval="")
        writer.writeheader()
        writer.writerows(rows)


def _pyarrow() -> Any:
    try:
        import pyarrow
        import pyarrow.parquet
    except ImportError:
        raise MissingExtraError(
            "Parquet files need pyarrow: pip install 'hearthold[study]', or name a file that ends in .csv."
        ) from None
    return pyarrow

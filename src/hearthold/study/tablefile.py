"""Rows to a file: Parquet where pyarrow is installed, CSV anywhere; whole or not at all."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

from hearthold.errors import InputError, MissingExtraError
from hearthold.study.wholefile import write_whole

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
    """Write rows with the same keys to a .parquet or .csv file, whole or not at all.

    Raises: InputError for another ending or a place that cannot be written; MissingExtraError without pyarrow.
    """
    check_path(path)
    write_whole(path, _csv(rows) if path.suffix == ".csv" else _parquet(rows))


def read_rows(path: Path) -> list[dict[str, Any]]:
    """The rows of a Parquet file. Raises MissingExtraError without pyarrow."""
    found: list[dict[str, Any]] = _pyarrow().parquet.read_table(path).to_pylist()
    return found


def parquet_bytes(columns: Mapping[str, Any]) -> bytes:
    """Named columns of equal length as a Parquet file. Raises MissingExtraError without pyarrow."""
    arrow, sink = _pyarrow(), BytesIO()
    arrow.parquet.write_table(arrow.table(dict(columns)), sink)
    return sink.getvalue()


def _parquet(rows: Sequence[Row]) -> bytes:
    arrow, sink = _pyarrow(), BytesIO()
    arrow.parquet.write_table(arrow.Table.from_pylist([dict(row) for row in rows]), sink)
    return sink.getvalue()


def _csv(rows: Sequence[Row]) -> bytes:
    names, stream = list(dict.fromkeys(name for row in rows for name in row)), StringIO()
    writer = csv.DictWriter(stream, names, lineterminator="\n", restval="")
    writer.writeheader()
    writer.writerows(rows)
    return stream.getvalue().encode()


def _pyarrow() -> Any:
    try:
        import pyarrow
        import pyarrow.parquet
    except ImportError:
        raise MissingExtraError(
            "Parquet files need pyarrow: pip install 'hearthold[study]', or name a file that ends in .csv."
        ) from None
    return pyarrow

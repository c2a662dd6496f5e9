"""Files that faces write for people: never over an older one unasked, never half written."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from hearthold.errors import InputError
from hearthold.study.wholefile import write_whole


def write_new(path: Path, text: str | bytes, *, force: bool = False) -> None:
    """Write a file whole or not at all; text as UTF-8. Raises InputError if it exists or cannot be."""
    refuse_existing(path, force=force)
    write_whole(path, text.encode() if isinstance(text, str) else text)


def refuse_ending(path: Path, ending: str) -> None:
    """Raise InputError for a file of another kind than the one that is written."""
    if path.suffix != ending:
        raise InputError(f"{path} ends in {path.suffix or 'nothing'}; write {ending}.", code="bad_ending")


def refuse_existing(path: Path, *, force: bool = False) -> None:
    """Raise InputError where `write_new` would refuse before writing."""
    if path.is_dir():
        raise InputError(f"{path} is a folder; name the file to write.", code="is_folder")
    if path.exists() and not force:
        raise InputError(
            f"{path} is already there. Choose another name, or overwrite it with --force.", code="exists"
        )
    if not path.parent.is_dir():
        raise InputError(
            f"{path.parent} is not a folder; make it first, or choose another place.", code="no_folder"
        )


def make_folder(path: Path) -> None:
    """Make a folder with its parents, or keep the one that is there. Raises InputError."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise InputError(f"{path} cannot be made a folder: {problem.strerror}.", code="no_folder") from None


def json_text(value: Any) -> str:
    """JSON for people and programs: indented, keys in our order, no NaN."""
    return json.dumps(value, indent=2, ensure_ascii=False, allow_nan=False) + "\n"

"""The ledger of a study: one line a finished home, known by the hash of its text and of what was asked.

A study that was stopped goes on where it was: homes whose hash is in the ledger are not run again. Lines are only
ever added, each whole; a line torn by a crash is left out when reading, and that home runs again.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable
from pathlib import Path

from hearthold import __version__
from hearthold.errors import InputError
from hearthold.study.onehome import Done, Job, asked_text


def key_of(job: Job) -> str:
    """What a finished home is known by: its text, what was asked, and the version of the program."""
    digest = hashlib.sha256()
    for part in (job.text, asked_text(job.asked), __version__):
        digest.update(part.encode() + b"\0")
    return digest.hexdigest()


class Ledger:
    """Finished homes on disk. Opened for one study at a time."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def read(self) -> dict[str, Done]:
        """Finished homes by key; torn lines left out. Raises InputError where the file cannot be read."""
        try:
            text = self.path.read_text("utf-8")
        except FileNotFoundError:
            return {}
        except (OSError, UnicodeDecodeError) as problem:
            raise InputError(f"{self.path} cannot be read ({problem}).", code="ledger") from None
        found = {}
        for line in text.splitlines():
            try:
                raw = json.loads(line)
                found[raw["key"]] = Done(raw["file"], raw["row"], raw["error"], raw["fault"])
            except (ValueError, KeyError, TypeError):
                continue
        return found

    def add(self, finished: Iterable[tuple[str, Done]]) -> None:
        """Append some finished homes, and do not return before the disk has them. Raises InputError."""
        lines = [json.dumps(_raw(key, done), allow_nan=False) + "\n" for key, done in finished]
        try:
            torn = self.path.exists() and self.path.stat().st_size > 0 and not _ends_whole(self.path)
            with self.path.open("a", encoding="utf-8", newline="\n") as stream:
                stream.write("\n" * torn + "".join(lines))
                stream.flush()
                os.fsync(stream.fileno())
        except OSError as problem:
            raise InputError(f"{self.path} cannot be written: {problem.strerror}.", code="ledger") from None


def _raw(key: str, done: Done) -> dict[str, object]:
    return {"key": key, "file": done.file, "row": done.row, "error": done.error, "fault": done.fault}


def _ends_whole(path: Path) -> bool:
    with path.open("rb") as stream:
        stream.seek(-1, os.SEEK_END)
        return stream.read(1) == b"\n"

"""Files are written whole or not at all, and never over an older one unasked."""

import json
import os

import pytest

from hearthold.errors import InputError
from hearthold.faces import files


def test_writes_what_it_was_given(tmp_path):
    files.write_new(tmp_path / "a.txt", "zwölf\n")
    assert (tmp_path / "a.txt").read_bytes() == "zwölf\n".encode()
    assert [p.name for p in tmp_path.iterdir()] == ["a.txt"]


def test_permissions_are_those_of_any_new_file(tmp_path):
    (tmp_path / "plain").write_text("")
    files.write_new(tmp_path / "ours", "")
    assert (tmp_path / "ours").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_an_older_file_stays(tmp_path):
    (tmp_path / "a").write_text("old")
    with pytest.raises(
        InputError, match=r"a is already there. Choose another name, or overwrite it with --force"
    ):
        files.write_new(tmp_path / "a", "new")
    assert (tmp_path / "a").read_text() == "old"
    files.write_new(tmp_path / "a", "new", force=True)
    assert (tmp_path / "a").read_text() == "new"


def test_a_folder_is_no_file(tmp_path):
    with pytest.raises(InputError, match="is a folder; name the file to write"):
        files.write_new(tmp_path, "x", force=True)


def test_a_missing_folder_is_told(tmp_path):
    with pytest.raises(InputError, match="is not a folder; make it first"):
        files.write_new(tmp_path / "none" / "a", "x")


def test_a_failing_write_leaves_the_old_file_and_no_rubbish(tmp_path, monkeypatch):
    (tmp_path / "a").write_text("old")

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(InputError, match="cannot be written: No space left on device"):
        files.write_new(tmp_path / "a", "new", force=True)
    assert (tmp_path / "a").read_text() == "old"
    assert [p.name for p in tmp_path.iterdir()] == ["a"]


def test_json_has_no_nan():
    assert json.loads(files.json_text({"a": 1})) == {"a": 1}
    with pytest.raises(ValueError, match="not JSON compliant"):
        files.json_text({"a": float("nan")})

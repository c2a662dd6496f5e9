"""Files that cannot be used: one message with file, line, key, value, remedy; exit code 2; no traceback."""

import os
from pathlib import Path

import pytest

from hearthold.faces.cli import main as cli
from hearthold.faces.cli.exits import Exit

ROOT = Path(__file__).parents[2]
GOOD = (ROOT / "examples" / "tarn_hollow.toml").read_text("utf-8")

# change of the good file (text, replacement), and what must be told: key, value, problem, remedy
WRONG = {
    "wrong_unit": (
        'altitude = "1420 ft"',
        'altitude = "1420 gal"',
        ["site.altitude", "1420 gal", "is a unit of volume", "use one of m, cm"],
    ),
    "no_unit": (
        'altitude = "1420 ft"',
        "altitude = 1420",
        ["site.altitude", "1420", "has no unit", 'write for example "50 ft" or "15 m"'],
    ),
    "unknown_key": (
        "altitude = ",
        "altitud = ",
        ["site.altitud", "is not a key known here", 'Did you mean "altitude"?'],
    ),
    "unknown_section": (
        "[people]",
        "[poeple]",
        ["poeple", "is not a key known here", 'Did you mean "people"?'],
    ),
    "negative": (
        "count = 4",
        "count = -4",
        ["people.count", "-4", "at least 1"],
    ),
    "not_a_number": (
        "count = 4",
        'count = "four"',
        ["people.count", "four", "whole number"],
    ),
    "unknown_word": (
        'system = "split_120_240"',
        'system = "split_120"',
        ["site.system", "split_120", "words allowed", 'Did you mean "split_120_240"?'],
    ),
    "nan": (
        'altitude = "1420 ft"',
        "altitude = nan",
        ["site.altitude", "nan"],
    ),
    "machine_of_nothing": (
        'running = "7.5 kW"',
        "running = 0",
        ["generator.on[1].running", "0", "is outside the allowed 300 to 200000 W"],
    ),
    "infinite": (
        "latitude = 44.2",
        "latitude = inf",
        ["site.latitude", "inf", "at most 72"],
    ),
    "duplicate_load": (
        '[[load]]\nid = "boiler"',
        '[[load]]\nid = "fridge"',
        ["id", "'fridge'", "is already the id of", "Give each its own id"],
    ),
    "no_such_circuit": (
        'circuit = "fridge"',
        'circuit = "frigde"',
        ["circuit", "'frigde'", "names no circuit", 'Did you mean "fridge"?'],
    ),
    "pole_of_240": (
        'name = "Well pump"\nbreaker = 15\npoles = 2',
        'name = "Well pump"\nbreaker = 15\npoles = 1',
        ["240 V", 'hangs a load of 240 V on circuit "well", which has one pole', "poles = 2"],
    ),
    "thin_wire": (
        'name = "Kitchen counter"\nbreaker = 20\nwire = "12 AWG"',
        'name = "Kitchen counter"\nbreaker = 20\nwire = "14 AWG"',
        ["breaker", "breaker = 20", "too large for 14 AWG", "at most 15 A", "call an electrician"],
    ),
    "other_system_wire": (
        'breaker = 20\nwire = "12 AWG"',
        'breaker = 20\nwire = "2.5 mm2"',
        ["wire", "2.5 mm2", "split_120_240"],
    ),
    "broken_toml": (
        'name = "Tarn Hollow"',
        'name = "Tarn Hollow',
        ["is not valid TOML here", 'name = "Tarn Hollow'],
    ),
    "same_key_twice": (
        "count = 4",
        "count = 4\ncount = 5",
        ["is not valid TOML here"],
    ),
    "too_few_months": (
        "mean = [16, ",
        "mean = [",
        ["climate.mean", "11 entries; needs 12"],
    ),
    "clock": (
        'awake_from = "06:00"',
        'awake_from = "6 am"',
        ["people.awake_from", "6 am", '"06:30"'],
    ),
    "zone": (
        "America/New_York",
        "America/Narnia",
        ["site.time_zone", "America/Narnia", "IANA name"],
    ),
}


def told(path, capsys, *more):
    """Exit code and message of `check`."""
    code = cli.main(["check", str(path), *more])
    seen = capsys.readouterr()
    assert "Traceback" not in seen.err
    return code, " ".join(seen.err.split())


@pytest.mark.parametrize("case", WRONG)
def test_one_wrong_thing(case, tmp_path, capsys):
    before, after, words = WRONG[case]
    assert GOOD.count(before) >= 1, "the example has changed; change this case too"
    text = GOOD.replace(before, after, 1)
    path = tmp_path / "farm.toml"
    path.write_text(text, "utf-8")
    code, message = told(path, capsys)
    assert code == Exit.BAD_INPUT
    assert f"{path} cannot be used" in message
    for word in words:
        assert word in message
    line = next(
        n
        for n, (a, b) in enumerate(zip(text.splitlines(), [*GOOD.splitlines(), ""], strict=False), 1)
        if a != b
    )
    named = [int(part.split(" ")[0]) for part in message.split("farm.toml:")[1:]]
    assert any(abs(n - line) <= 12 for n in named), (named, line)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", ["is empty", "hearthold new"]),
        (b"\n# nothing\n", ["is empty"]),
        (b"\x00\x01\x02\xff" * 400, ["is a binary file, not text", "UTF-8"]),
        (GOOD.encode("utf-16"), ["looks like UTF-16", "Save it as UTF-8"]),
        (GOOD.replace("Ines", "In\u00e9s").encode("latin-1"), ["is not UTF-8 text at this line", "UTF-8"]),
        (b"x = 1\n" * 1_700_000, ["is 10.2 MB", "at most 2 MB"]),
        (b"x = " + b"[" * 5000 + b"]" * 5000, ["cannot be used"]),
        (b"format = 99999999999999999999999999\n", ["format", "99999999999999999999999999"]),
        (b"[house]\nname = 'x'\n", ["site", "is missing", "Add a [site] section"]),
    ],
    ids=["empty", "comment", "binary", "utf16", "latin1", "ten_mb", "deep", "huge_number", "sections"],
)
def test_odd_files(content, words, tmp_path, capsys):
    path = tmp_path / "odd.toml"
    path.write_bytes(content)
    code, message = told(path, capsys)
    assert code == Exit.BAD_INPUT
    for word in [str(path), *words]:
        assert word in message


def test_a_missing_file(tmp_path, capsys):
    code, message = told(tmp_path / "none.toml", capsys)
    assert code == Exit.BAD_INPUT
    assert "does not exist. Write a starter with: hearthold new" in message


def test_a_folder(tmp_path, capsys):
    code, message = told(tmp_path, capsys)
    assert code == Exit.BAD_INPUT
    assert "is a folder. Name the house file inside it." in message


def test_a_file_in_a_file(tmp_path, capsys):
    (tmp_path / "a").write_text("")
    code, message = told(tmp_path / "a" / "b.toml", capsys)
    assert code == Exit.BAD_INPUT
    assert "cannot be read" in message or "does not exist" in message


def test_a_name_with_a_zero_byte(capsys):
    code, message = told("a\0b.toml", capsys)
    assert code == Exit.BAD_INPUT
    assert "null byte" in message


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_an_unreadable_file(tmp_path, capsys):
    path = tmp_path / "secret.toml"
    path.write_text(GOOD)
    path.chmod(0)
    code, message = told(path, capsys)
    assert code == Exit.BAD_INPUT
    assert "may not be read by this user" in message


def test_permission_refused_is_told_even_where_root_could_read(tmp_path, capsys, monkeypatch):
    path = tmp_path / "secret.toml"
    path.write_text(GOOD)

    def refuse(self, *_):
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr(Path, "open", refuse)
    code, message = told(path, capsys)
    assert code == Exit.BAD_INPUT
    assert "may not be read by this user. Change its permissions." in message


def test_every_fault_is_told_at_once(tmp_path, capsys):
    path = tmp_path / "farm.toml"
    path.write_text(GOOD.replace("count = 4", "count = 0").replace("1420 ft", "1420 gal"), "utf-8")
    code, message = told(path, capsys)
    assert code == Exit.BAD_INPUT
    assert "2 faults" in message
    assert message.index("site.altitude") < message.index("people.count")

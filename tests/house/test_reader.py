"""Every way in which a file can fail to be a house file is told apart, with what to do."""

import os
from pathlib import Path

import pytest
from homes import AMERICAN, EUROPEAN

from hearthold.errors import HouseFileError
from hearthold.house.reader import LARGEST_BYTES, house_from_bytes, house_from_text, read_house

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_the_examples_read_and_every_load_resolves(path):
    house = read_house(path)
    assert len(house.loads) > 10
    for load in house.loads:
        assert load.circuit in house.circuit_by_id
        assert load.running_w > 0.0
        assert load.low_w <= load.running_w <= load.high_w
        assert load.start_va >= load.running_va / load.count - 1e-9
        assert load.voltage_v in (120.0, 230.0, 240.0)
        assert 0.0 < load.power_factor <= 1.0
        assert 0.0 <= load.duty_frac <= 1.0


def test_two_examples_two_systems():
    assert {read_house(path).system.value for path in EXAMPLES} == {"split_120_240", "single_230"}


@pytest.mark.parametrize("base", [AMERICAN, EUROPEAN], ids=["american", "european"])
def test_a_small_file_reads(base):
    assert len(house_from_text(base).loads) == 2


@pytest.mark.parametrize("written", ["CS6365", "cs6364", "NEMA CS-50", " CS 50 "])
def test_a_name_of_the_trade_stands_for_the_word_of_the_table(written):
    """A 50 A locking plug is CS6365 in the trade, its cord end CS6364: from memory."""
    added = f'[hookup]\nkind = "manual_transfer"\ninlet = "{written}"\n'
    assert house_from_text(AMERICAN + added).hookup.inlet == "CS-50"


@pytest.mark.parametrize("written", ["SS2 (50 A)", "", "16"])
def test_a_plug_that_nobody_knows_is_answered_with_the_known_ones(written):
    added = f'[hookup]\nkind = "manual_transfer"\ninlet = "{written}"\n'
    with pytest.raises(HouseFileError, match=r"hookup\.inlet") as told:
        house_from_text(AMERICAN + added)
    assert written == "" or "is not a connector of the reference table" in str(told.value)


@pytest.mark.parametrize(
    "dress",
    [
        lambda text: b"\xef\xbb\xbf" + text.encode(),
        lambda text: text.replace("\n", "\r\n").encode(),
        lambda text: (text + "# Größe 5 m²\n").encode(),
        lambda text: text.rstrip("\n").encode(),
    ],
    ids=["byte_order_mark", "crlf", "umlauts", "no_last_newline"],
)
def test_harmless_dress(dress):
    assert house_from_bytes(dress(AMERICAN), "x.toml").name == "Test house"


def test_crlf_keeps_line_numbers():
    text = AMERICAN.replace("count = 2", "count = 0").replace("\n", "\r\n")
    with pytest.raises(HouseFileError, match=r"x\.toml:9: people\.count = 0: must be at least 1\."):
        house_from_bytes(text.encode(), "x.toml")


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", r"x\.toml: the file: is empty\. Write one with: hearthold new"),
        (b" \n\n\t\n", r"is empty\. Write one with"),
        (b"# only a comment\n", r"is empty\. Write one with"),
        (b"\xef\xbb\xbf", r"is empty\. Write one with"),
        (b"\x7fELF\x02\x01\x00\x00\x00", r"is a binary file, not text\. Save it as UTF-8 text"),
        (AMERICAN.encode("utf-16"), r"looks like UTF-16\. Save it as UTF-8 text"),
        (
            "a = 1\nb = 'Gr\u00f6\u00dfe'\n".encode("latin-1"),
            r"x\.toml:2: the file: is not UTF-8 text at this line",
        ),
        (b"#" * (LARGEST_BYTES + 1), r"is 2\.0 MB; a house file has at most 2 MB\. Is this the right file"),
        (
            b"[house]\nname = Tarn\n",
            r"x\.toml:2: the file: is not valid TOML here: .*'name = Tarn'.*need quotes",
        ),
        (b"[house]\nname = 'Tarn\n", r"is not valid TOML here: .*Is a bracket or a quote left open"),
        (
            b"[house]\nname = 'a'\nname = 'b'\n",
            r"x\.toml:3: the file: is not valid TOML here: Cannot overwrite",
        ),
        (b"[house\nname = 'a'\n", r"x\.toml:1: the file: is not valid TOML here"),
        (b"a = [1, 2", r"is not valid TOML here: Unclosed array"),
        (b"a = 1979-13-01\n", r"x\.toml:1: the file: is not valid TOML here"),
        (b"a = 25:00:00\n", r"x\.toml:1: the file: is not valid TOML here"),
        (b"a = 1\rb = 2\n", r"is not valid TOML here"),
        (b"a = " + b"9" * 5000, r"is not valid TOML"),
        (b"a = " + b"[" * 100_000, r"is not valid TOML"),
        (b"a = " + b"[" * 100_000 + b"]" * 100_000, r"is not valid TOML"),
        (b"a = " + b"{a=" * 20_000, r"is not valid TOML"),
        (b"name = 'x'\n", r"x\.toml:1: name = 'x': is not a key known here"),
    ],
)
def test_what_is_no_house_file(data, told):
    with pytest.raises(HouseFileError, match=told):
        house_from_bytes(data, "x.toml")


def test_a_key_named_line_does_not_mislead_the_line_number():
    with pytest.raises(HouseFileError, match=r"x\.toml:2: the file: is not valid TOML here"):
        house_from_bytes(b"'line 99' = 1\n'line 99' = 2\n", "x.toml")


def test_a_line_separator_inside_a_value_does_not_count_as_a_line():
    text = AMERICAN.replace("Somewhere", "Some\u2028where").replace("count = 2", "count = 2 oops")
    with pytest.raises(HouseFileError, match=r"x\.toml:9: .*'count = 2 oops'"):
        house_from_text(text, "x.toml")


def test_a_missing_file(tmp_path):
    with pytest.raises(HouseFileError, match=r"farm\.toml: the file: does not exist\. Write a starter with"):
        read_house(tmp_path / "farm.toml")


def test_a_folder(tmp_path):
    with pytest.raises(HouseFileError, match=r"is a folder\. Name the house file inside it\."):
        read_house(tmp_path)


def test_a_path_through_a_file(tmp_path):
    (tmp_path / "plain").write_text("x", "utf-8")
    with pytest.raises(HouseFileError, match=r"cannot be read .*Check the path|does not exist"):
        read_house(tmp_path / "plain" / "farm.toml")


def test_a_path_with_a_zero_byte():
    with pytest.raises(HouseFileError, match=r"cannot be read|does not exist"):
        read_house("far\0m.toml")


def test_ten_megabytes_are_not_read(tmp_path):
    path = tmp_path / "farm.toml"
    with path.open("wb") as file:
        file.truncate(10_000_000)
    with pytest.raises(HouseFileError, match=r"is 10\.0 MB; a house file has at most 2 MB"):
        read_house(path)


def test_a_file_that_never_ends():
    with pytest.raises(HouseFileError, match=r"a house file has at most 2 MB"):
        read_house("/dev/zero")


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="root may read everything")
def test_a_file_that_may_not_be_read(tmp_path):
    path = tmp_path / "farm.toml"
    path.write_text(AMERICAN, "utf-8")
    path.chmod(0)
    with pytest.raises(HouseFileError, match=r"may not be read by this user\. Change its permissions\."):
        read_house(path)


def test_faults_carry_the_path_as_given(tmp_path):
    path = tmp_path / "farm.toml"
    path.write_text(AMERICAN.replace("count = 2", "count = 0"), "utf-8")
    with pytest.raises(HouseFileError, match=r"people\.count") as caught:
        read_house(path)
    (fault,) = caught.value.faults
    assert (fault.path, fault.line, fault.key, fault.value) == (str(path), 9, "people.count", "0")

"""Invented villages: every home reads, the same seed gives the same homes, and homes differ as homes do."""

import pytest

from hearthold.errors import InputError
from hearthold.house.reader import house_from_text, read_house
from hearthold.study.village import village, write_village


@pytest.fixture(scope="module")
def homes():
    return village(120, seed=7)


def test_every_home_is_a_house_file_without_a_fault(homes):
    for home in homes:
        assert house_from_text(home.text, home.file).loads


def test_the_same_seed_gives_the_same_homes(homes):
    assert village(120, seed=7) == homes
    assert village(30, seed=7) == homes[:30]  # a longer village begins as a shorter one
    assert village(30, seed=8) != homes[:30]


def test_homes_differ_as_homes_do(homes):
    read = [house_from_text(h.text, h.file) for h in homes]
    without = sum(h.generator is None for h in read)
    assert 0.12 * len(read) < without < 0.4 * len(read)
    assert {h.hookup.kind.value for h in read if h.hookup} == {"manual_transfer", "interlock", "cords"}
    assert len({h.heat.floor_area_m2 for h in read}) > 60
    assert 0 < sum(bool(h.medical) for h in read) < 0.3 * len(read)
    assert all(store.contents_value > 0.0 for h in read for store in h.cold)
    assert any(h.water is None for h in read)
    assert any(h.water is not None and h.water.stored_m3 > 0.0 for h in read)


def test_a_village_is_written_once(tmp_path):
    paths = write_village(tmp_path / "homes", 3, seed=1)
    assert [p.name for p in paths] == ["home_00001.toml", "home_00002.toml", "home_00003.toml"]
    assert read_house(paths[0]).name
    with pytest.raises(InputError, match="holds house files already"):
        write_village(tmp_path / "homes", 3, seed=1)


@pytest.mark.parametrize("count", [0, -1, 30_000])
def test_no_village_without_homes_or_without_end(count):
    with pytest.raises(InputError, match=f"{count} homes; allowed 1 to 20000"):
        village(count)

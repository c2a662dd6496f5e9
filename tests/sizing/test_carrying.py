"""What conductors carry, against the printed tables and the usual worked steps."""

import pytest

from hearthold.errors import InputError
from hearthold.house.site import VoltageSystem
from hearthold.sizing.carrying import Lay, carrying, next_size

SPLIT, SINGLE = VoltageSystem.SPLIT_120_240, VoltageSystem.SINGLE_230


@pytest.mark.parametrize(
    ("wire", "cable", "allowed_a", "device_a"),
    [
        # NM-B finishes in the 60 degC column; 240.4(D) 15/20/30 A; 240.4(B) next standard size up
        ("14 AWG", "NM-B", 15.0, 15.0),
        ("12 AWG", "NM-B", 20.0, 20.0),
        ("10 AWG", "NM-B", 30.0, 30.0),
        ("6 AWG", "NM-B", 55.0, 60.0),
        ("12 AWG", "UF-B", 20.0, 20.0),
        ("14 AWG", "THHN", 15.0, 15.0),
        # flexible cord, two current-carrying conductors (neutral not counted): 400.5 column B
        ("10 AWG", "cord", 30.0, 30.0),
        ("6 AWG", "cord", 55.0, 60.0),
    ],
)
def test_at_thirty_degrees_and_not_bundled(wire, cable, allowed_a, device_a):
    found = carrying(wire, "copper", cable, SPLIT, Lay(device_a=30.0))
    assert found.allowed_a == allowed_a
    assert found.largest_device_a == device_a


def test_hot_attic_starts_in_the_ninety_degree_column():
    # 12 AWG NM-B in 50 degC: 30 A x 0.82 = 24.6 A, held to 20 A by the 60 degC finish (334.80, 310.15)
    found = carrying("12 AWG", "copper", "NM-B", SPLIT, Lay(ambient_c=50.0))
    assert found.table_a * found.ambient_frac == pytest.approx(24.6)
    assert found.allowed_a == 20.0
    # eight current-carrying conductors together: 24.6 x 0.7 = 17.2 A
    crowded = carrying("12 AWG", "copper", "NM-B", SPLIT, Lay(ambient_c=50.0, live_count=8))
    assert crowded.allowed_a == pytest.approx(17.22)


def test_three_live_conductors_use_cord_column_a():
    assert carrying("10 AWG", "copper", "cord", SPLIT, Lay(live_count=3)).allowed_a == 25.0


def test_large_device_brings_75_degree_terminals():
    # 2 AWG Cu: 95 A at 60 degC, 115 A at 75 degC
    assert carrying("2 AWG", "copper", "THHN", SPLIT, Lay(device_a=60.0)).allowed_a == 95.0
    assert carrying("2 AWG", "copper", "THHN", SPLIT, Lay(device_a=125.0)).allowed_a == 115.0


def test_iec_sizes_follow_method_c_and_the_ambient_factor():
    # 2.5 mm2 method C 27 A; 4 mm2 in 40 degC 36 x 0.87 (IEC 60364-5-52, from memory)
    assert carrying("2.5 mm2", "copper", "PVC70", SINGLE, Lay()).allowed_a == 27.0
    assert carrying("4 mm2", "copper", "PVC70", SINGLE, Lay(ambient_c=40.0)).allowed_a == pytest.approx(31.32)


def test_iec_cords_have_their_own_table():
    """H07RN-F of 2.5 mm2 carries 25 A, of 4 mm2 32 A (BS 7671 Table 4F3A, from memory); warm air takes some."""
    assert carrying("2.5 mm2", "copper", "cord", SINGLE, Lay()).allowed_a == 25.0
    assert next_size(carrying("2.5 mm2", "copper", "cord", SINGLE, Lay()), 32.0) == "4 mm2"
    warm = carrying("4 mm2", "copper", "cord", SINGLE, Lay(ambient_c=40.0))
    assert warm.allowed_a == pytest.approx(32.0 * ((60 - 40) / (60 - 30)) ** 0.5, rel=0.01)


def test_iec_result_never_cites_the_nec():
    found = carrying("2.5 mm2", "copper", "PVC70", SINGLE, Lay())
    assert "NEC" not in str(found.source) + " ".join(found.notes)
    assert found.continuous_a == found.allowed_a


def test_next_size():
    found = carrying("8 AWG", "copper", "cord", SPLIT, Lay())
    assert next_size(found, 50.0) == "6 AWG"
    assert next_size(found, 500.0) is None
    assert next_size(carrying("2.5 mm2", "copper", None, SINGLE, Lay()), 40.0) == "6 mm2"


def test_size_of_the_other_system_is_refused():
    with pytest.raises(InputError, match="write it in mm2"):
        carrying("12 AWG", "copper", None, SINGLE, Lay())
    with pytest.raises(InputError, match="write it in AWG"):
        carrying("2.5 mm2", "copper", None, SPLIT, Lay())

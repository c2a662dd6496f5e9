"""Every published table: it parses, says its source, keeps its units, its order and its ranges."""

import math
import re
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

from hearthold.quantities.source import Standing
from hearthold.quantities.units import dimensions
from hearthold.reference import reader
from hearthold.reference.parsing import column_units
from hearthold.reference.reader import table, table_places

NAMES = sorted(table_places())
TABLES = Path(reader.__file__).parent / "tables"
FILES = sorted(TABLES.rglob("*.toml"))


FAMILIES = [
    "ampacity",
    "cords",
    "motor_full_load",
    "start_kinds",
    "connectors",
    "generator_sets",
    "fuels",
    "cylinder_vaporisation",
    "gas_pipe_sizes",
    "food_rules",
    "foods",
    "cold_appliances",
    "house_classes",
    "heater_draws",
    "pipe_rules",
    "indoor_gains",
    "water_use",
    "livestock_water",
    "outage_models",
    "costs",
    "maintenance",
    "cautions",
    "battery_kinds",
    "pv_sites",
    "code_rules",
    "loads",
]


def test_all_families_are_there():
    assert set(FAMILIES) <= set(NAMES)
    assert len(NAMES) >= 90


@pytest.mark.parametrize("name", NAMES)
def test_table_is_whole(name):
    found = table(name)
    assert found.name == name
    assert found.title
    assert found.meaning
    assert found.source.text
    assert len(found) == len(found.index) > 0
    assert found.source.standing in {Standing.SEEN, Standing.MEMORY, Standing.COMPUTED, Standing.PRACTICE}


@pytest.mark.parametrize("name", NAMES)
def test_every_figure_has_a_unit_and_a_source(name):
    for row in table(name):
        assert row.cited.strip()
        assert row.systems
        for column in row.cells:
            unit = row.columns[column].unit
            assert unit.name in column_units()
            assert row.standing_of(column)
            if unit.dimension:
                assert unit.spelt in dimensions()[unit.dimension].units
                assert row.si(column) == pytest.approx(unit.to_si(row.number(column)))


@pytest.mark.parametrize("name", NAMES)
def test_low_typical_and_high_stand_in_order(name):
    """Columns named low_x, typical_x, plan_x and high_x of one quantity never cross."""
    columns = table(name).columns
    for low in (c for c in columns if c.startswith("low_")):
        rest = low.removeprefix("low_")
        for row in (r for r in table(name) if low in r):
            middle = [row.number(c) for c in (f"typical_{rest}", f"plan_{rest}") if c in row]
            high = row.number(f"high_{rest}") if f"high_{rest}" in row else float("inf")
            assert all(row.number(low) <= m <= high for m in middle), row.place
            assert row.number(low) <= high, row.place


@pytest.mark.parametrize("name", NAMES)
def test_a_number_column_has_a_range(name):
    """A slip of the decimal point must be caught: every number column declares what is plausible."""
    for column in table(name).columns.values():
        if column.unit.name not in {"text", "AWG", "flag"}:
            assert column.low > float("-inf"), column.name
            assert column.high < float("inf"), column.name


def test_no_session_word_and_no_web_address_is_in_a_table():
    banned = re.compile(r"https?://|www\.|\.com\b|/work/|seen_[a-z]", re.I)
    hits = [f"{f.name}: {m[0]}" for f in FILES for m in [banned.search(f.read_text("utf-8"))] if m]
    assert not hits


def test_every_file_is_reached_by_a_table():
    reached = sum(
        1 if (TABLES / f"{n}.toml").is_file() else len(list((TABLES / n).glob("*.toml"))) for n in NAMES
    )
    assert reached == len(FILES)


def test_a_row_marked_seen_names_more_than_practice():
    for name in NAMES:
        for row in table(name):
            if row.standing is Standing.SEEN:
                assert "no source" not in row.cited.replace("no source; ratings", ""), row.place
                assert "from memory" not in row.cited, row.place


def test_a_page_that_sells_is_never_called_seen():
    for name in NAMES:
        for row in table(name):
            if re.search(r"\b(maker|dealer|vendor)s?'? (page|site|chart)\b", row.cited):
                assert row.standing is not Standing.SEEN, row.place


class TestAgreement:
    """Facts that tables owe each other, from definitions and standards outside the tables."""

    def test_wire_area_follows_the_awg_definition(self):
        # ASTM B258: d = 0.005 in x 92^((36-n)/39); area in circular mils is (1000 d)^2
        numbers = {"1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}
        for row in table("wire_resistance_dc"):
            size = row.text("size_awg")
            n = numbers[size] if size in numbers else int(size)
            cmil = (5.0 * 92.0 ** ((36 - n) / 39.0)) ** 2
            assert row.number("area_cmil") == pytest.approx(cmil, rel=0.0035), size  # three figures

    def test_stranded_is_a_little_more_than_solid(self):
        rows = table("wire_resistance_dc")
        for size in ("18", "16", "14", "12", "10", "8"):
            solid, stranded = (rows.row(size, s).number("copper_ohm_per_kft") for s in (1, 7))
            assert 1.015 < stranded / solid < 1.03  # ASTM B8 lay allowance, 2 per cent

    def test_resistance_falls_with_size_within_one_stranding(self):
        for metal in ("copper", "aluminium"):
            column = f"{metal}_ohm_per_kft"
            sizes = table("wire_resistance_dc").names("size_awg")
            most = [
                max(r.number(column) for r in table("wire_resistance_dc").where(size_awg=s)) for s in sizes
            ]
            assert most == sorted(most, reverse=True)
            assert len(set(most)) == len(most)

    def test_ambient_factors_follow_the_code_formula(self):
        # NEC 310.15(B): sqrt((Tc - Ta) / (Tc - 30)), table rounded to two places
        for row in table("ambient_factors"):
            tc, ta = row.number("insulation_c"), row.number("band_top_c")
            assert row.number("ambient_factor") == pytest.approx(((tc - ta) / (tc - 30.0)) ** 0.5, abs=0.006)

    def test_metric_ambient_factors_follow_the_formula(self):
        for row in table("metric_ambient_factors"):
            assert row.number("ambient_factor") == pytest.approx(
                ((70 - row.number("ambient_c")) / 40) ** 0.5, abs=0.006
            )

    def test_cord_ambient_factors_follow_the_formula(self):
        for row in table("metric_cord_ambient"):
            assert row.number("ambient_factor") == pytest.approx(
                ((60 - row.number("ambient_c")) / 30) ** 0.5, abs=0.006
            )

    def test_iec_breakers_follow_the_preferred_numbers(self):
        """IEC 60059: ratings are the Renard series R10 of ISO 3 (10 to the n tenths), rounded to whole amperes."""
        for row in table("iec_breakers"):
            rating = row.number("rating_a")
            nearest = 10.0 ** (round(10.0 * math.log10(rating)) / 10.0)
            assert rating == pytest.approx(nearest, rel=0.05)

    def test_metric_cords_lie_a_little_above_the_american_ones(self):
        """The same rubber cord in the NEC's column B is 10 to 25 % stricter at every size between."""
        sizes = [row.number("size_mm2") for row in table("metric_cords")]
        amps = [row.number("single_phase_a") for row in table("metric_cords")]
        area_mm2 = {"14": 2.081, "12": 3.309, "10": 5.261, "8": 8.367, "6": 13.30, "4": 21.15}  # ASTM B258
        for size, mm2 in area_mm2.items():
            at = np.exp(np.interp(np.log(mm2), np.log(sizes), np.log(amps)))
            assert 0.75 < table("cords").row(size).number("column_b_a") / at < 0.90, size

    def test_effective_impedance_is_that_of_the_table(self):
        # Table 9 prints Z at 0.85 power factor, R cos + X sin, to two figures
        sin = (1 - 0.85**2) ** 0.5
        for row in table("wire_impedance_ac"):
            z = row.number("copper_pvc_ohm_per_kft") * 0.85 + row.number("reactance_pvc_ohm_per_kft") * sin
            last_place = 0.1 if z > 1 else 0.01 if z > 0.1 else 0.001
            assert row.number("copper_pvc_effective_z_ohm_per_kft") == pytest.approx(z, abs=last_place)

    def test_aluminium_carries_less_than_copper(self):
        for row in table("ampacity").where(material="al"):
            copper = table("ampacity").row("cu", row.number("insulation_c"), row.text("size_awg"))
            assert row.number("ampacity_a") < copper.number("ampacity_a")

    def test_a_hotter_column_carries_more(self):
        for row in table("ampacity").where(insulation_c=60):
            key = row.text("material"), row.text("size_awg")
            a, b, c = (table("ampacity").row(key[0], t, key[1]).number("ampacity_a") for t in (60, 75, 90))
            assert a < b < c

    def test_locked_rotor_is_six_times_full_load(self):
        # NEC 430.251(A) is six times 430.248; the 208 V column is rounded
        for row in table("motor_locked_rotor"):
            full = table("motor_full_load").row(row.text("size"))
            for volts in (115, 230):
                assert row.number(f"at_{volts}_v_a") == pytest.approx(
                    6 * full.number(f"at_{volts}_v_a"), rel=0.001
                )

    def test_code_letter_bands_touch(self):
        rows = table("motor_code_letters").rows
        for before, after in pairwise(rows):
            gap = after.number("low_kva_per_hp") - before.number("high_kva_per_hp")
            assert 0.009 < gap < 0.011, after.place

    def test_reported_caidi_is_saidi_over_saifi(self):
        # IEEE 1366: CAIDI = SAIDI / SAIFI; SAIFI printed to three figures
        for row in table("outage_years"):
            for part in ("with_major", "without_major"):
                mean = row.number(f"{part}_saidi_min") / row.number(f"{part}_saifi_per_year")
                assert row.number(f"{part}_caidi_min") == pytest.approx(mean, rel=0.01), row.place

    def test_months_share_all_major_events(self):
        assert sum(r.number("share_frac") for r in table("outage_months")) == pytest.approx(1.0)

    def test_drawdown_follows_boyle(self):
        for row in table("pressure_tanks"):
            low, high = row.number("cut_in_psi"), row.number("cut_out_psi")
            pre = low - 2.0 if row.text("precharge") == "cut_in_minus_2" else low
            share = (pre + 14.7) * (1 / (low + 14.7) - 1 / (high + 14.7))
            assert row.number("drawdown_gal") == pytest.approx(row.number("tank_gal") * share, abs=0.006)

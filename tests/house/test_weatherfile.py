"""Weather files: our own CSV, TMY3 as pvlib ships it, and every way of being wrong."""

from pathlib import Path

import numpy as np
import pytest

from hearthold.errors import HouseFileError, InputError
from hearthold.house.reader import house_from_text, read_house
from hearthold.house.weatherfile import HOURS_A_YEAR, read_weather

EXAMPLE = Path(__file__).parents[2] / "examples" / "tarn_hollow.toml"


def own_csv(folder, values, header="outdoor_c,ghi_w_per_m2"):
    page = folder / "hours.csv"
    page.write_text(header + "\n" + "\n".join(f"{v},0" for v in values), "utf-8")
    return page


def test_own_csv_gives_monthly_means_and_the_daily_range(tmp_path):
    hours = np.tile(10.0 + 4.0 * np.sin(2 * np.pi * np.arange(24) / 24.0), 365)
    found = read_weather(str(own_csv(tmp_path, hours)))
    assert found.monthly_mean_c() == pytest.approx((10.0,) * 12)
    assert found.daily_range_k() == pytest.approx(8.0, rel=1e-6)
    assert found.cold_spell_k() == pytest.approx(0.0, abs=1e-9)


def test_a_cold_wave_is_the_coldest_three_days_of_the_coldest_month(tmp_path):
    hours = np.full(HOURS_A_YEAR, 5.0)
    hours[: 31 * 24] = 0.0
    hours[240 : 240 + 72] = -9.3
    found = read_weather(str(own_csv(tmp_path, hours)))
    assert found.monthly_mean_c()[0] == pytest.approx(-0.9)
    assert found.cold_spell_k() == pytest.approx(8.4)


def test_tmy3_of_greensboro_has_its_published_mean():
    # pvlib's packaged file 723170TYA.CSV: mean 14.4 C, coldest hour -16.7 C (read with pandas, 8760 rows).
    pvlib = pytest.importorskip("pvlib")
    page = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
    found = read_weather(str(page))
    assert float(found.outdoor_c.mean()) == pytest.approx(14.42, abs=0.02)
    assert float(found.outdoor_c.min()) == pytest.approx(-16.7, abs=0.05)
    assert found.ghi_w_per_m2.sum() / 1000.0 == pytest.approx(1566.2, rel=0.001)


@pytest.mark.parametrize(
    ("values", "message"),
    [
        ([1.0] * 100, "has 100 hours"),
        ([80.0] * HOURS_A_YEAR, "Is the column in Fahrenheit"),
        ([float("nan")] * HOURS_A_YEAR, "every temperature is missing"),
        (["warm"] * HOURS_A_YEAR, ":2: needs a number"),
    ],
)
def test_what_cannot_be_used_is_told(tmp_path, values, message):
    with pytest.raises(InputError, match=message):
        read_weather(str(own_csv(tmp_path, values)))


def test_gaps_are_bridged(tmp_path):
    values = [1.0] * HOURS_A_YEAR
    values[10] = float("nan")
    assert read_weather(str(own_csv(tmp_path, values))).outdoor_c[10] == pytest.approx(1.0)


def test_a_missing_file_is_a_fault_of_the_house_file():
    text = EXAMPLE.read_text("utf-8")
    start, end = text.index("unit = "), text.index("[outages]")
    text = text[:start] + 'weather_file = "nowhere.epw"\n\n' + text[end:]
    with pytest.raises(HouseFileError, match="weather file does not exist"):
        house_from_text(text, "house.toml")


def test_the_house_takes_its_normals_from_the_file(tmp_path):
    own_csv(tmp_path, np.full(HOURS_A_YEAR, 3.0))
    text = EXAMPLE.read_text("utf-8")
    start, end = text.index("unit = "), text.index("[outages]")
    page = tmp_path / "house.toml"
    page.write_text(text[:start] + 'weather_file = "hours.csv"\n\n' + text[end:], "utf-8")
    assert read_house(page).climate.mean_c == pytest.approx((3.0,) * 12)

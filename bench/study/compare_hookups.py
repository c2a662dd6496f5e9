"""Wall time of a comparison of six designed hookups, once the engine is compiled.

Run: python bench/study/compare_hookups.py
"""

import time
from datetime import date
from pathlib import Path

from hearthold.house.reader import read_house
from hearthold.study.chosen import outages_of
from hearthold.study.compare import compare

EXAMPLES = Path(__file__).parents[2] / "examples"


def main():
    for name in ("tarn_hollow", "skerrow_croft"):
        house = read_house(EXAMPLES / f"{name}.toml")
        outages = outages_of(house, date(2026, 10, 14))
        compare(house, outages, seed=1)
        begun = time.perf_counter()
        found = compare(house, outages, seed=1)
        spent_s = time.perf_counter() - begun
        print(
            f"{name}: {len(found.candidates)} hookups, {found.outages_tried} outages each: {spent_s:.2f} s (aim 15 s)"
        )


if __name__ == "__main__":
    main()

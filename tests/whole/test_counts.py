"""docs/index.md counts loads, rules and published checks: the figures are those of the tables."""

import re
import tomllib
from collections import Counter
from pathlib import Path

from hearthold.reference import loads
from hearthold.rules.rows import rule_book

ROOT = Path(__file__).parents[2]
PAGE = " ".join((ROOT / "docs" / "index.md").read_text("utf-8").split())
BOTH = frozenset({"split_120_240", "single_230"})


def test_loads():
    kinds = Counter(frozenset(loads.load(kind).systems) for kind in loads.load_ids())
    split, single = kinds[frozenset({"split_120_240"})], kinds[frozenset({"single_230"})]
    assert f"| {sum(kinds.values())}: {kinds[BOTH]} for either supply," in PAGE
    assert f"{split} for 120/240 V only, {single} for 230 V only" in PAGE
    assert kinds[BOTH] + split >= 80
    assert kinds[BOTH] + single >= 80


def test_rules():
    families = Counter(row.family for row in rule_book().values())
    assert f"{sum(families.values())} in {len(families)} families, each with" in PAGE
    listed = re.search(r"Rules by family: (.*?)\.", PAGE)[1]
    assert sorted(int(n) for n in re.findall(r"\d+", listed)) == sorted(families.values())


def test_published_checks():
    pages = sorted((ROOT / "tests" / "published" / "cases").glob("*.toml"))
    cases = [case for page in pages for case in tomllib.loads(page.read_text("utf-8"))["case"]]
    own = sum(case["evidence"] == "independent" for case in cases)
    families = {case["family"] for case in cases}
    assert f"{len(cases)} in {len(families)} families; in {own} of them" in PAGE

"""Every case of tests/published/cases against the outside; list them with `pytest tests/published --co`."""

import importlib
import tomllib
from pathlib import Path

import numpy as np
import pytest

HERE = Path(__file__).parent
FIELDS = {"id", "function", "inputs", "expect", "unit", "why", "source", "evidence", "family", "standing"}
EVIDENCE = {"independent", "selected", "code-only", "circular"}


def load_cases():
    pages = sorted((HERE / "cases").glob("*.toml"))
    read = ((page, tomllib.loads(page.read_text("utf-8"))) for page in pages)
    return [case | {"page": page.name} for page, text in read for case in text["case"]]


CASES = load_cases()


# Bridges between the units a case is printed in and the SI functions under test, named as `helpers.<function>`. They
# convert, call and convert back; they hold no physics, or a case would check its bridge instead of the program.
BRIDGES = [
    importlib.import_module(f"tests.published.bridges.{page.stem}")
    for page in sorted((HERE / "bridges").glob("*.py"))
]


def resolve(path):
    module, _, name = path.rpartition(".")
    if module == "helpers":
        return next(getattr(bridge, name) for bridge in BRIDGES if hasattr(bridge, name))
    return getattr(importlib.import_module(module), name)


@pytest.mark.parametrize("case", CASES, ids=[c["id"] for c in CASES])
def test_agrees_with_the_outside(case):
    found = np.asarray(resolve(case["function"])(**case["inputs"]), dtype=float)
    expect = np.asarray(case["expect"], dtype=float)
    assert found.shape == expect.shape
    within = {"rtol": case.get("rel", 0.0), "atol": case.get("abs", 0.0)}
    np.testing.assert_allclose(found, expect, **within, err_msg=case["source"])


def test_cases_are_well_formed():
    assert len({c["id"] for c in CASES}) == len(CASES)
    for case in CASES:
        assert set(case) >= FIELDS, f"{case['page']} {case.get('id')}: missing {FIELDS - set(case)}"
        assert case["evidence"] in EVIDENCE
        assert case["standing"] in {"seen", "memory", "computed"}
        assert ("rel" in case) != ("abs" in case), f"{case['id']}: give rel or abs, with the reason in why"


def test_no_family_is_left_without_a_case_from_outside():
    wanted = {
        "conductor resistance", "ampacity table", "cord ampacity", "voltage drop", "motor tables", "motor starting",
        "dwelling load", "metric cable", "pressure tank", "pump power", "heater recovery", "gas pipe", "propane",
        "enthalpy of frozen food", "food safety", "degree days", "sun", "heating values",
    }  # fmt: skip
    assert wanted <= {c["family"] for c in CASES if c["evidence"] != "circular"}


def test_enough_cases_stand_on_the_outside():
    outside = [c for c in CASES if c["evidence"] != "circular"]
    assert len(outside) >= 60
    assert len({c["family"] for c in outside}) >= 14

"""The rule book as a whole: rows and functions match, wording keeps its promises, sources can be found."""

import ast
import re
from pathlib import Path

import pytest

import hearthold.rules
from hearthold.errors import InputError
from hearthold.house.site import VoltageSystem
from hearthold.quantities.source import Standing
from hearthold.reference.cautions import caution
from hearthold.reference.code_rules import code_rule
from hearthold.rules.check import explain
from hearthold.rules.finding import Severity
from hearthold.rules.page import rules_page
from hearthold.rules.registry import registered
from hearthold.rules.rows import families, rule_book, rule_row
from hearthold.rules.words import names_in

ROOT = Path(__file__).parents[2]
ROWS = list(rule_book().values())
IDS = [row.id for row in ROWS]
SPLIT, SINGLE = VoltageSystem.SPLIT_120_240, VoltageSystem.SINGLE_230
# words that would promise what nobody here can promise
PROMISES = re.compile(r"\b(is|are|be|becomes?) (now |then )?(safe|legal|to code)\b|\bcompliant\b", re.I)
NORTH_AMERICAN = re.compile(r"\bNEC\b|\bAWG\b|\bUFC\b|\b(210|220|240|250|310|408|430|445|702)\.\d")
IEC = re.compile(r"\bIEC 60364|\bIEC 61439|\bBS 7671")


def words_of(row):
    return " ".join((row.title, row.why, row.remedy, row.source.text, row.edition))


def test_every_row_has_a_function_and_every_function_a_row():
    assert set(registered()) == set(rule_book())


def test_the_book_covers_what_can_go_wrong():
    assert len(ROWS) >= 50
    assert set(families()) >= {"monoxide", "earthing", "connection", "conductors", "fuel", "food", "medical"}
    for system in VoltageSystem:
        assert len([r for r in ROWS if system in r.systems]) >= 50
        assert {r.severity for r in ROWS if system in r.systems} == set(Severity)


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_wording_makes_no_promise_and_ends_its_sentences(row):
    assert not PROMISES.search(words_of(row))
    assert row.why.rstrip().endswith((".", "}", "?")), row.why
    assert row.remedy.rstrip().endswith("."), row.remedy
    assert not row.title.endswith(".")


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_each_system_gets_its_own_code_and_never_the_other(row):
    if SINGLE in row.systems:
        assert not NORTH_AMERICAN.search(words_of(row))
    if SPLIT in row.systems:
        assert not IEC.search(words_of(row))


@pytest.mark.parametrize("row", [r for r in ROWS if r.is_code], ids=[r.id for r in ROWS if r.is_code])
def test_a_rule_of_a_code_defers_to_those_who_enforce_it(row):
    assert len(row.systems) == 1
    told = explain(row.id)
    assert row.edition in told
    enforcer = "local code as adopted where you live and its inspector"
    if row.systems == (SINGLE,):
        enforcer = "national wiring rules and the competent person"
    assert enforcer in told


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_cautions_and_code_rules_are_rows_of_the_reference(row):
    if row.caution:
        assert {s.value for s in row.systems} <= set(caution(row.caution).systems)
    for name in row.cites:
        assert {s.value for s in row.systems} & set(code_rule(name).systems), name
    if row.cites and row.is_code and row.source.standing is Standing.SEEN:
        assert any(code_rule(name).source.standing is Standing.SEEN for name in row.cites)


@pytest.mark.parametrize("row", [r for r in ROWS if r.severity is Severity.DANGER], ids=lambda r: r.id)
def test_every_danger_prints_a_caution(row):
    assert row.caution


@pytest.mark.parametrize("row", ROWS, ids=IDS)
def test_limits_are_used_by_the_wording_or_the_check(row):
    """A limit that neither the words nor the function read would be a dead figure."""
    source = (Path(hearthold.rules.__file__).parent / "families").glob("*.py")
    code = "".join(page.read_text("utf-8") for page in source)
    for name in row.limits:
        used_in_words = name in names_in(row.why + row.remedy + row.title)
        assert used_in_words or f'"{name}"' in code, f"{row.id}: {name}"


def test_no_source_shows_a_blank_of_its_own_template():
    """What a page prints of the furnace: 80 % of the higher heating value, as the table's limit has it."""
    assert not [row.id for row in rule_book().values() if "{" in str(row.source)]
    assert "over 80 % of the higher heating value" in str(rule_book()["heater-on-the-same-propane"].source)


def test_explain_names_limits_and_blanks():
    told = explain("engine-too-close")
    assert "20 ft (6.1 m)" in told
    assert "<given>" in told
    assert explain("engine-too-close", SINGLE).count("6.1 m") == 2
    assert "20 ft" not in explain("engine-too-close", SINGLE).split("Source:")[0]


def test_an_unknown_rule_is_refused_with_near_names():
    with pytest.raises(InputError, match=r"no rule 'engine-to-close'; near: .*engine-too-close"):
        rule_row("engine-to-close")


def test_the_printed_list_is_the_book():
    printed = (ROOT / "docs" / "rules.md").read_text("utf-8")
    assert printed == rules_page(), "print it again: python -m hearthold.rules.page > docs/rules.md"


def test_rules_never_look_at_engine_plan_or_clock():
    pages = list(Path(hearthold.rules.__file__).parent.rglob("*.py"))
    assert len(pages) > 15
    above = ("hearthold.engine", "hearthold.plan", "hearthold.study", "hearthold.faces")
    for page in pages:
        tree = ast.parse(page.read_text("utf-8"))
        imported = [n.module or "" for n in ast.walk(tree) if isinstance(n, ast.ImportFrom)]
        assert not [m for m in imported if m.startswith(above)], page
        calls = [n.func for n in ast.walk(tree) if isinstance(n, ast.Call)]
        names = {f.attr for f in calls if isinstance(f, ast.Attribute)}
        assert not names & {"today", "now", "utcnow", "time"}, page

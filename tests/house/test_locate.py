"""Line numbers of keys, against lines counted by hand and against documents made line by line."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthold.house.locate import line_index, line_of

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
SEEDED = settings(max_examples=150, derandomize=True, deadline=None)


@pytest.mark.parametrize(
    ("text", "path", "line"),
    [
        ("a = 1\n\n# b = 2\nb = 2\n", ("b",), 4),
        ("[t]\na = 1\nb = 2\n", ("t", "b"), 3),
        ("[t]\na = 1\n", ("t",), 1),
        ("[ t . u ]  # the table\na = 1\n", ("t", "u", "a"), 2),
        ("[t.u]\na = 1\n", ("t",), 1),
        ("t.u.a = 1\n", ("t", "u", "a"), 1),
        ("t . 'u' . \"a\" = 1\n", ("t", "u", "a"), 1),
        ("[[r]]\na = 1\n[[r]]\na = 2\n", ("r", 1, "a"), 4),
        ("[[r]]\n[[r]]\n", ("r", 1), 2),
        ("[[g]]\n[[g.on]]\nx = 1\n[[g.on]]\nx = 2\n[[g]]\n[[g.on]]\nx = 3\n", ("g", 0, "on", 1, "x"), 5),
        ("[[g]]\n[[g.on]]\nx = 1\n[[g.on]]\nx = 2\n[[g]]\n[[g.on]]\nx = 3\n", ("g", 1, "on", 0, "x"), 8),
        ("[g]\n[[g.on]]\nx = 1\n[[g.on]]\nx = 2\n", ("g", "on", 1, "x"), 5),
        ("[[g]]\n[g.sub]\nx = 1\n[[g]]\n[g.sub]\nx = 2\n", ("g", 1, "sub", "x"), 6),
        ("h = { a = 1, b = { c = 2 } }\n", ("h", "b", "c"), 1),
        ("[t]\nh = { load = 'x' }\n", ("t", "h", "load"), 2),
        ("a = [\n  1,\n  2, # two\n  3,\n]\nb = 1\n", ("a", 2), 4),
        ("a = [\n  1,\n  2\n]\nb = 1\n", ("b",), 5),
        ("a = [\n  [1, 2],\n  [3, 4]\n]\nb = 1\n", ("a", 1, 0), 3),
        ("a = [\n  [1, 2]\n]\nb = 1\n", ("b",), 4),
        ("p = [\n  { load = 1 },\n  { load = 2, hours = 3 },\n]\n", ("p", 1, "hours"), 3),
        ('a = """\nb = 1\n[c]\n"""\nb = 2\n', ("b",), 5),
        ("a = '''\nb = 1\n'''\nb = 2\n", ("b",), 4),
        ('a = """x\\"""" # "\nb = 2\n', ("b",), 2),
        ('a = """it\'s \'\'\' inside"""\nb = 2\n', ("b",), 2),
        ("a = 1 # a comment with ''' in it\nb = 2\n", ("b",), 2),
        ('a = "x = # y [z]"\nb = 2\n', ("b",), 2),
        ('"a b" = 1\n"c.d" = 2\n', ("c.d",), 2),
        ('"a\\"b" = 1\n', ('a"b',), 1),
        ('[["x]y"]]\na = 1\n', ("x]y", 0, "a"), 2),
        ("a = 1\r\nb = 2\r\n", ("b",), 2),
        ("a = 'one\u2028line\x85still'\nb = 2\n", ("b",), 2),
        ("a = 1979-05-27 07:32:00\nb = 2\n", ("b",), 2),
        ("a = 1.5e3\nb = true", ("b",), 2),
    ],
)
def test_line(text, path, line):
    tomllib.loads(text)
    assert line_index(text)[path] == line


def test_the_nearest_thing_around_is_told_where_the_key_is_not_there():
    index = line_index("[t]\na = 1\n[[r]]\nb = 1\n")
    assert line_of(index, ("t", "missing")) == 1
    assert line_of(index, ("r", 0, "missing", "deeper")) == 3
    assert line_of(index, ("absent",)) is None
    assert line_of(index, ()) is None


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_value_of_an_example_is_on_the_line_that_is_told(path):
    text = path.read_text("utf-8")
    lines, index = text.split("\n"), line_index(text)
    found = list(leaves(tomllib.loads(text)))
    assert len(found) > 200
    for where, _ in found:
        name = next(str(part) for part in reversed(where) if isinstance(part, str))
        assert name in lines[index[where] - 1]


def leaves(value, where=()):
    """Every plain value of a parsed document with its path."""
    if isinstance(value, dict | list):
        for key, item in value.items() if isinstance(value, dict) else enumerate(value):
            yield from leaves(item, (*where, key))
    else:
        yield where, value


# Each document is written line by line, so that the line of every key is known before it is asked.
NAMES = st.sampled_from(("a", "b-c", "d_1", '"q q"', "'l.l'", '"#"', "7"))
VALUES = st.sampled_from(
    ("1", '"text"', "'[x]'", "[1, 2]", "{ i = 1, j = 'k' }", '"""\nm = 1\n\n[n]\n"""', "'''\no = '#\n'''",
     "[\n  1,\n  # p = 3\n  2\n]", "2024-01-01", '"\\"#"', "[]", "{}")
)  # fmt: skip
FILLERS = st.sampled_from(("", "# r = 1", "   ", "# ''' \"\"\" [s]"))


@st.composite
def documents(draw):
    """Text of a valid document, and the line on which each of its keys and tables stands."""
    rows, lines, line = [], {}, 1

    def put(text, path=None):
        nonlocal line
        if path is not None:
            lines[path] = line
        rows.append(text)
        line += text.count("\n") + 1

    counts = {}
    for table in draw(st.lists(st.sampled_from(("", "t", "u.v", "r*", "r.s*")), max_size=8)):
        name = table.rstrip("*")
        if table.endswith("*"):
            counts[name] = counts.get(name, -1) + 1
            if name == "r":
                counts.pop("r.s", None)
        if table == "r.s*" and "r" not in counts:
            continue
        prefix = {
            "": (f"top{line}",), "t": (f"t{line}",), "u.v": (f"u{line}", "v"), "r": ("r", counts.get("r")),
            "r.s": ("r", counts.get("r"), "s", counts.get("r.s")),
        }[name]  # fmt: skip
        if table.endswith("*"):
            put(f"[[{name}]]", prefix)
        else:
            put(f"[{'.'.join(prefix)}]", prefix)
        for key in draw(st.lists(NAMES, unique=True, max_size=4)):
            put(draw(FILLERS))
            put(
                f"{key} = {draw(VALUES)}" + draw(st.sampled_from(("", " # end"))), (*prefix, key.strip("\"'"))
            )
    return "\n".join(rows), lines


@SEEDED
@given(documents())
def test_generated_documents(made):
    text, lines = made
    tomllib.loads(text)
    index = line_index(text)
    assert {path: index.get(path) for path in lines} == lines


@SEEDED
@given(st.text(alphabet="ab=[]{}\"'#.,\n 1\\", max_size=60))
def test_any_text_comes_to_an_end(text):
    """The walk may be asked about text that the parser would refuse: it must neither hang nor run away."""
    lines = text.count("\n") + 1
    try:
        index = line_index(text)
    except tomllib.TOMLDecodeError:
        return
    assert all(1 <= line <= lines for line in index.values())

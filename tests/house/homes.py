"""Small house files for tests: a plain one that reads, and how to change it."""

from hearthold.errors import HouseFileError
from hearthold.house.house import House
from hearthold.house.reader import house_from_text

AMERICAN = """\
[house]
name = "Test house"
[site]
place = "Somewhere"
latitude = 44.0
longitude = -72.0
system = "split_120_240"
[people]
count = 2
[climate]
unit = "C"
mean = [-8, -7, -2, 5, 12, 17, 20, 19, 14, 8, 2, -5]
[[circuit]]
id = "pump"
name = "Pump"
breaker = 20
poles = 2
wire = "12 AWG"
length = "100 ft"
panel = "essential"
[[circuit]]
id = "kitchen"
name = "Kitchen"
breaker = 15
wire = "14 AWG"
length = "40 ft"
panel = "essential"
[[load]]
id = "well"
circuit = "pump"
kind = "well_half_hp_three_wire"
[[load]]
id = "box"
circuit = "kitchen"
kind = "chest_freezer"
"""
EUROPEAN = (
    AMERICAN.replace("split_120_240", "single_230")
    .replace("poles = 2\n", "")
    .replace("12 AWG", "2.5 mm2")
    .replace("14 AWG", "1.5 mm2")
    .replace("well_half_hp_three_wire", "borehole_0_55_kw")
    .replace("chest_freezer", "chest_freezer_230")
)


def home(*changes: tuple[str, str], extra: str = "", base: str = AMERICAN) -> House:
    """The house of `base` with parts of its text replaced and more text after it."""
    return house_from_text(changed(*changes, base=base) + extra)


def changed(*changes: tuple[str, str], base: str = AMERICAN) -> str:
    """The text with each pair replaced once; a part that is not there is a fault of the test."""
    for old, new in changes:
        if old not in base:
            raise LookupError(f"{old!r} is not in the file")
        base = base.replace(old, new, 1)
    return base


def with_load(lines: str, circuit: str = "kitchen", base: str = AMERICAN) -> House:
    """The house with one more load, called "x", of these lines."""
    return home(extra=f'[[load]]\nid = "x"\ncircuit = "{circuit}"\n{lines}\n', base=base)


def faults(*changes: tuple[str, str], extra: str = "", base: str = AMERICAN) -> tuple[str, ...]:
    """What is told about the changed file, a line a fault; none where it reads."""
    try:
        house_from_text(changed(*changes, base=base) + extra)
    except HouseFileError as problem:
        return tuple(str(problem).split("\n"))
    return ()

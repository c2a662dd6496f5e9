"""Every public function of physics says its source, and names its quantities as the glossary does."""

import enum
import importlib
import inspect
import pkgutil
import typing
from dataclasses import fields, is_dataclass

import pytest

import hearthold.physics
from hearthold.physics.values import Values
from hearthold.quantities.glossary import terms

MODULES = [
    importlib.import_module(f"hearthold.physics.{m.name}")
    for m in pkgutil.iter_modules(hearthold.physics.__path__)
]
PLAIN = (bool, str, int)


def own_functions(module):
    found = inspect.getmembers(module, inspect.isfunction)
    return [f for _, f in found if f.__module__ == module.__name__ and not f.__name__.startswith("_")]


FUNCTIONS = [f for m in MODULES for f in own_functions(m)]
CHECKED = [f for f in FUNCTIONS if not f.__name__.endswith("_kernel")]
KERNELS = [f for f in FUNCTIONS if f.__name__.endswith("_kernel")]


def label(function):
    return f"{function.__module__.rpartition('.')[2]}.{function.__name__}"


def is_plain(annotation):
    """A flag, a word, a choice or a count: no quantity, so it needs no glossary term."""
    kinds = typing.get_args(annotation) or (annotation,)
    return all(
        k is type(None) or k in PLAIN or (isinstance(k, type) and issubclass(k, enum.Enum)) for k in kinds
    )


def unknown_arguments(function):
    """Arguments that are neither in the glossary, nor plain and explained, nor a value object of such."""
    hints = typing.get_type_hints(function)
    doc = inspect.getdoc(function) or ""
    wrong = []
    for name in inspect.signature(function).parameters:
        kind = hints.get(name)
        explained = name in doc
        if name in terms() or (is_plain(kind) and explained):
            continue
        if is_dataclass(kind) and all(f.name in terms() or f.name in doc for f in fields(kind)):
            continue
        # an array of choices, one for each load, has no unit; the docstring must then say what it holds
        if explained and kind not in (float, Values) and not unit_of(name):
            continue
        wrong.append(name)
    return wrong


def unit_of(name):
    """The unit a name claims at its end, or "": the suffixes are those of the glossary's own names."""
    suffixes = {t.rpartition("_")[2] for t in terms()}
    return name.rpartition("_")[2] if "_" in name and name.rpartition("_")[2] in suffixes else ""


def test_there_is_something_to_read():
    assert len(MODULES) >= 8
    assert len(CHECKED) >= 40


@pytest.mark.parametrize("function", CHECKED, ids=label)
def test_says_where_it_comes_from(function):
    doc = inspect.getdoc(function) or ""
    assert len(doc.splitlines()[0]) > 15, "the docstring opens with one line of purpose"
    closing = [line for line in doc.split("\n\n")[-1].splitlines() if line.startswith("Source: ")]
    assert closing, "the docstring ends with `Source: ...`"
    assert len(closing[0]) > len("Source: ") + 5


@pytest.mark.parametrize("function", CHECKED, ids=label)
def test_arguments_are_in_the_glossary(function):
    assert unknown_arguments(function) == []


@pytest.mark.parametrize("function", KERNELS, ids=label)
def test_kernels_say_their_purpose(function):
    assert inspect.getdoc(function)


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.__name__.rpartition(".")[2])
def test_modules_say_their_idea(module):
    assert inspect.getdoc(module)


def test_stray_names_are_caught():
    def bad(some_w: float, ua: float, loud: bool, fan: bool) -> float:
        """Explains ua and loud only."""
        return some_w * ua if loud and fan else 0.0

    assert unknown_arguments(bad) == ["some_w", "ua", "fan"]

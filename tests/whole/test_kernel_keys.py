"""The cache key of every compiled entry, in the engine and above it, covers all the files that decide its code."""

import importlib
import inspect
from pathlib import Path

import pytest

from hearthold.engine import jit

ENTRIES = (
    ("hearthold.engine.kernels.loop", "simulate_block", ()),
    ("hearthold.plan.kernels.candidates", "price_candidates", "hearthold.plan.kernels.price"),
    ("hearthold.plan.kernels.label", "label_pass", "hearthold.plan.kernels.label"),
    ("hearthold.plan.bound.kernels.lead", "lead_in", "hearthold.plan.kernels.price"),
    ("hearthold.plan.bound.kernels.search", "sweep", "hearthold.plan.bound.kernels.search"),
    ("hearthold.plan.bound.kernels.follow", "follow", "hearthold.plan.bound.kernels.search"),
)


@pytest.mark.parametrize(("module", "name", "sources"), ENTRIES, ids=[entry[1] for entry in ENTRIES])
def test_key_of_an_entry_covers_the_file_of_every_function_it_reaches(module, name, sources):
    """Found by walking the functions themselves, not by reading imports as the key does."""
    function = getattr(importlib.import_module(module), name)
    function = getattr(function, "py_func", function)
    extra = importlib.import_module(sources).SOURCES if sources else ()
    keyed = set(jit.keyed_sources(*jit._with_own(function, extra)))
    reached = _files(function, set())
    assert len(reached) > 3
    assert reached <= keyed


def _files(function, seen):
    """Files of a function and of all that it calls, by the names in its code."""
    if function in seen or not getattr(function, "__module__", "").startswith(jit.PACKAGE):
        return set()
    seen.add(function)
    found = {Path(inspect.getsourcefile(function)).resolve()}
    for word in function.__code__.co_names:
        called = function.__globals__.get(word)
        called = getattr(called, "py_func", called)
        if inspect.isfunction(called):
            found |= _files(called, seen)
    return found

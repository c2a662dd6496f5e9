"""Sets of loads as words of bits, and powers whose sums are exact: against Python's own integers and fractions."""

from fractions import Fraction

import numpy as np
import pytest
from engine_houses import house

from hearthold.engine import bits
from hearthold.engine.bare import bare
from hearthold.engine.compile import EXACT, compile_house
from hearthold.engine.jit import entry
from hearthold.engine.kernels import layout as c
from hearthold.engine.kernels.sets import has, last_of, put
from hearthold.engine.packing import sets_of

LOADS = 75  # three words


@entry
def read_bits(words, found):
    """Lowest, highest and number of bits of each word."""
    for i in range(words.shape[0]):
        found[i, 0], found[i, 1], found[i, 2] = (
            bits.lowest(words[i]),
            bits.highest(words[i]),
            bits.count(words[i]),
        )


@entry
def change(at, s, loads, member, seen):
    """Put loads in or take them out, one after another; note the last of the set and whether each is in it."""
    at_, s_ = bare(at), bare(s)
    for i in range(loads.shape[0]):
        put(at_, s_, c.WANT, loads[i], member[i] != 0)
        seen[i, 0] = last_of(at_, s_, c.WANT)
        seen[i, 1] = 1 if has(at_, s_, c.WANT, loads[i]) else 0


def test_bits_of_a_word():
    words = np.concatenate([2 ** np.arange(32), np.random.default_rng(3).integers(1, 2**32, 500)])
    found = np.zeros((len(words), 3), dtype=np.int64)
    read_bits(words, found)
    for word, row in zip(words.tolist(), found.tolist(), strict=True):
        text = f"{word:b}"
        assert row == [len(text) - len(text.rstrip("0")), len(text) - 1, text.count("1")]


def test_a_set_is_what_was_put_in():
    """Against a set of Python, through a thousand changes over three words; nothing beside it is touched."""
    rng = np.random.default_rng(4)
    loads, member = rng.integers(0, LOADS, 1000), rng.integers(0, 2, 1000)
    at = np.zeros(c.AT_COUNT, dtype=np.int64)
    at[c.N_WORDS], at[c.B_SETS] = 3, 5
    s, seen = np.zeros(5 + 3 * c.SETS + 2), np.zeros((1000, 2), dtype=np.int64)
    change(at, s, loads, member, seen)
    held: set[int] = set()
    for load, is_in, row in zip(loads.tolist(), member.tolist(), seen.tolist(), strict=True):
        held = held | {load} if is_in else held - {load}
        assert row == [max(held, default=-1), is_in]
    first = 5 + 3 * c.WANT
    expected = sets_of(np.array([[float(j in held) for j in range(LOADS)]]), 3)
    assert np.array_equal(s[first : first + 3], expected[0])
    assert not s[:first].any()
    assert not s[first + 3 :].any()


def test_no_loads_take_no_words():
    assert sets_of(np.zeros((4, 0)), 0).shape == (4, 0)


def test_sums_of_powers_are_exact():
    """In any order, and taken away again: the sum of the fractions that the numbers stand for."""
    table = compile_house(house()).world.loads[:, c.L_WA : c.L_SQB + 1].ravel()
    assert np.array_equal(table * EXACT, np.round(table * EXACT))
    order = np.random.default_rng(5).permutation(np.tile(table, 20))
    total = 0.0
    for x in order.tolist():
        total += x
    assert Fraction(total) == sum(map(Fraction, order.tolist()))
    for x in sorted(order.tolist()):
        total -= x
    assert total == 0.0


def test_a_power_is_the_stated_one_to_a_hair():
    given, compiled = house(), compile_house(house())
    for load in given.loads:
        if load.id in compiled.load_ids:
            row = compiled.world.loads[compiled.load_ids.index(load.id)]
            assert row[c.L_WA] + row[c.L_WB] == pytest.approx(load.running_w, abs=2.0 / EXACT)

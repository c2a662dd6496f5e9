"""Sets of loads in the state: a bit a load, in words that a number of the state holds exactly.

What wants power, runs, is live: asked of every load at every event, and nearly always of the same few. A word at a
time, what did not change costs nothing, so that the time of an event hardly grows with the house.
"""

# mypy: disable-error-code="no-any-return"
from __future__ import annotations

from hearthold.engine.bits import highest
from hearthold.engine.jit import kernel
from hearthold.engine.kernels.layout import B_SETS, N_WORDS, WORD_BITS, Array, Ints

_SHIFT, _REST = WORD_BITS.bit_length() - 1, WORD_BITS - 1


@kernel(inline=True)
def words_of(at: Ints, which: int) -> int:
    """Where the words of a set begin in the state."""
    return at[B_SETS] + which * at[N_WORDS]


@kernel(inline=True)
def load_at(word: int, bit: int) -> int:
    """The load that a bit of a word stands for."""
    return (word << _SHIFT) + bit


@kernel(inline=True)
def has(at: Ints, s: Array, which: int, j: int) -> bool:
    """Whether load j is in the set."""
    return (int(s[words_of(at, which) + (j >> _SHIFT)]) >> (j & _REST)) & 1 != 0


@kernel(inline=True)
def put(at: Ints, s: Array, which: int, j: int, member: bool) -> None:
    """Put load j into the set, or take it out."""
    i = words_of(at, which) + (j >> _SHIFT)
    word, bit = int(s[i]), 1 << (j & _REST)
    s[i] = float(word | bit) if member else float(word & ~bit)


@kernel(inline=True)
def some(at: Ints, s: Array, which: int) -> bool:
    """Whether the set has any member."""
    members = 0.0
    for i in range(at[N_WORDS]):
        members += s[words_of(at, which) + i]
    return members != 0.0


@kernel
def last_of(at: Ints, s: Array, which: int) -> int:
    """The member of lowest priority, -1 of an empty set."""
    for back in range(at[N_WORDS]):
        i = at[N_WORDS] - 1 - back
        word = int(s[words_of(at, which) + i])
        if word != 0:
            return load_at(i, highest(word))
    return -1

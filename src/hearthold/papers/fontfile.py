"""Widths and letters of the fonts in the package: what fits on a line, which letters can be set."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from pathlib import Path
from struct import unpack_from

from hearthold.errors import TableError

REGULAR, BOLD, WIDER, FALLBACK = (
    "B612-Regular.otf",
    "B612-Bold.otf",
    "DejaVuSans.ttf",
    "DroidSansFallback.ttf",
)
_USUAL_EM = 0.6  # a letter that no font here has


@dataclass(frozen=True, slots=True)
class FontFile:
    """Advance widths and the letters of one font."""

    glyph_of: Mapping[int, int]
    advances_em: tuple[float, ...]

    def width_em(self, letter: int) -> float:
        """Width of a letter the font has."""
        return self.advances_em[min(self.glyph_of[letter], len(self.advances_em) - 1)]


def folder() -> Path:
    """Where the font files lie."""
    return Path(str(files("hearthold.papers"))) / "fonts"


@cache
def font(name: str) -> FontFile:
    """A font of the package. Raises TableError if its table of letters cannot be read.

    Source: OpenType specification 1.9, tables head, hhea, hmtx, cmap (formats 4 and 12).
    """
    data = (folder() / name).read_bytes()
    at = {}
    for i in range(unpack_from(">H", data, 4)[0]):
        tag, _, offset, _ = unpack_from(">4sLLL", data, 12 + 16 * i)
        at[tag] = offset
    per_em = unpack_from(">H", data, at[b"head"] + 18)[0]
    count = unpack_from(">H", data, at[b"hhea"] + 34)[0]
    widths = unpack_from(">" + "Hh" * count, data, at[b"hmtx"])[::2]
    return FontFile(dict(_letters(data, at[b"cmap"])), tuple(w / per_em for w in widths))


def text_width_pt(text: str, size_pt: float, bold: bool = False) -> float:
    """Width of a line of text, letter by letter; kerning and joining only make it narrower."""
    return size_pt * sum(_width_em(ord(letter), bold) for letter in text)


def can_set(letter: str) -> bool:
    """Whether some font of the package has the letter."""
    return _font_with(ord(letter), False) is not None


@lru_cache(maxsize=4096)
def printable(text: str) -> str:
    """The text with every letter that cannot be set spelt out as its number, and without control characters.

    Marks that turn the direction of writing are left out: they would turn the words around them too.
    """
    composed = unicodedata.normalize("NFC", text)
    spaced = "".join(" " if unicodedata.category(c) in ("Cc", "Zl", "Zp") else c for c in composed)
    kept = (c for c in spaced if c not in _TURNING)
    return "".join(c if can_set(c) else f"[U+{ord(c):04X}]" for c in kept)


_TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff")


@lru_cache(maxsize=8192)
def _width_em(letter: int, bold: bool) -> float:
    found = _font_with(letter, bold)
    return _USUAL_EM if found is None else found.width_em(letter)


def _font_with(letter: int, bold: bool) -> FontFile | None:
    for name in (BOLD if bold else REGULAR, WIDER, FALLBACK):
        if letter in font(name).glyph_of:
            return font(name)
    return None


def _letters(data: bytes, start: int) -> Iterator[tuple[int, int]]:
    """Letters and glyphs of the richest Unicode subtable."""
    tables = [
        unpack_from(">HHL", data, start + 4 + 8 * i) for i in range(unpack_from(">H", data, start + 2)[0])
    ]
    found = {(p, e): start + offset for p, e, offset in tables}
    for key in ((3, 10), (0, 4), (0, 3), (3, 1)):
        if key in found:
            shape = unpack_from(">H", data, found[key])[0]
            yield from _groups(data, found[key]) if shape == 12 else _segments(data, found[key])
            return
    raise TableError("a font of the package has no Unicode table; reinstall hearthold.")


def _groups(data: bytes, at: int) -> Iterator[tuple[int, int]]:
    for i in range(unpack_from(">L", data, at + 12)[0]):
        first, last, glyph = unpack_from(">LLL", data, at + 16 + 12 * i)
        yield from zip(range(first, last + 1), range(glyph, glyph + last - first + 1), strict=True)


def _segments(data: bytes, at: int) -> Iterator[tuple[int, int]]:
    count = unpack_from(">H", data, at + 6)[0] // 2
    row = f">{count}H"
    ends = unpack_from(row, data, at + 14)
    starts, deltas, offsets = (unpack_from(row, data, at + 16 + 2 * count * k) for k in (1, 2, 3))
    base = at + 16 + 6 * count
    for i, (first, last) in enumerate(zip(starts, ends, strict=True)):
        for letter in range(first, min(last, 0xFFFE) + 1):
            glyph = letter
            if offsets[i]:
                glyph = unpack_from(">H", data, base + 2 * i + offsets[i] + 2 * (letter - first))[0]
                if not glyph:
                    continue
            if (glyph + deltas[i]) & 0xFFFF:
                yield letter, (glyph + deltas[i]) & 0xFFFF

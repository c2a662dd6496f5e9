"""What a reader would see of a PDF: its words by page, and the box of every glyph."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO

import pypdfium2 as pdfium
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

# Least printable border of a household printer: a quarter inch is common, from memory.
BORDER_PT = 18.0


@dataclass(frozen=True)
class Page:
    """Size, words, and glyph boxes (left, bottom, right, top) in points."""

    width_pt: float
    height_pt: float
    text: str
    boxes: tuple[tuple[float, float, float, float], ...]


def pages(pdf: bytes) -> list[Page]:
    """Every page as pdfium reads it."""
    document = pdfium.PdfDocument(pdf)
    found = []
    for page in document:
        words = page.get_textpage()
        boxes = tuple(words.get_charbox(i) for i in range(words.count_chars()))
        found.append(Page(*page.get_size(), words.get_text_range(), boxes))
    document.close()
    return found


def overflow(pdf: bytes) -> list[str]:
    """Glyphs that reach beyond the printable part of their page."""
    found = []
    for number, page in enumerate(pages(pdf), start=1):
        for left, bottom, right, top in page.boxes:
            inside = left >= BORDER_PT and right <= page.width_pt - BORDER_PT
            if right > left and not (inside and bottom >= BORDER_PT and top <= page.height_pt - BORDER_PT):
                found.append(f"page {number}: {left:.0f} {bottom:.0f} {right:.0f} {top:.0f}")
    return found


def letters(pdf: bytes) -> str:
    """All text without blanks, breaks and soft places to break, so that wrapped names can be looked for."""
    return squeezed("".join(page.text for page in pages(pdf)))


def squeezed(text: str) -> str:
    """Text without blanks and zero-width marks."""
    return "".join(c for c in text if not c.isspace() and c not in "\u200b\ufffe\xad\x02")


def fonts(reader: PdfReader) -> Iterator[tuple[str, bool]]:
    """Name of each font used, and whether its file is in the document."""
    for page in reader.pages:
        for raw in _fonts_of(page["/Resources"]):
            font = raw.get_object()
            inner = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
            described = inner["/FontDescriptor"].get_object()
            embedded = any(key in described for key in ("/FontFile", "/FontFile2", "/FontFile3"))
            yield str(font["/BaseFont"]), embedded


def _fonts_of(resources: object) -> Iterator[object]:
    found = resources.get_object()  # type: ignore[attr-defined]
    yield from found.get("/Font", {}).values()
    for inner in found.get("/XObject", {}).values():
        item = inner.get_object()
        if "/Resources" in item:
            yield from _fonts_of(item["/Resources"])


def reader(pdf: bytes) -> PdfReader:
    """The document, strictly read."""
    return PdfReader(BytesIO(pdf), strict=True)


def objects(reader: PdfReader) -> Iterator[DictionaryObject]:
    """Every dictionary that stands by itself in a PDF."""
    for number in range(1, int(reader.trailer["/Size"])):
        found = reader.get_object(number)
        if isinstance(found, DictionaryObject):
            yield found

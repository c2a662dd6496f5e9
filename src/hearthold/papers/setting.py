"""Typesetting: a template of the package and data, as PDF or PNG. Data are values, never pasted into it."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, time
from functools import cache
from typing import TYPE_CHECKING, Any, Literal

from hearthold.papers.fontfile import folder
from hearthold.papers.look import look_data

if TYPE_CHECKING:
    from typst import Compiler

    from hearthold.papers.svg import Figure

ACCESSIBLE: Literal["ua-1"] = "ua-1"  # PDF/UA-1: tagged, titled, every figure with its alternative
TEMPLATES = folder().parent / "typst"


def set_pdf(template: str, data: dict[str, Any], day: date) -> bytes:
    """A PDF from a template; tagged to PDF/UA-1, or merely tagged where a letter cannot be set so.

    The same data and day give the same file, on any machine: only fonts of the package are used.
    """
    from typst import TypstError

    given = {"data": json.dumps({"look": look_data(), **data}, ensure_ascii=False, allow_nan=False)}
    try:
        return _compiled(template, given, day, accessible=True)
    except TypstError as problem:
        if "could not be displayed" not in str(problem):
            raise
        return _compiled(template, given, day, accessible=False)


def set_png(figure: Figure, pixels_per_inch: float = 192.0) -> bytes:
    """A figure as a PNG, with the package's own fonts."""
    data = {"svg": figure.svg, "width": figure.width_pt, "height": figure.height_pt, "alt": figure.text}
    made = _compiler("picture.typ").compile(
        sys_inputs={"data": json.dumps(data, ensure_ascii=False)}, format="png", ppi=pixels_per_inch
    )
    return _one_file(made)


def _compiled(template: str, given: dict[str, str], day: date, *, accessible: bool) -> bytes:
    made = _compiler(template).compile(
        sys_inputs=given,
        format="pdf",
        pdf_standards=[ACCESSIBLE] if accessible else [],
        timestamp=int(datetime.combine(day, time(12), UTC).timestamp()),
    )
    return _one_file(made)


def _one_file(made: object) -> bytes:
    if not isinstance(made, bytes):
        raise TypeError("the typesetter gave no single file")
    return made


@cache
def _compiler(template: str) -> Compiler:
    from typst import Compiler

    return Compiler(
        str(TEMPLATES / template),
        root=str(TEMPLATES),
        font_paths=[str(folder())],
        ignore_system_fonts=True,
    )

"""The QR code of an address, as SVG."""

from __future__ import annotations

from io import BytesIO


def code_svg(url: str) -> str:
    """A QR code with middling error correction, black on white, with its quiet zone."""
    import segno

    into = BytesIO()
    segno.make(url, error="m", micro=False).save(
        into, kind="svg", xmldecl=False, svgns=True, border=4, omitsize=True
    )
    return into.getvalue().decode("utf-8")

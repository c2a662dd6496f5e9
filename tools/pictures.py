"""Pictures of the README and the guide, made anew from the bundled example; needs Chromium and playwright.

    .venv/bin/python tools/pictures.py            # all of them, into docs/pictures
    .venv/bin/python tools/pictures.py terminal   # one

Every picture shows what the program gives today; nothing is drawn by hand.
"""

from __future__ import annotations

import html
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
OUT = ROOT / "docs" / "pictures"
EXAMPLE = ROOT / "examples" / "tarn_hollow.toml"
DAY = date(2026, 11, 29)
LARGEST_BYTES = 200_000
LINES = 31  # of the terminal: as far as the plan in short and the head of the routine
PHONE = {
    "viewport": {"width": 390, "height": 760},
    "device_scale_factor": 1.5,
    "is_mobile": True,
    "has_touch": True,
}
_PAGE = """<!doctype html><meta charset="utf-8"><style>body{{margin:0;background:#14181c;color:#e8e6df}}
pre{{margin:0;padding:18px 22px;font:15px/1.38 "DejaVu Sans Mono",monospace;width:max-content}}b{{color:#f0b35a}}
</style><pre><b>$ hearthold demo</b>\n{text}</pre>"""


def main(asked: list[str]) -> int:
    """Makes the pictures asked for (all if none are named); 1 where one is too large, 2 for an unknown name."""
    unknown = [name for name in asked if name not in MAKERS]
    if unknown:
        sys.stderr.write(f"no picture {unknown[0]!r}; there are: {', '.join(MAKERS)}\n")
        return 2
    large = 0
    for name in asked or MAKERS:
        content = _small(MAKERS[name]())
        (OUT / f"{name}.png").write_bytes(content)
        sys.stdout.write(f"{name}.png  {len(content) / 1000:.0f} kB\n")
        large += len(content) > LARGEST_BYTES
    return min(1, large)


def run_sheet() -> bytes:
    """The whole sheet."""
    import pypdfium2

    (path,) = _papers("run-sheet")
    page = pypdfium2.PdfDocument(path.read_bytes())[0]
    return _png(page.render(scale=1.6).to_pil())


def one_line() -> bytes:
    """The one-line diagram of the brief."""
    from hearthold.papers.diagram.build import one_line as graph
    from hearthold.papers.diagram.layout import sheets
    from hearthold.papers.setting import set_png

    job = _job()
    return set_png(sheets(graph(job.house, job.say), "One-line diagram")[0], 144.0)


def course() -> bytes:
    """The course of an outage under the routine."""
    from hearthold.papers.charts.timeline import timeline
    from hearthold.papers.course import course_of
    from hearthold.papers.setting import set_png

    return set_png(timeline(course_of(_job()).whole, "One outage under the routine"), 144.0)


def pocket() -> bytes:
    """Three screens of the pocket page, half an hour into the first run, the last of them dark."""
    from PIL import Image

    (path,) = _papers("pocket")
    with _browser() as browser:
        screens = [Image.open(_stream(shot)) for shot in _screens(browser, path)]
    gap = 24
    wide = sum(s.width for s in screens) + gap * (len(screens) - 1)
    whole = Image.new("RGB", (wide, screens[0].height), "#b9b4aa")
    for k, screen in enumerate(screens):
        whole.paste(screen, (k * (screen.width + gap), 0))
    return _png(whole)


def terminal() -> bytes:
    """The first lines of the plan on a terminal."""
    program = Path(sys.executable).with_name("hearthold")
    asked = [str(program), "demo"]
    said = subprocess.run(asked, capture_output=True, text=True, check=False).stdout.splitlines()
    page = _PAGE.format(text=html.escape("\n".join(said[:LINES])))
    with _browser() as browser:
        sheet = browser.new_page(device_scale_factor=1.5)
        sheet.set_content(page)
        return bytes(sheet.locator("pre").screenshot())


MAKERS: dict[str, Callable[[], bytes]] = {
    "run-sheet": run_sheet,
    "one-line": one_line,
    "course": course,
    "pocket": pocket,
    "terminal": terminal,
}


def _screens(browser: Any, path: Path) -> Iterator[bytes]:
    """Now, the switch-on order, and the clocks, as a household in its first outage sees them."""
    for scheme, section, mark in (
        ("light", "now", "#now"),
        ("light", "run", "#order"),
        ("dark", "clocks", "#clocks"),
    ):
        context = browser.new_context(**PHONE, color_scheme=scheme)
        context.set_offline(True)
        page = context.new_page()
        page.clock.install(time=datetime.fromisoformat("2026-01-14T18:00:00-05:00"))
        page.goto(path.as_uri())
        page.locator("#tap-main").click()  # the grid failed
        page.clock.fast_forward(2 * 3600 * 1000)
        page.locator("#tap-main").click()  # the machine started
        page.clock.fast_forward(25 * 60 * 1000)
        page.clock.run_for(1100)
        page.locator(f"#tabs a[href='#{section}']").click()
        page.evaluate("at => document.querySelector(at).scrollIntoView()", mark)
        yield page.screenshot()
        context.close()


@contextmanager
def _browser() -> Iterator[Any]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        started = driver.chromium.launch(
            executable_path=shutil.which("chromium"), headless=True, args=["--no-sandbox"]
        )
        yield started
        started.close()


def _job() -> Any:
    from hearthold.house.reader import read_house
    from hearthold.papers.make import job_of
    from hearthold.plan.house import plan_house

    house = read_house(EXAMPLE)
    return job_of(plan_house(house, today=DAY), house, today=DAY)


def _papers(name: str) -> tuple[Path, ...]:
    from hearthold.papers.make import papers

    job = _job()
    return papers(job.plan, job.house, Path(tempfile.mkdtemp()), today=DAY, only=(name,))


def _small(content: bytes) -> bytes:
    """The same picture with a palette of 128 colours, where that is smaller."""
    from PIL import Image

    picture = Image.open(_stream(content)).convert("RGB")
    reduced = _png(picture.quantize(128, dither=Image.Dither.NONE))
    return min(content, reduced, key=len)


def _png(picture: Any) -> bytes:
    stream = _stream(b"")
    picture.save(stream, "PNG", optimize=True)
    return bytes(stream.getvalue())


def _stream(content: bytes) -> Any:
    from io import BytesIO

    return BytesIO(content)


if __name__ == "__main__":
    sys.exit(main([re.sub(r"\.png$", "", name) for name in sys.argv[1:]]))

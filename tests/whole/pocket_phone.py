"""A phone for tests: the pocket page in Chromium, opened from a file with the network off."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from hearthold.house.house import House
from hearthold.papers.pocket.page import pocket_html

CHROMIUM = shutil.which("chromium")
NEEDS_CHROMIUM = pytest.mark.skipif(
    CHROMIUM is None, reason="chromium is not installed: apt-get install chromium"
)
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
MADE = date(2026, 11, 25)
START = "2026-01-14T09:00:00-05:00"  # a Wednesday, 09:00 at Tarn Hollow, 15:00 where the phone thinks it is
PHONE = {
    "viewport": {"width": 360, "height": 780},
    "has_touch": True,
    "is_mobile": True,
    "device_scale_factor": 2,
    "timezone_id": "Europe/Berlin",
    "locale": "en-US",
}
SECTIONS = ("now", "run", "clocks", "rules", "log")
_EVENTS = (
    "() => Object.entries(localStorage).filter(([k]) => k.endsWith('.events')).map(([, v]) => v)[0] ?? '[]'"
)


class Phone:
    """A page on a phone whose clock is ours, and what a tired thumb does with it."""

    def __init__(self, page: Any) -> None:
        self.page = page

    def tap(self, selector: str) -> None:
        self.page.locator(selector).click()

    def open(self, key: str) -> None:
        self.tap(f"#tabs a[href='#{key}']")

    def text(self, selector: str) -> str:
        return self.page.locator(selector).inner_text()

    def says(self, selector: str, words: str) -> None:
        """Waits until an element holds the words."""
        _expect(self.page.locator(selector)).to_contain_text(words)

    def focuses(self, selector: str) -> None:
        """Waits until an element has the focus."""
        _expect(self.page.locator(selector)).to_be_focused()

    def wait(self, length: timedelta) -> None:
        """Time goes by with the phone asleep: timers fire once at the end, as they do on a phone."""
        self.page.clock.fast_forward(int(length.total_seconds() * 1000))
        self.page.clock.run_for(1100)

    def card(self, name: str) -> Any:
        return self.page.locator(".card").filter(
            has=self.page.locator("h3", has_text=re.compile(f"^{name}$"))
        )

    def stored(self) -> list[dict[str, Any]]:
        return json.loads(self.page.evaluate(_EVENTS))

    def facts(self) -> dict[str, Any]:
        return json.loads(self.text_of("#facts"))

    def text_of(self, selector: str) -> str:
        return self.page.locator(selector).text_content()


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Pages on disk: the example, the croft, and a house whose every name is hostile."""
    from tests.papers import houses
    from tests.papers.plans import plan_of

    folder = tmp_path_factory.mktemp("pocket")
    made: dict[str, House] = {
        "tarn": houses.tarn(),
        "skerrow": houses.skerrow(),
        "markup": houses.renamed(houses.tarn(), houses.MARKUP),
        "unbroken": houses.renamed(houses.tarn(), houses.UNBROKEN),
        "hebrew": houses.renamed(houses.tarn(), houses.HEBREW),
        "many": houses.with_circuits(houses.tarn(), 60),
        "bare": houses.bare(houses.tarn()),
    }
    for name, house in made.items():
        (folder / f"{name}.html").write_text(pocket_html(house, plan_of(house), made=MADE), encoding="utf-8")
    return {name: folder / f"{name}.html" for name in made}


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    driving = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    with driving.sync_playwright() as driver:
        started = driver.chromium.launch(executable_path=CHROMIUM, headless=True, args=FLAGS)
        yield started
        started.close()


@pytest.fixture
def phone(browser: Any, files: dict[str, Path]) -> Iterator[Callable[..., Phone]]:
    """Opens a page; a request for anything but the file, or a fault of a script, fails the test."""
    faults: list[str] = []
    contexts = []

    def start(name: str = "tarn", context: Any = None, init: str = "", **more: Any) -> Phone:
        made = context or browser.new_context(**{**PHONE, **more})
        contexts.append(made)
        made.set_offline(True)
        page = made.new_page()
        page.on("request", lambda r: None if re.match("file:|data:|blob:", r.url) else faults.append(r.url))
        page.on("pageerror", lambda e: faults.append(str(e)))
        page.on("console", lambda m: faults.append(m.text) if _matters(m) else None)
        page.clock.install(time=START)
        if init:
            page.add_init_script(init)
        page.goto(files[name].as_uri())
        return Phone(page)

    yield start
    for made in contexts:
        made.close()
    assert faults == []


def _expect(locator: Any) -> Any:
    from playwright.sync_api import expect

    return expect(locator)


def _matters(message: Any) -> bool:
    """Faults and warnings, but for the advice on speed that reading the codes back calls forth."""
    return message.type in ("error", "warning") and "willReadFrequently" not in message.text

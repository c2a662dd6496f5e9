"""The pocket page for everybody: keyboard, screen reader, narrow and dark screens, print, no scripts."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from itertools import pairwise

import pytest
from tests.whole.pocket_phone import NEEDS_CHROMIUM, SECTIONS, Phone, browser, files, phone

__all__ = ["browser", "files", "phone"]
pytestmark = NEEDS_CHROMIUM
IN_PLAIN = (
    "Routine for January",
    "Before starting",
    "Switch-on order",
    "Throw out",
    "Carbon monoxide",
    "open this file in a web browser",
)
SEEN = "filter(e => e.getClientRects().length)"
TOO_WIDE = f"""[...document.querySelectorAll('body *')].{SEEN}.filter(e => !e.closest('#clocks-mark, svg'))
.filter(e => {{ const b = e.getBoundingClientRect(); return b.right > 361 || b.left < -1; }})
.map(e => e.tagName + e.id)"""
TOO_SMALL = f"""[...document.querySelectorAll('button, a, summary, select, .tick, .choice, .field input')]
.{SEEN}.filter(e => e.getBoundingClientRect().height < 47.9).map(e => e.outerHTML.slice(0, 80))"""


def test_without_scripts_every_list_can_be_read(phone: Callable[..., Phone]) -> None:
    it = phone(java_script_enabled=False)
    shown = it.text("body")
    for words in (
        "Routine for January",
        "Before starting",
        "Switch-on order",
        "Throw out",
        "Carbon monoxide",
        "open this file in a web browser",
    ):
        assert words in shown
    assert not it.page.locator("#act").is_visible()


def test_keyboard_alone_reaches_and_works_every_section(phone: Callable[..., Phone]) -> None:
    it = phone()
    keys = it.page.keyboard
    it.page.locator("#tap-main").focus()
    keys.press("Enter")
    assert [e["kind"] for e in it.stored()] == ["grid_lost"]
    for _ in range(8):
        keys.press("Tab")
        if it.page.evaluate("document.activeElement.hash") == "#log":
            break
    keys.press("Enter")
    it.focuses("#log-title")
    assert it.page.locator("#log").is_visible()
    order = []
    for _ in range(7):
        keys.press("Tab")
        order.append(it.page.evaluate("document.activeElement.id"))
    assert order[:4] == ["add-kind", "add-what", "add-value", "add-text"]
    width = it.page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
    assert width == "3px"


@pytest.mark.parametrize("name", ["tarn", "skerrow", "markup", "unbroken", "hebrew", "many", "bare"])
def test_nothing_runs_out_of_a_narrow_screen(phone: Callable[..., Phone], name: str) -> None:
    it = phone(name)
    it.tap("#tap-main")
    for key in SECTIONS:
        it.open(key)
        assert it.page.evaluate("document.documentElement.scrollWidth") == 360, key
        wide = it.page.evaluate(TOO_WIDE)
        assert wide == [], key


def test_what_is_pressed_is_large_enough_for_a_cold_thumb(phone: Callable[..., Phone]) -> None:
    it = phone()
    it.tap("#tap-main")
    for key in SECTIONS:
        it.open(key)
        small = it.page.evaluate(TOO_SMALL)
        assert small == [], key


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing_and_colours_follow_the_phone(phone: Callable[..., Phone], theme: str) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright").Axe()
    it = phone(color_scheme=theme)
    grounds = {"light": "rgb(255, 255, 255)", "dark": "rgb(16, 20, 23)"}
    assert it.page.evaluate("getComputedStyle(document.body).backgroundColor") == grounds[theme]
    it.tap("#tap-main")
    it.wait(timedelta(hours=5))
    for key in SECTIONS:
        it.open(key)
        if key == "run":
            it.tap("#watch-go")
        if key == "log":
            it.tap("#codes-open")
        it.page.clock.resume()
        found = axe.run(it.page).response["violations"]
        assert [(v["id"], [n["html"][:90] for n in v["nodes"]][:3]) for v in found] == [], key


def test_headings_go_down_one_step_at_a_time(phone: Callable[..., Phone]) -> None:
    it = phone()
    levels = it.page.evaluate("[...document.querySelectorAll('h1,h2,h3,h4,h5')].map(e => +e.tagName[1])")
    assert levels[0] == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_print_shows_every_section_and_no_buttons(phone: Callable[..., Phone]) -> None:
    it = phone()
    it.page.emulate_media(media="print")
    for key in SECTIONS:
        assert it.page.locator(f"#{key}-title").is_visible()
    assert it.page.locator("button:visible").count() == 0
    assert it.page.locator("#turn-order-2").is_visible()

"""Pieces that several sections share: cautions, lists to tick, fields, buttons."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from xml.etree.ElementTree import Element

from hearthold.papers.pocket.markup import Attribute, Child, el
from hearthold.papers.pocket.steps import Warned

_TOPICS = {"process": "Whose work it is", "equipment": "The machine"}


def section(key: str, title: str, *children: Child | Iterable[Child]) -> Element:
    """One section of the page; its heading takes the focus when the section is opened."""
    return el(
        "section",
        el("h2", title, id=f"{key}-title", tabindex="-1"),
        *children,
        id=key,
        class_="page",
        aria_labelledby=f"{key}-title",
    )


def warnings(found: Iterable[Warned], *, headed: bool = True) -> Element | None:
    """Cautions, under the word for what hurts unless a heading says it already."""
    rows: list[Element] = []
    for topic, same in groupby(found, lambda c: c.topic):
        rows += [el("p", el("strong", _TOPICS.get(topic, topic.capitalize())))] if headed else []
        rows += [el("p", c.text) for c in same]
    return el("div", rows, class_="caution", role="note", aria_label="Caution") if rows else None


def ticks(key: str, steps: Iterable[str]) -> Element:
    """A list to tick off. What is ticked is kept until it is cleared."""
    rows = [el("li", _tick(f"tick-{key}-{n}", text)) for n, text in enumerate(steps, start=1)]
    return el("ol", rows, class_="ticks")


def field(key: str, label: str, control: Element, *, hidden: bool = False) -> Element:
    """A labelled control."""
    control.set("id", key)
    return el("div", el("label", label, for_=key), control, class_="field", id=f"{key}-field", hidden=hidden)


def button(
    text: str, key: str | None = None, *, kind: str = "", hidden: bool = False, **more: Attribute
) -> Element:
    """A button that is large enough for a cold thumb."""
    return el("button", text, type="button", id=key, class_=kind or None, hidden=hidden, **more)


def bullets(lines: Iterable[Child | Iterable[Child]], kind: str = "plain") -> Element:
    """A list of lines."""
    return el("ul", [el("li", line) for line in lines], class_=kind)


def _tick(key: str, text: str) -> Element:
    return el("label", el("input", type="checkbox", id=key), el("span", text, dir="auto"), class_="tick")

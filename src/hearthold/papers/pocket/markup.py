"""HTML as a tree: whatever a name holds, it becomes text and never markup."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from typing import Any
from xml.etree import ElementTree as Tree

Child = Tree.Element | str | None
Attribute = str | int | bool | None
# HTML cannot hold these; tab and line feed are blanks anyway.
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\ufffe\uffff\ud800-\udfff]")


def el(tag: str, *children: Child | Iterable[Child], **attributes: Attribute) -> Tree.Element:
    """An element. `class_` becomes class, `aria_label` aria-label; False and None are left out."""
    made = Tree.Element(tag, {k: v for k, v in map(_attribute, attributes.items()) if v is not None})
    for child in children:
        add(made, child)
    return made


def add(parent: Tree.Element, child: Child | Iterable[Child]) -> None:
    """Put an element, text, or several of them at the end of an element."""
    if child is None:
        return
    if isinstance(child, Tree.Element):
        parent.append(child)
    elif isinstance(child, str):
        _add_text(parent, clean(child).replace(" °", "\N{NO-BREAK SPACE}°"))
    else:
        for one in child:
            add(parent, one)


def clean(text: str) -> str:
    """Text without characters that HTML cannot hold."""
    return _CONTROL.sub(" ", text)


def raw(tag: str, text: str, **attributes: Attribute) -> Tree.Element:
    """A script or style, its text as it stands. Raises ValueError where the text would end the element."""
    if re.search(rf"</{tag}|<!--", text, re.IGNORECASE):
        raise ValueError(f"a {tag} must not contain its own end.")
    made = el(tag, **attributes)
    made.text = text
    return made


def data(values: Mapping[str, Any], name: str) -> Tree.Element:
    """Values for the scripts: JSON in ASCII, with nothing in it that could end a script element."""
    text = json.dumps(values, ensure_ascii=True, separators=(",", ":"), allow_nan=False)
    for sign in "<>&":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return raw("script", text, type="application/json", id=name)


def name(text: str) -> Tree.Element:
    """A name somebody gave: set apart, so that its direction of writing disturbs nothing around it."""
    return el("bdi", text)


def document(root: Tree.Element) -> str:
    """The whole file."""
    return "<!doctype html>\n" + Tree.tostring(root, encoding="unicode", method="html") + "\n"


def _attribute(pair: tuple[str, Attribute]) -> tuple[str, str | None]:
    key, value = pair
    told = None if value is None or value is False else "" if value is True else clean(str(value))
    return key.rstrip("_").replace("_", "-"), told


def _add_text(parent: Tree.Element, text: str) -> None:
    if len(parent):
        last = parent[-1]
        last.tail = (last.tail or "") + text
    else:
        parent.text = (parent.text or "") + text

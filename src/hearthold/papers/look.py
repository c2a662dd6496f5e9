"""The visual language as values: type, spaces, line weights and colour roles, in print and on a screen."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

LIGHT, DARK = "light", "dark"


@dataclass(frozen=True, slots=True)
class Look:
    """Everything that decides how a paper looks."""

    families: tuple[str, ...]
    size_pt: Mapping[str, float]
    space_pt: Mapping[str, float]
    weight_pt: Mapping[str, float]
    colours: Mapping[str, Mapping[str, str]]

    @property
    def family(self) -> str:
        """The families as a list for SVG and CSS."""
        return ", ".join(f"'{name}'" for name in self.families) + ", sans-serif"

    def colour(self, role: str, theme: str = LIGHT) -> str:
        """The colour of a role as #rrggbb."""
        return self.colours[theme][role]


@cache
def look() -> Look:
    """The one look, read from its table."""
    read = tomllib.loads(files("hearthold.papers").joinpath("look.toml").read_text("utf-8"))
    return Look(
        tuple(read["type"]["families"]),
        MappingProxyType(read["type"]["size_pt"]),
        MappingProxyType(read["space_pt"]),
        MappingProxyType(read["weight_pt"]),
        MappingProxyType(read["colour"]),
    )


def look_data() -> dict[str, Any]:
    """The look as plain data, for the typesetter."""
    found = look()
    return {
        "families": list(found.families),
        "size": dict(found.size_pt),
        "space": dict(found.space_pt),
        "weight": dict(found.weight_pt),
        "colour": dict(found.colours[LIGHT]),
    }


def css_variables() -> str:
    """The colours as CSS custom properties, light by default and dark where the reader asks for it."""
    light, dark = (_declared(look().colours[theme]) for theme in (LIGHT, DARK))
    return f":root{{{light}}}\n@media (prefers-color-scheme: dark){{:root{{{dark}}}}}\n"


def _declared(colours: Mapping[str, str]) -> str:
    return "".join(f"--{role.replace('_', '-')}:{value};" for role, value in colours.items())

"""Hearthold: plan, brief and run backup power for a rural house through a long grid outage.

The public API is the short list below; it is loaded when first asked for, so that `import hearthold` costs
nothing. Everything else is imported by its full path.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from hearthold.house.reader import read_house as read_house
    from hearthold.plan.house import plan_house as plan_house

_HOMES = {"read_house": "hearthold.house.reader", "plan_house": "hearthold.plan.house"}

__all__ = ["__version__", "plan_house", "read_house"]


def __getattr__(name: str) -> Any:
    if name == "__version__":
        from importlib.metadata import version

        return version("hearthold")
    if name in _HOMES:
        return getattr(import_module(_HOMES[name]), name)
    raise AttributeError(f"module 'hearthold' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted([*globals(), *__all__])

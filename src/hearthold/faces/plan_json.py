"""A plan as JSON, and the schema of that JSON: the one place where a plan leaves the program as data."""

from __future__ import annotations

from typing import Any

from pydantic import TypeAdapter

from hearthold.house.schema import DIALECT
from hearthold.plan.result import Plan


def plan_json(plan: Plan) -> str:
    """The plan as JSON text: SI throughout, names end in their units; infinity is written as null."""
    return _adapter().dump_json(plan, indent=2).decode("utf-8")


def plan_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of `plan_json`."""
    schema = _adapter().json_schema(mode="serialization")
    schema["title"] = "Plan of Hearthold"
    return {"$schema": DIALECT, **schema}


def _adapter() -> TypeAdapter[Plan]:
    return TypeAdapter(Plan)

"""A plan as JSON, and the schema of that JSON: the one place where a plan leaves the program as data."""

from __future__ import annotations

from dataclasses import replace
from math import isfinite
from typing import Any

from pydantic import TypeAdapter

from hearthold.house.schema import DIALECT
from hearthold.plan.result import Plan


def plan_json(plan: Plan) -> str:
    """The plan as JSON text: SI throughout, names end in their units; what never ends is null."""
    # findings keep their figures in a view that nobody can change, which the serialiser does not know
    thawed = tuple(replace(finding, values=dict(finding.values)) for finding in plan.findings)
    return _adapter().dump_json(replace(plan, findings=thawed), indent=2).decode("utf-8")


def plan_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of `plan_json`."""
    schema: dict[str, Any] = _endless(_adapter().json_schema(mode="serialization"))
    schema["title"] = "Plan of Hearthold"
    schema["description"] = "SI units, named at the end of each key. A number that has no end is null."
    return {"$schema": DIALECT, **schema}


def _endless(schema: Any) -> Any:
    """JSON has no infinity: wherever a number may stand, null may stand too, and the schema says so."""
    if isinstance(schema, list):
        return [_endless(item) for item in schema]
    if isinstance(schema, float) and not isfinite(schema):
        return None
    if not isinstance(schema, dict):
        return schema
    found = {
        key: _endless(value) for key, value in schema.items() if key != "title" or isinstance(value, dict)
    }
    return found | {"type": ["number", "null"]} if found.get("type") == "number" else found


def _adapter() -> TypeAdapter[Plan]:
    return TypeAdapter(Plan)

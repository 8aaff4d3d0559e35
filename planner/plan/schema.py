"""The JSON Schema of plan files, made from the model."""

from __future__ import annotations

import json

from planner.plan.model import Plan

__all__ = ["schema_text"]


def schema_text() -> str:
    """JSON Schema (draft 2020-12) of a plan file, as text."""
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **Plan.model_json_schema()}
    schema["title"] = "Few Watts plan, version 1"
    schema["required"] = ["format", "version", *schema["required"]]
    return json.dumps(schema, ensure_ascii=False, indent=2) + "\n"
